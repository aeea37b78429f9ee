"""Scales that a scale rule carries, and the largest of them at which a thing fits its sheet."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Scale:
    """A drawing scale: ``ratio`` model metres per paper metre (50 for 1:50), and how it is written; "" for no scale."""

    ratio: float
    text: str

    def to_mm(self, length_m: float) -> float:
        """Paper millimetres for a length in metres."""
        return length_m * 1000.0 / self.ratio

    def to_m(self, paper_mm: float) -> float:
        """Model metres for a length on paper in millimetres."""
        return paper_mm * self.ratio / 1000.0


NOT_TO_SCALE = Scale(1.0, "")

_ARCHITECTURAL = (
    (4, '3" = 1\'-0"'),
    (8, '1 1/2" = 1\'-0"'),
    (12, '1" = 1\'-0"'),
    (16, '3/4" = 1\'-0"'),
    (24, '1/2" = 1\'-0"'),
    (32, '3/8" = 1\'-0"'),
    (48, '1/4" = 1\'-0"'),
    (64, '3/16" = 1\'-0"'),
    (96, '1/8" = 1\'-0"'),
    (128, '3/32" = 1\'-0"'),
    (192, '1/16" = 1\'-0"'),
    (384, '1/32" = 1\'-0"'),
)
_METRIC = (1, 2, 5, 10, 20, 25, 50, 75, 100, 125, 200, 250, 500, 1000)


def scales(in_feet: bool) -> tuple[Scale, ...]:
    """All scales, largest picture first: those of an architect's rule for feet, of a metric rule otherwise."""
    if in_feet:
        return tuple(Scale(float(n), f"{words} (1:{n})") for n, words in _ARCHITECTURAL)
    return tuple(Scale(float(n), f"1:{n}") for n in _METRIC)


def choose(width_m: float, height_m: float, area_mm: tuple[float, float], in_feet: bool) -> Scale:
    """Largest scale at which ``width_m`` × ``height_m`` fits ``area_mm`` (width, height); the smallest if none does."""
    if not (area_mm[0] > 0 and area_mm[1] > 0):
        raise ValueError("a drawing needs an area with a width and a height")
    every = scales(in_feet)
    for scale in every:
        if scale.to_mm(width_m) <= area_mm[0] and scale.to_mm(height_m) <= area_mm[1]:
            return scale
    return every[-1]
