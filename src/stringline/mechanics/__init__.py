"""How the cover rolls, pulls and tracks: roll, reels, ropes, forces, drum, sliders and lead."""

from stringline.mechanics.assemble import mechanics
from stringline.mechanics.result import Mechanics, Refusal

__all__ = ["Mechanics", "Refusal", "mechanics"]
