"""The layers of our drawings: those of any drawing, and one for each part of a pool and its cover."""

from __future__ import annotations

from collections.abc import Iterable

from stringline.drawing.canvas import Layer
from stringline.drawing.layers import (
    AXES,
    BAND,
    CURVE,
    CURVE_OTHER,
    CURVE_THIN,
    DIMS,
    FLAG,
    FLAG_LEADER,
    FRAME,
    GRID,
    HATCH,
    LIMIT,
    NOTE,
    POINT,
    THIN,
)
from stringline.sheets.voice import Voice

WATER = Layer("WATER", 0.5)
TRACK = Layer("TRACK", 0.35)
AXIS = Layer("AXIS", 0.18, "chain")
HOUSING = Layer("HOUSING", 0.5)
LID = Layer("LID", 0.25, "dashed")
COVER = Layer("COVER", 0.25, "short-dashed")
EDGE = Layer("LEADING-EDGE", 0.7)
PULLEY = Layer("PULLEY", 0.35)
DRIVE = Layer("DRIVE", 0.35)
OBSTACLE = Layer("OBSTACLE", 0.35)
WALL = Layer("WALL", 0.5)
DECK_EDGE = Layer("DECK-EDGE", 0.35, "double-chain")
CHECK = Layer("CHECK-LINES", 0.13, "dash-dot")
TAPE = Layer("TAPES", 0.18)
UNCHECKED = Layer("TAPES-UNCHECKED", 0.18, "short-dashed")
WATER_SKETCH = Layer("WATER-SKETCH", 0.5, ink="8a8a8a")
SUSPECT = Layer("SUSPECT", 0.7, "dashed", "a00000")
NEXT = Layer("NEXT-TAPES", 0.35, "dash-dot")
STRUCK = Layer("STRUCK", 0.13, "dotted")
ELLIPSE = Layer("ELLIPSES", 0.18)
STOCK = Layer("STOCK", 0.35)
BREAK = Layer("BREAK", 0.18, "chain")
JOINT = Layer("JOINTS", 0.5)
PIN = Layer("PINS", 0.25)
ROLL = Layer("ROLL-OPEN", 0.5)
ROLL_MIDDLE = Layer("ROLL-OPEN-MIDDLE", 0.25)
ROLL_CLOSED = Layer("ROLL-CLOSED", 0.35, "dashed")


def shown(used: Iterable[Layer], voice: Voice) -> dict[str, str]:
    """What each of some layers shows, by its name."""
    return {layer.name: voice.say(f"pictures.layer.{layer.name.lower()}") for layer in used}


__all__ = [
    "AXES",
    "AXIS",
    "BAND",
    "BREAK",
    "CHECK",
    "COVER",
    "CURVE",
    "CURVE_OTHER",
    "CURVE_THIN",
    "DECK_EDGE",
    "DIMS",
    "DRIVE",
    "EDGE",
    "ELLIPSE",
    "FLAG",
    "FLAG_LEADER",
    "FRAME",
    "GRID",
    "HATCH",
    "HOUSING",
    "JOINT",
    "LID",
    "LIMIT",
    "NEXT",
    "NOTE",
    "OBSTACLE",
    "PIN",
    "POINT",
    "PULLEY",
    "ROLL",
    "ROLL_CLOSED",
    "ROLL_MIDDLE",
    "STOCK",
    "STRUCK",
    "SUSPECT",
    "TAPE",
    "THIN",
    "TRACK",
    "UNCHECKED",
    "WALL",
    "WATER",
    "WATER_SKETCH",
    "shown",
]
