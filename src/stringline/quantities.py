"""Values in words for faces that do not have a voice yet."""

from __future__ import annotations

from stringline.lengths import Unit
from stringline.limits import GUARD
from stringline.sheets import quantities as q
from stringline.sheets.quantities import MINUS, PLUS_MINUS, as_read, decimal, length, roughly, small, tiny
from stringline.sheets.voice import Voice
from stringline.worked import Figure, Kind

__all__ = [
    "MINUS", "PLUS_MINUS", "UNIT_WORDS", "amount", "as_read", "chance", "decimal", "figure_text",
    "length", "odds", "roughly", "small", "spread", "tiny", "tolerance",
]  # fmt: skip

UNIT_WORDS = {u: Voice(u).say(f"common.unit.{u.value}") for u in Unit}


def tolerance(m: float, unit: Unit) -> str:
    """As the voice says it."""
    return Voice(unit).tolerance(m)


def chance(p: float) -> str:
    """As the voice says it."""
    return Voice(Unit.M).say(q.chance(p))


def odds(value: float) -> str:
    """As the voice says it."""
    return Voice(Unit.M).say(q.odds(value))


def amount(value: float, kind: Kind, unit: Unit) -> str:
    """As the voice says it."""
    return Voice(unit).amount(value, kind)


def spread(sigma: float | None, kind: Kind, unit: Unit, *, times: float = GUARD) -> str:
    """As the voice says it."""
    return Voice(unit).spread(sigma, kind, times=times)


def figure_text(figure: Figure, unit: Unit) -> str:
    """As the voice says it."""
    return Voice(unit).figure(figure)
