"""Levels: rod readings to heights, and the falls, twist and flatness that follow, each with its working."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from stringline.faults import Fault, Faults
from stringline.geometry import Array
from stringline.job.model import Level
from stringline.limits import BAARDA_W, UNTESTED_R
from stringline.survey.levels.planes import Plane, Zone, best_plane, minimum_zone
from stringline.worked import Figure, Kind, Origin, Term

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
        """Standard deviation of the difference of two heights, m."""
        i, j = self.index[a], self.index[b]
        return math.sqrt(max(0.0, float(self.cov[i, i] + self.cov[j, j] - 2.0 * self.cov[i, j])))


@dataclass(frozen=True)
class Levels:
    """Everything that rod readings say about the coping or a floor; heights are above ``datum``.

    ``twist`` stands for exactly four points. ``notes`` says what is missing or contradicts itself, in plain words.
    """

    datum: str
    heights: Heights
    fall_along: Figure | None
    fall_across: Figure | None
    out_of_plane: Figure | None
    flatness: Figure | None
    twist: Figure | None
    plane: Plane | None
    zone: Zone | None
    notes: tuple[str, ...]


def adjust_rises(rises: Sequence[Rise], known: Mapping[str, float]) -> Heights:
    """Adjust a network of levelled differences by least squares, with ``known`` heights held.

    Raises ``Faults`` where a point hangs on no chain of rises from a known height.
    """
    names = tuple(dict.fromkeys([*known, *(x for rise in rises for x in (rise.frm, rise.to))]))
    index = {name: i for i, name in enumerate(names)}
    loose = _loose(rises, known, names)
    if loose:
        wrong = f"nothing ties the height of {', '.join(loose)} to the other points"
        raise Faults(
            "levels", [Fault("loose-level", "survey.levels", wrong, "level to them from a point already tied")]
        )
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
    """
    if not levels:
        raise Faults("levels", [Fault("no-levels", "survey.levels", "there are no rod readings", "read some points")])
    start = datum if datum is not None else levels[0].point
    if all(level.point != start for level in levels):
        fault = Fault("datum", "survey.levels", f"'{start}' has no rod reading", "name a point that was read")
        raise Faults("levels", [fault])
    rises = [Rise(x.point, _sight(x), x.rod.m, ROD_SIGMA_M if x.sigma_m is None else x.sigma_m) for x in levels]
    loose = set(_loose(rises, {start: 0.0}, [x.point for x in levels]))
    if loose:
        right = "read one point from both places where the instrument stood"
        raise Faults(
            "levels",
            [
                Fault("loose-level", f"survey.levels[{k}]", f"nothing ties the height of {x.point}", right, x.line)
                for k, x in enumerate(levels)
                if x.point in loose
            ],
        )
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


def levels_of(
    levels: Sequence[Level],
    at: Mapping[str, tuple[float, float]],
    heading_rad: float | None = None,
    apart: Collection[str] = (),
) -> Levels:
    """Report what rod readings say. ``at`` gives plan positions, m; points without one have a height and nothing else.

    ``heading_rad`` is the direction called *along* (from the housing over the water), counter-clockwise from x; without
    it along is where the points reach farthest. Falls are positive downwards along that direction and, across, to its
    right. Points named in ``apart``, such as a housing's floor, have a height and take no part in the rest. Raises
    ``Faults`` as :func:`rod_heights` does.
    """
    heights = rod_heights(levels)
    notes = _notes(levels, heights)
    placed = [name for name in heights.names if name in at and name not in apart]
    lost = [name for name in heights.names if name not in at and name not in apart]
    if lost:
        notes.append(f"No position is known for {', '.join(lost)}: height only.")
    xy = np.array([at[name] for name in placed], dtype=float).reshape(-1, 2)
    rows = [heights.index[name] for name in placed]
    h, cov = heights.height_m[rows], heights.cov[np.ix_(rows, rows)]
    try:
        plane, zone = best_plane(xy, h, cov), minimum_zone(xy, h)
    except ValueError as fault:
        notes.append(f"No falls or flatness yet: {fault}.")
        return Levels(heights.names[0], heights, None, None, None, None, None, None, None, tuple(notes))
    heading = _longest(xy) if heading_rad is None else heading_rad
    along = np.array([math.cos(heading), math.sin(heading)])
    right = np.array([along[1], -along[0]])
    return Levels(
        heights.names[0],
        heights,
        _plane_fall("fall along", plane, xy, along),
        _plane_fall("fall across, to the right", plane, xy, right),
        _off_plane(placed, plane, cov, xy),
        _flatness(placed, zone, h, cov),
        twist(heights, placed, at) if len(placed) == 4 else None,
        plane,
        zone,
        tuple(notes),
    )


def fall(heights: Heights, high: str, low: str) -> Figure:
    """How far ``low`` lies below ``high`` (negative: it is higher), from their heights. KeyError for unknown points."""
    terms = [
        Term(f"height of {high}", heights.at(high), Origin.DERIVED),
        Term(f"height of {low}", -heights.at(low), Origin.DERIVED),
    ]
    return Figure.sum(f"fall from {high} to {low}", terms, sigma=heights.sigma_between(high, low))


