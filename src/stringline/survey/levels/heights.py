"""Levels: rod readings to heights, by least squares over all set-ups of the instrument."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from stringline.faults import Fault, Faults
from stringline.finding import finding
from stringline.geometry import Array
from stringline.job.readings import Level
from stringline.limits import UNTESTED_R

ROD_SIGMA_M = 0.002
"""Reading a rod and holding it upright, with the instrument level (practice, source ``rod-sigma``)."""


@dataclass(frozen=True, slots=True)
class Rise:
    """One levelled difference: ``to`` stands ``rise_m`` above ``frm``."""

    frm: str
    to: str
    rise_m: float
    sigma_m: float


@dataclass(frozen=True)
class Heights:
    """Adjusted heights (n,) of ``names`` with their a-priori covariance (n, n), m; held points have zero.

    ``residual`` (m,) is adjusted − observed for each rise in the order given, ``redundancy`` and ``w`` as for tapes
    (w is NaN where nothing checks the rise); ``freedom`` and ``vtpv`` belong to all.
    """

    names: tuple[str, ...]
    height_m: Array
    cov: Array
    residual: Array
    redundancy: Array
    w: Array
    freedom: int
    vtpv: float

    @cached_property
    def index(self) -> dict[str, int]:
        """Position of each point in ``names``."""
        return {name: i for i, name in enumerate(self.names)}

    def at(self, name: str) -> float:
        """Height of one point, m."""
        return float(self.height_m[self.index[name]])

    def sigma_between(self, a: str, b: str) -> float:
        """Standard deviation of the difference of two heights, m: √(q_aa + q_bb − 2 q_ab)."""
        i, j = self.index[a], self.index[b]
        return math.sqrt(max(0.0, float(self.cov[i, i] + self.cov[j, j] - 2.0 * self.cov[i, j])))


def adjust_rises(rises: Sequence[Rise], known: Mapping[str, float]) -> Heights:
    """Adjust a network of levelled differences by least squares, with ``known`` heights (m) held.

    Each rise is an observation h_to − h_frm with weight 1/σ²; the heights are x = (AᵀPA)⁻¹AᵀPl, their covariance
    (AᵀPA)⁻¹. The equations are linear, so one step is exact. Raises ``Faults`` where a point hangs on no chain of
    rises from a known height. Source: any textbook of adjustment; ``tests/published/test_levelling.py``.

    >>> loop = [Rise("A", "B", 1.000, 0.002), Rise("B", "C", 0.500, 0.002), Rise("C", "A", -1.503, 0.002)]
    >>> found = adjust_rises(loop, {"A": 10.0})
    >>> round(found.at("B"), 4), round(found.at("C"), 4), found.freedom
    (11.001, 11.502, 1)
    """
    names = tuple(dict.fromkeys([*known, *(x for rise in rises for x in (rise.frm, rise.to))]))
    index = {name: i for i, name in enumerate(names)}
    loose = _loose(rises, known, names)
    if loose:
        wrong = finding("levels.loose", points=loose)
        raise Faults("levels", [Fault("loose-level", "survey.levels", wrong, "levels.level-from-tied")])
    m, n = len(rises), len(names)
    A = np.zeros((m, n))
    rows = np.arange(m)
    A[rows, [index[r.frm] for r in rises]] -= 1.0
    A[rows, [index[r.to] for r in rises]] += 1.0
    sigma = np.array([r.sigma_m for r in rises])
    seen = np.array([r.rise_m for r in rises])
    height = np.array([known.get(name, 0.0) for name in names])
    free = [index[name] for name in names if name not in known]
    scaled = A[:, free] / sigma[:, None]
    cov = np.zeros((n, n))
    if free:
        Q = np.linalg.inv(scaled.T @ scaled)
        height[free] = Q @ (scaled.T @ ((seen - A @ height) / sigma))
        cov[np.ix_(free, free)] = Q
    v = A @ height - seen
    r = 1.0 - np.einsum("ij,jk,ik->i", A, cov, A) / sigma**2
    with np.errstate(invalid="ignore", divide="ignore"):
        w = np.where(r > UNTESTED_R, v / (sigma * np.sqrt(np.maximum(r, UNTESTED_R))), np.nan)
    return Heights(names, height, cov, v, r, w, m - len(free), float(((v / sigma) ** 2).sum()))


def rod_heights(levels: Sequence[Level], datum: str | None = None) -> Heights:
    """Turn rod readings into heights above ``datum`` (default: the first point read).

    Each set-up of the instrument has one line of sight; a point is that line less its rod reading. A point read from
    two set-ups ties them together; one read twice from the same set-up checks that the instrument has not moved. Raises
    ``Faults`` for no readings, an unknown datum, or set-ups that share no point.

    >>> from stringline.lengths import Unit, parse
    >>> rods = [Level(point, parse(read, Unit.MM)) for point, read in (("1", "1500"), ("2", "1520"), ("1", "1502"))]
    >>> found = rod_heights(rods)
    >>> found.names, round(found.at("2"), 4), found.freedom
    (('1', '2'), -0.019, 1)
    """
    if not levels:
        raise Faults("levels", [Fault("no-levels", "survey.levels", "levels.no-readings", "levels.read-some")])
    start = datum if datum is not None else levels[0].point
    if all(level.point != start for level in levels):
        wrong = finding("levels.datum-not-read", point=start)
        raise Faults("levels", [Fault("datum", "survey.levels", wrong, "levels.name-read")])
    rises = [Rise(x.point, _sight(x), x.rod.m, ROD_SIGMA_M if x.sigma_m is None else x.sigma_m) for x in levels]
    loose = set(_loose(rises, {start: 0.0}, [x.point for x in levels]))
    if loose:
        raise Faults("levels", [_loose_fault(x) for x in levels if x.point in loose])
    found = adjust_rises(rises, {start: 0.0})
    sights = {_sight(x) for x in levels}
    keep = [i for i, name in enumerate(found.names) if name not in sights]
    return Heights(
        tuple(found.names[i] for i in keep),
        found.height_m[keep],
        found.cov[np.ix_(keep, keep)],
        found.residual,
        found.redundancy,
        found.w,
        found.freedom,
        found.vtpv,
    )


def _loose_fault(level: Level) -> Fault:
    wrong = finding("levels.loose-point", point=level.point)
    return Fault("loose-level", "survey.levels", wrong, "levels.read-from-both", level.line)


def _sight(level: Level) -> str:
    """The line of sight of a set-up, among the points; no point's name begins with a null."""
    return f"\0{level.setup or 1}"


def _loose(rises: Sequence[Rise], known: Mapping[str, float], names: Sequence[str]) -> list[str]:
    """Every point that no chain of rises ties to a known height."""
    reached, grew = set(known), True
    while grew:
        grew = False
        for rise in rises:
            if (rise.frm in reached) != (rise.to in reached):
                reached |= {rise.frm, rise.to}
                grew = True
    return [name for name in names if name not in reached]
