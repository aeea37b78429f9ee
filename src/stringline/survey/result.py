"""What the survey room gives back: immutable, complete, metres and radians."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from stringline.finding import Code, Finding, finding
from stringline.geometry import Array
from stringline.lengths import Length

if TYPE_CHECKING:
    from stringline.survey.levels.falls import Levels


@dataclass(frozen=True, slots=True)
class Ellipse:
    """Standard error ellipse (1 σ semi-axes); ``angle_rad`` of the major axis from x, in (−π/2, π/2]."""

    major_m: float
    minor_m: float
    angle_rad: float


@dataclass(frozen=True, slots=True)
class PointResult:
    """A point with its a-priori standard deviations. A fixed point has zeros."""

    name: str
    x_m: float
    y_m: float
    sx_m: float
    sy_m: float
    ellipse: Ellipse
    fixed: bool = False


@dataclass(frozen=True, slots=True)
class TapeResult:
    """One taped distance after the adjustment; residual = adjusted − read.

    ``w`` is the standardised residual (None where the reading is uncontrolled, r below 1e-6), ``tau`` Pope's (None
    where σ₀ cannot be estimated), ``smallest_slip_m`` the smallest slip that would be detected (None where none
    would be).
    """

    frm: str
    to: str
    read_m: float
    adjusted_m: float
    residual_m: float
    sigma_m: float
    redundancy: float
    w: float | None
    tau: float | None
    smallest_slip_m: float | None
    text: str
    line: int | None = None
    correction_m: float = 0.0  # in read_m: what was added to the text for temperature, pull and sag, when asked


@dataclass(frozen=True, slots=True)
class OtherReading:
    """One value of a stringline offset or of an observed coordinate after the adjustment; else as for a tape.

    ``kind`` is "station", "offset", "x" or "y", ``points`` the line and then the point, or the point alone.
    """

    kind: str
    points: tuple[str, ...]
    read_m: float
    adjusted_m: float
    residual_m: float
    sigma_m: float
    redundancy: float
    w: float | None
    smallest_slip_m: float | None
    line: int | None = None

    @property
    def label(self) -> Finding:
        """What it is, as a person would say: point 3 off A–B, station; or x of 3."""
        if len(self.points) == 1:
            return finding("survey.x-of" if self.kind == "x" else "survey.y-of", point=self.points[0])
        a, b, point = self.points
        code = "survey.station-of" if self.kind == "station" else "survey.offset-of"
        return finding(code, point=point, a=a, b=b)


@dataclass(frozen=True, slots=True)
class GlobalTest:
    """vᵀPv against the χ² interval with f degrees of freedom; ``pass_`` is True where f = 0 (nothing to test)."""

    statistic: float
    low: float
    high: float
    pass_: bool


@dataclass(frozen=True, slots=True)
class Suspect:
    """A reading that the others contradict, with the reading expected from them; never corrected."""

    frm: str
    to: str
    read_m: float
    expected_m: float  # from all other readings, this one left out
    sigma_m: float  # of expected_m
    slip: Finding  # the likeliest misreading: 6 inches too many
    odds: float  # for this reading and slip against all other explanations together
    line: int | None = None
    likely_m: float | None = None  # what the tape would have shown without the named slip
    rivals: tuple[Finding, ...] = ()  # lines it cannot be told from
    would_tell: Finding | None = None  # the reading that would tell them apart


@dataclass(frozen=True, slots=True)
class NextTape:
    """A reading worth taking now."""

    frm: str
    to: str
    expected_m: float
    buys: Code
    score: float


@dataclass(frozen=True, slots=True)
class Struck:
    """A reading that a person set aside, still shown on the sheet."""

    frm: str
    to: str
    length: Length
    reason: str
    line: int | None


@dataclass(frozen=True)
class Survey:
    """An adjusted survey. ``cov`` is the a-priori covariance of (x₁, y₁, x₂, y₂, …) in the order of ``points``."""

    points: tuple[PointResult, ...]
    tapes: tuple[TapeResult, ...]
    freedom: int
    sigma0: float  # √(vᵀPv/f), dimensionless; 0 where f = 0
    global_test: GlobalTest
    cov: Array  # shape (2n, 2n)
    suspects: tuple[Suspect, ...] = ()
    next_tapes: tuple[NextTape, ...] = ()
    struck: tuple[Struck, ...] = ()
    notes: tuple[Code, ...] = ()  # what it cannot tell
    levels: Levels | None = None  # None where no rod was read
    others: tuple[OtherReading, ...] = ()  # offsets and observed coordinates, one value each

    @cached_property
    def index(self) -> dict[str, int]:
        """Position of each point in ``points``."""
        return {p.name: i for i, p in enumerate(self.points)}

    @cached_property
    def xy(self) -> Array:
        """Coordinates, shape (n, 2), in the order of ``points``."""
        return np.array([[p.x_m, p.y_m] for p in self.points], dtype=float).reshape(-1, 2)

    def at(self, name: str) -> Array:
        """Coordinates of one point, shape (2,); KeyError for an unknown name."""
        return np.asarray(self.xy[self.index[name]], dtype=float)

    def cov_of(self, *names: str) -> Array:
        """Joint covariance of the named points, shape (2k, 2k), in that order."""
        rows = [r for n in names for r in (2 * self.index[n], 2 * self.index[n] + 1)]
        block: Array = self.cov[np.ix_(rows, rows)]
        return block
