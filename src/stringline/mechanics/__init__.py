"""How the cover rolls, pulls and tracks: roll, reels, ropes, forces, drum, sliders and lead."""

from stringline.mechanics.result import Mechanics, Refusal
from stringline.mechanics.whole import mechanics

__all__ = ["Mechanics", "Refusal", "mechanics"]
