"""What the form room gives back: form of the tracks as figures with their uncertainty."""

from __future__ import annotations

from dataclasses import dataclass

from stringline.finding import Code
from stringline.worked import Figure


@dataclass(frozen=True, slots=True)
class GaugeAt:
    """Gauge at one station from the housing."""

    station_m: float
    gauge: Figure
    deviation: Figure  # from the gauge that was laid out or ordered


@dataclass(frozen=True, slots=True)
class Fit:
    """Form of the tracks (or, before the pour, of the water's edges they follow). None where there is no reading.

    All figures are lengths in metres: straightness and parallelism the widths of minimum zones, never negative, the
    others signed.
    """

    basis: str  # "survey" or "as-built"
    straight_left: Figure | None
    straight_right: Figure | None
    parallel: Figure | None
    square: Figure | None  # run-out of the housing axis over the gauge
    diagonals: Figure | None  # difference of the two diagonals
    gauge: tuple[GaugeAt, ...] = ()
    notes: tuple[Code, ...] = ()
