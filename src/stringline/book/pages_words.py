"""A figure's working in words, as a person would do it on paper; single values are worded by `quantities`."""

from __future__ import annotations

from typing import Any

from stringline.book.blocks import plain
from stringline.lengths import Unit
from stringline.quantities import (
    MINUS,
    PLUS_MINUS,
    UNIT_WORDS,
    amount,
    as_read,
    chance,
    decimal,
    length,
    small,
    spread,
    tolerance,
)
from stringline.sheets import figures
from stringline.sheets.voice import Voice
from stringline.worked import Figure

__all__ = [
    "MINUS",
    "PLUS_MINUS",
    "UNIT_WORDS",
    "amount",
    "as_read",
    "chance",
    "decimal",
    "length",
    "small",
    "spread",
    "tolerance",
    "working",
]


def working(figure: Figure, unit: Unit) -> dict[str, Any]:
    """A figure's working as data of a page."""
    made: dict[str, Any] = plain(figures.working(figure, Voice(unit)))
    return made
