"""The survey as numbers: points, rows of observations with their σ, and what holds the frame still."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum, StrEnum
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from stringline.finding import Finding, finding
from stringline.geometry import Array
from stringline.job.readings import Coordinate, Offset, Tape

IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]

SQUARE_SIGMA_RAD = 0.005
"""How square to a stringline an offset is held, about 1 in 200 (source ``square-sigma``)."""


class Row(IntEnum):
    """What one observation row measures, and how its three point columns are used."""

    DISTANCE = 0  # (i, j, −1)
    STATION = 1  # (a, b, p): along a → b from a
    OFFSET = 2  # (a, b, p): square to a → b, + to its left
    X = 3  # (i, −1, −1)
    Y = 4  # (i, −1, −1)


class Datum(StrEnum):
    """What holds the frame still."""

    BASELINE = "baseline"  # A at the origin, B on the x axis
    KNOWN = "known"  # control held fixed
    COORDINATES = "coordinates"  # observed coordinates, each with its σ
    FREE = "free"  # inner constraints: the least change from the start


Reading = Tape | Offset | Coordinate


@dataclass(frozen=True)
class Network:
    """Observation rows over named points. Rows 0 … ``tapes`` − 1 are the taped distances in the order of the job.

    ``kind``, ``value`` (m) and ``sigma`` (m) have shape (m,), ``at`` (m, 3) holds point indices (−1 unused),
    ``reading`` the reading that each row came from. ``fixed`` (n, 2) masks coordinates that are held, at the values in
    ``fixed_xy`` (NaN where free). ``side`` (n,) is +1 for left of the baseline, −1 for behind it, 0 where nothing is
    demanded; ``sketch`` (n, 2) holds rough positions in a frame of their own, NaN where there is none.
    ``reach_m`` is how far the tape goes, where that is known; nothing can be taped between ``blocked`` pairs of points.
    """

    names: tuple[str, ...]
    kind: IntArray
    at: IntArray
    value: Array
    sigma: Array
    reading: tuple[Reading, ...]
    fixed: BoolArray
    fixed_xy: Array
    datum: Datum
    baseline: tuple[int, int] | None
    side: IntArray
    sketch: Array
    struck: tuple[Tape, ...] = ()
    reach_m: float | None = None
    blocked: tuple[tuple[int, int], ...] = ()

    @property
    def n(self) -> int:
        """Number of points."""
        return len(self.names)

    @property
    def m(self) -> int:
        """Number of observation rows."""
        return len(self.value)

    @cached_property
    def tapes(self) -> int:
        """Number of taped distances; they are the first rows."""
        return int(np.count_nonzero(self.kind == Row.DISTANCE))

    @cached_property
    def index(self) -> dict[str, int]:
        """Position of each point in ``names``."""
        return {name: i for i, name in enumerate(self.names)}

    @cached_property
    def free(self) -> IntArray:
        """Columns 2·i (x) and 2·i + 1 (y) that are unknowns."""
        return np.flatnonzero(~self.fixed.ravel())

    @cached_property
    def weight(self) -> Array:
        """1/σ² of each row, shape (m,)."""
        return 1.0 / self.sigma**2

    @cached_property
    def neighbours(self) -> tuple[tuple[tuple[int, int], ...], ...]:
        """For each point its taped lines as (row, other point)."""
        lists: list[list[tuple[int, int]]] = [[] for _ in self.names]
        for k in range(self.tapes):
            i, j = int(self.at[k, 0]), int(self.at[k, 1])
            lists[i].append((k, j))
            lists[j].append((k, i))
        return tuple(tuple(x) for x in lists)

    def label(self, row: int) -> Finding:
        """Name a row as a person would: the line A–3, or point 3 off A–B, or x of 3."""
        a, b, c = (int(x) for x in self.at[row])
        kind = self.kind[row]
        if kind == Row.DISTANCE:
            return finding("survey.line", a=self.names[a], b=self.names[b])
        if kind in (Row.STATION, Row.OFFSET):
            return finding("survey.off-line", point=self.names[c], a=self.names[a], b=self.names[b])
        return finding("survey.x-of" if kind == Row.X else "survey.y-of", point=self.names[a])
