"""A taping plan for an untaped pool: where to set the baseline, which lines to pull, and what that will be worth."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from stringline.faults import Fault, Faults
from stringline.finding import Code, finding
from stringline.geometry import Array, convex_hull
from stringline.limits import ENOUGH_R
from stringline.survey.adjust.network import BoolArray
from stringline.survey.adjust.tape import tape_sigma
from stringline.survey.design.network_design import (
    Possible,
    axes,
    braced,
    covariance,
    exchange,
    merit,
    possible_lines,
    redundancy,
)

SETBACK_M = 1.0
"""How far outside the points a baseline is set, at least (practice)."""

_SETBACKS = (1.0, 2.0, 3.5)  # times the setback
_STRETCH = ((0.0, 1.0), (-0.1, 1.1), (0.1, 0.9), (0.25, 0.75), (0.0, 0.7), (0.3, 1.0))  # ends, as shares of the extent
_HELD_M = 1.0  # a point known no better than this is not tied
_TRIED = 4  # baselines whose lines are exchanged; the others are only judged by the two-point scheme


@dataclass(frozen=True, slots=True)
class PlannedLine:
    """One line to pull. ``check`` marks those that only check others: pull them last, but do pull them."""

    frm: str
    to: str
    length_m: float
    check: bool


@dataclass(frozen=True, slots=True)
class TapingPlan:
    """Where the baseline goes, which lines to pull in which order, and how well that ties the points.

    ``baseline`` names its ends: A and B are stakes to be set outside the pool, other names are points of the pool
    itself; ``a`` and ``b`` are their places in the frame of the rough points. The first ``needed`` lines tie every
    point; the others only check. ``axis_m`` is each point's largest ellipse axis, 1 σ in the baseline's frame, after
    all lines, ``checked_worst_m`` the worst of them and ``worst_m`` the worst after the first ``needed``.
    ``two_point_worst_m`` is the worst axis of the plain scheme (stakes A and B, A–B, and every point from A and from B:
    2n + 1 lines, never fewer than ``needed``) on the best baseline tried for it; None where the tape is too short for
    that. ``weakest_r`` is the least redundancy once all lines are pulled.
    """

    baseline: tuple[str, str]
    a: tuple[float, float]
    b: tuple[float, float]
    lines: tuple[PlannedLine, ...]
    needed: int
    axis_m: Mapping[str, float]
    worst_m: float
    checked_worst_m: float
    two_point_worst_m: float | None
    weakest_r: float
    notes: tuple[Code, ...]

    def where(self, rough: Mapping[str, tuple[float, float]]) -> Code:
        """Where to set the baseline, from the two points nearest to each of its ends."""
        if self.baseline[0] in rough:
            return finding("taping.no-stakes", a=self.baseline[0], b=self.baseline[1])
        apart = math.dist(self.a, self.b)
        return finding("taping.stakes", apart_m=apart, a=_near(self.a, rough), b=_near(self.b, rough))


def _near(stake: tuple[float, float], rough: Mapping[str, tuple[float, float]]) -> Code:
    first, second = sorted(rough, key=lambda name: math.dist(rough[name], stake))[:2]
    one, other = (math.dist(rough[name], stake) for name in (first, second))
    return finding("taping.stake-from", first=first, first_m=one, second=second, second_m=other)


def taping_plan(
    rough: Mapping[str, tuple[float, float]],
    tape_length_m: float,
    *,
    tape_class: str = "II",
    lines: int | None = None,
    setback_m: float = SETBACK_M,
    cannot: frozenset[frozenset[str]] = frozenset(),
) -> TapingPlan:
    """Plan the taping of points known only roughly.

    ``rough`` gives each point's rough place, metres in any frame. ``lines`` limits the number pulled (at least 2n + 1);
    without it lines are added until each is checked by the others (redundancy 0.2). ``cannot`` holds pairs of names
    that cannot be taped. Raises ``Faults`` for fewer than two points, for names A or B, and where the tape is too short
    to tie every point.

    Rough places of a rectangle, to be taped from two stakes or from its own corners:

    >>> plan = taping_plan({"1": (0.0, 0.0), "2": (9.0, 0.0), "3": (9.0, 5.0), "4": (0.0, 5.0)}, 30.0)
    >>> plan.baseline, len(plan.lines), plan.needed, plan.worst_m < 0.01
    (('1', '2'), 6, 6, True)
    """
    _refuse(rough, tape_length_m, lines)
    points = np.array(list(rough.values()), dtype=float)
    reach = _Reach(tape_length_m, tape_class, cannot)
    budget = 2 * len(rough) + 1
    made = [
        _Trial.of(("A", "B", *rough), np.vstack([a, b, points]), reach, budget)
        for a, b in _stakes(points, setback_m, tape_length_m)
    ]
    made += [_Trial.of(*_ends_first(tuple(rough), points, i, j), reach, budget) for i, j in _sides(points)]
    tried = [t for t in made if t is not None and np.all(t.axes(t.start) < _HELD_M)]
    if not tried:
        wrong = finding("taping.short-tape", tape_m=tape_length_m)
        raise Faults("taping", [Fault("short-tape", "tape", wrong, "taping.longer-tape")])
    tried.sort(key=lambda t: t.merit(t.start))
    two_point = [float(t.axes(t.start).max()) for t in tried if t.plain]
    improved = [replace(t, start=exchange(t.possible, t.start)).settled(reach, setback_m) for t in tried[:_TRIED]]
    best = min(improved, key=lambda t: float(t.axes(t.start).max()))
    most = 4 * len(rough) if lines is None else lines - int(best.start.sum())
    chosen, order = braced(best.possible, best.start, ENOUGH_R, most)
    return _plan(best, chosen, order, min(two_point, default=None))


@dataclass(frozen=True)
class _Reach:
    """What a tape can do here."""

    length_m: float
    tape_class: str
    cannot: frozenset[frozenset[str]]


@dataclass(frozen=True)
class _Trial:
    """One baseline (the first two of ``names`` and ``places``), the lines possible with it, and those to begin with."""

    names: tuple[str, ...]
    places: Array
    possible: Possible
    start: BoolArray
    plain: bool  # the start is the two-point scheme from two stakes, in full

    @classmethod
    def of(cls, names: tuple[str, ...], places: Array, reach: _Reach, budget: int) -> _Trial | None:
        """Begin with the two-point scheme and add what the budget allows; None where the points cannot be tied."""
        e = (places[1] - places[0]) / np.hypot(*(places[1] - places[0]))
        local = places - places[0]
        xy = np.column_stack([local @ e, local @ np.array([-e[1], e[0]])])
        i, j = np.triu_indices(len(xy), 1)
        away = np.hypot(*(xy[j] - xy[i]).T)
        allowed = np.array([frozenset((names[p], names[q])) not in reach.cannot for p, q in zip(i, j, strict=True)])
        keep = (away <= reach.length_m) & (away > 0.05) & allowed
        i, j, away = i[keep], j[keep], away[keep]
        sigma = np.array([tape_sigma(float(x), reach.tape_class) for x in away])
        possible = possible_lines(xy, sigma, i, j)
        start = i <= 1
        plain = int(start.sum()) == budget
        while int(start.sum()) < budget and not start.all():  # the line that is known worst ties most
            h = possible.rows @ covariance(possible, start)
            start[int(np.argmax(np.where(start, -1.0, np.einsum("cu,cu->c", h, possible.rows))))] = True
        return cls(names, places, possible, start, plain) if int(start.sum()) >= possible.unknowns else None

    def axes(self, chosen: BoolArray) -> Array:
        """Largest axis of every point but the first, m."""
        return axes(covariance(self.possible, chosen))

    def merit(self, chosen: BoolArray) -> float:
        """Nearly the worst axis, m."""
        return float(merit(self.axes(chosen)))

    def settled(self, reach: _Reach, setback_m: float) -> _Trial:
        """Shift the stakes along and off their line, by less and less, while that makes the worst axis smaller."""
        if self.names[0] != "A":
            return self
        best, worst, step = self, float(self.axes(self.start).max()), 1.0
        while step > 0.05:
            e = (best.places[1] - best.places[0]) / np.hypot(*(best.places[1] - best.places[0]))
            off = np.array([e[1], -e[0]])
            shifts = [(e, 0 * e), (-e, 0 * e), (0 * e, e), (0 * e, -e), (off, off), (-off, -off)]
            moved = [best._moved(step * da, step * db, reach, setback_m) for da, db in shifts]
            fine = [(float(t.axes(t.start).max()), k) for k, t in enumerate(moved) if t is not None]
            least, k = min(fine, default=(math.inf, 0))
            found = moved[k] if least < worst * (1.0 - 1e-6) else None
            if found is None:
                step *= 0.5
            else:
                best, worst = found, least
        return best

    def _moved(self, da: Array, db: Array, reach: _Reach, setback_m: float) -> _Trial | None:
        """The same lines from shifted stakes; None where the tape does not reach or a stake comes too near."""
        places = self.places.copy()
        places[0] += da
        places[1] += db
        length = float(np.hypot(*(places[1] - places[0])))
        if length < 1.0:
            return None
        e = (places[1] - places[0]) / length
        local = places - places[0]
        xy = np.column_stack([local @ e, local @ np.array([-e[1], e[0]])])
        p = self.possible
        if float(xy[2:, 1].min()) < setback_m - 1e-9:
            return None
        away = np.hypot(*(xy[p.j] - xy[p.i]).T)
        if float(away[self.start].max()) > reach.length_m:
            return None
        near = away <= reach.length_m
        sigma = np.array([tape_sigma(float(x), reach.tape_class) for x in away[near]])
        return _Trial(self.names, places, possible_lines(xy, sigma, p.i[near], p.j[near]), self.start[near], self.plain)


def _sides(points: Array) -> list[tuple[int, int]]:
    """Pairs of points with all others to their left: the sides of the hull, the longest first."""
    if len(points) < 3:
        return []
    hull = convex_hull(points)
    pairs = [(int(hull[k]), int(hull[(k + 1) % len(hull)])) for k in range(len(hull))]
    return sorted(pairs, key=lambda pair: -math.dist(points[pair[0]], points[pair[1]]))


def _ends_first(names: tuple[str, ...], points: Array, i: int, j: int) -> tuple[tuple[str, ...], Array]:
    order = [i, j, *(k for k in range(len(names)) if k not in (i, j))]
    return tuple(names[k] for k in order), points[order]


def _stakes(points: Array, setback_m: float, reach_m: float) -> list[tuple[Array, Array]]:
    """Baselines along every side of the points' hull, outside it, the points to their left, within the tape's reach."""
    sides = _sides(points) or [(0, 1), (1, 0)]
    found = []
    for i, j in sides:
        p, q = points[i], points[j]
        side = float(np.hypot(*(q - p)))
        if side < 0.5:
            continue
        e = (q - p) / side
        inward = np.array([-e[1], e[0]])
        s = (points - p) @ e
        low, span = float(s.min()), float(np.ptp(s))
        for times in _SETBACKS:
            for first, last in _STRETCH:
                length = (last - first) * span
                if 1.0 < length <= reach_m:
                    a = p + e * (low + first * span) - inward * (setback_m * times)
                    found.append((a, a + e * length))
    return found


def _plan(t: _Trial, chosen: BoolArray, order: list[int], two_point: float | None) -> TapingPlan:
    p, names = t.possible, t.names
    first = sorted((int(k) for k in np.flatnonzero(t.start)), key=lambda k: (int(p.i[k]) > 1, int(p.i[k]), int(p.j[k])))
    lines = tuple(
        PlannedLine(names[int(p.i[k])], names[int(p.j[k])], float(p.length[k]), check)
        for group, check in ((first, False), (order, True))
        for k in group
    )
    after = t.axes(chosen)
    weakest = float(redundancy(p, chosen)[chosen].min())
    notes: list[Code] = ["taping.keep-sketch"]
    if weakest < ENOUGH_R - 0.005:
        notes.append(finding("taping.weakest", r=weakest))
    a, b = t.places[0], t.places[1]
    return TapingPlan(
        (names[0], names[1]),
        (float(a[0]), float(a[1])),
        (float(b[0]), float(b[1])),
        lines,
        len(first),
        dict(zip(names, (0.0, *(float(x) for x in after)), strict=True)),
        float(t.axes(t.start).max()),
        float(after.max()),
        two_point,
        weakest,
        tuple(notes),
    )


def _refuse(rough: Mapping[str, tuple[float, float]], tape_length_m: float, lines: int | None) -> None:
    faults = []
    if len(rough) < 2:
        faults.append(Fault("few-points", "points", "taping.few-points", "taping.give-places"))
    faults += [
        Fault("taken-name", "points", finding("taping.point-called", name=name), "taping.stakes-names")
        for name in ("A", "B")
        if name in rough
    ]
    if not tape_length_m > 0.0:
        faults.append(Fault("tape-length", "tape", "taping.no-length", "taping.give-length"))
    if lines is not None and lines < 2 * len(rough) + 1:
        wrong = finding("taping.few-lines", lines=lines, points=len(rough))
        faults.append(Fault("few-lines", "lines", wrong, finding("taping.allow-lines", least=2 * len(rough) + 1)))
    if faults:
        raise Faults("taping", faults)