def floor_fall(heights: Heights, floor: Sequence[str], drain: str, at: Mapping[str, tuple[float, float]]) -> Figure:
    """Least slope with which a floor's points fall to its drain, as fall over run (negative: water stands there).

    Raises ValueError without floor points, KeyError for a point that was not levelled or has no position.
    """
    points = [p for p in floor if p != drain]
    if not points:
        raise ValueError("a floor needs at least one levelled point besides its drain")
    run = {p: math.dist(at[p], at[drain]) for p in points}
    if min(run.values()) <= 0.0:
        raise ValueError("a point of the floor stands at the drain itself")
    worst = min(points, key=lambda p: (heights.at(p) - heights.at(drain)) / run[p])
    drop = fall(heights, worst, drain)
    return Figure.by_rule(
        f"floor's least fall to the drain, from {worst}",
        drop.value / run[worst],
        f"height of {worst} less height of {drain}, over the run between them",
        [*drop.terms, Term(f"run from {worst} to {drain}", run[worst], Origin.DERIVED)],
        kind=Kind.RATIO,
        sigma=(drop.sigma or 0.0) / run[worst],
    )


def twist(heights: Heights, corners: Sequence[str], at: Mapping[str, tuple[float, float]]) -> Figure:
    """How far the last of four corners stands above the plane of the other three, each height times its share.

    For a rectangle named round its edge: h₄ − h₁ + h₂ − h₃. Raises ValueError unless there are four corners, no three
    of the first in one line.
    """
    if len(corners) != 4:
        raise ValueError("twist is asked of four corners")
    xy = np.array([at[name] for name in corners], dtype=float)
    share = np.linalg.lstsq(np.vstack([np.ones(3), xy[:3].T]), np.array([1.0, *xy[3]]), rcond=None)[0]
    if np.linalg.matrix_rank(np.vstack([np.ones(3), (xy[:3] - xy[0]).T]), tol=1e-6) < 3:
        raise ValueError("three of the corners are in one line")
    row = np.append(-share, 1.0)
    rows = [heights.index[name] for name in corners]
    terms = [
        Term(f"height of {name} × {factor:+.3f}", factor * heights.at(name), Origin.DERIVED)
        for name, factor in zip(corners, row, strict=True)
    ]
    sigma = math.sqrt(max(0.0, float(row @ heights.cov[np.ix_(rows, rows)] @ row)))
    return Figure.sum(f"twist: {corners[3]} above the plane of {', '.join(corners[:3])}", terms, sigma=sigma)


def _sight(level: Level) -> str:
    return f"line of sight {level.setup or 1}"


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


def _notes(levels: Sequence[Level], heights: Heights) -> list[str]:
    """Readings that contradict the others, or the lack of any check."""
    if heights.freedom == 0:
        return ["No rod reading is to spare: read the first point again at the end, to see that nothing has moved."]
    w = np.abs(np.nan_to_num(heights.w))
    worst = int(np.argmax(w))
    if w[worst] < BAARDA_W:
        return []
    size = abs(float(heights.residual[worst])) / float(heights.redundancy[worst])
    return [
        f"The rod readings contradict each other by about {1000 * size:.0f} mm: read {levels[worst].point} again "
        f"({levels[worst].rod.text} written); the instrument may have moved, or a reading is wrong."
    ]


def _longest(xy: Array) -> float:
    """Direction in which the points reach farthest, rad."""
    i, j = np.unravel_index(int(np.argmax(((xy[:, None] - xy[None]) ** 2).sum(axis=2))), (len(xy), len(xy)))
    d = xy[j] - xy[i]
    return math.atan2(float(d[1]), float(d[0]))


def _plane_fall(label: str, plane: Plane, xy: Array, way: Array) -> Figure:
    """Fall of the best plane over the extent of the points in one direction."""
    run = float(np.ptp(xy @ way))
    slope = -float(np.dot(plane.slope, way))
    sigma = math.sqrt(max(0.0, float(way @ plane.cov[1:, 1:] @ way)))
    return Figure.by_rule(
        label,
        slope * run,
        "slope of the best plane times the length it runs",
        [
            Term("slope of the best plane, downwards", slope, Origin.DERIVED, sigma=sigma),
            Term("length it runs", run, Origin.DERIVED),
        ],
        sigma=sigma * run,
    )


def _off_plane(names: Sequence[str], plane: Plane, cov: Array, xy: Array) -> Figure:
    """How far the points lie apart square to the best plane: highest less lowest."""
    top, bottom = int(np.argmax(plane.off)), int(np.argmin(plane.off))
    A = np.column_stack([np.ones(len(xy)), xy - np.array(plane.middle)])
    R = np.eye(len(xy)) - A @ np.linalg.pinv(A)
    row = R[top] - R[bottom]
    return Figure.sum(
        "out of plane",
        [
            Term(f"{names[top]} above the best plane", float(plane.off[top]), Origin.DERIVED),
            Term(f"{names[bottom]} below it", -float(plane.off[bottom]), Origin.DERIVED),
        ],
        sigma=math.sqrt(max(0.0, float(row @ cov @ row))),
    )


def _flatness(names: Sequence[str], zone: Zone, height: Array, cov: Array) -> Figure:
    """Width of the narrowest zone, from the points that touch it."""
    terms = [
        Term(f"height of {names[k]} × {zone.row[k]:+.3f}", float(zone.row[k] * height[k]), Origin.DERIVED)
        for k in zone.touching
        if zone.row[k] != 0.0
    ]
    sigma = math.sqrt(max(0.0, float(zone.row @ cov @ zone.row)))
    if not terms:
        return Figure("flatness", 0.0, Kind.LENGTH, Origin.DERIVED, sigma=sigma, source="minimum-zone")
    return Figure.sum("flatness", terms, sigma=sigma, source="minimum-zone")
