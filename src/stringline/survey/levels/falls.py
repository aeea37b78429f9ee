"""What rod readings say about the coping and the housing's floor: falls, twist, flatness, each with its working."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from stringline.finding import Code, Refused, finding, nested
from stringline.geometry import Array
from stringline.job.model import HousingFloor, SurveyInput
from stringline.job.readings import Level, aside, in_use
from stringline.limits import BAARDA_W
from stringline.survey.levels.heights import Heights, rod_heights
from stringline.survey.levels.planes import FlatnessZone, Plane, best_plane, minimum_zone
from stringline.survey.result import Survey
from stringline.worked import Figure, Kind, Origin, Term

Places = Mapping[str, tuple[float, float]]


@dataclass(frozen=True)
class Levels:
    """Everything that rod readings say about the coping or a floor; heights are above ``datum``.

    ``twist`` stands for exactly four points. ``notes`` says what is missing or contradicts itself.
    """

    datum: str
    heights: Heights
    notes: tuple[Code, ...]
    fall_along: Figure | None = None
    fall_across: Figure | None = None
    out_of_plane: Figure | None = None
    flatness: Figure | None = None
    twist: Figure | None = None


@dataclass(frozen=True)
class Levelled:
    """Levels of the points round the pool and the floor's least fall to its drain; None where it was not levelled.

    ``frame`` says what *along* means: "cover" (from the housing over the water) or "points" (where they reach
    farthest).
    """

    levels: Levels
    frame: str
    floor: Figure | None
    notes: tuple[Code, ...] = ()


def levelled(spec: SurveyInput, survey: Survey, heading_rad: float | None) -> Levelled | None:
    """Report the rod readings of a job along the cover's ``heading_rad`` (None before a layout); None without any.

    Points of the housing's floor lie below the others and so take no part in falls and flatness.
    """
    if survey.levels is None:
        return None
    floor = spec.floor
    at = {p.name: (p.x_m, p.y_m) for p in survey.points}
    found = levels_of(in_use(spec.levels), at, heading_rad, () if floor is None else floor.names)
    frame = "points" if heading_rad is None else "cover"
    fall, notes = (None, ()) if floor is None else _least_floor_fall(floor, found.heights, at)
    return Levelled(found, frame, fall, (*notes, *aside(spec.levels)))


def levels_of(
    levels: Sequence[Level],
    at: Places,
    heading_rad: float | None = None,
    apart: Collection[str] = (),
) -> Levels:
    """Report what rod readings say. ``at`` gives plan positions, m; points without one have a height and nothing else.

    ``heading_rad`` is the direction called *along* (from the housing over the water), counter-clockwise from x; without
    it along is where the points reach farthest. Falls are positive downwards along that direction and, across, to its
    right. Points named in ``apart``, such as a housing's floor, have a height and take no part in the rest. Raises
    ``Faults`` as :func:`stringline.survey.levels.heights.rod_heights` does.

    >>> from stringline.lengths import Unit, parse
    >>> at = {"1": (0.0, 0.0), "2": (10.0, 0.0), "3": (10.0, 5.0), "4": (0.0, 5.0)}
    >>> read = (("1", "1500"), ("2", "1520"), ("3", "1520"), ("4", "1500"), ("1", "1500"))
    >>> found = levels_of([Level(p, parse(rod, Unit.MM)) for p, rod in read], at, heading_rad=0.0)
    >>> found.fall_along.label, round(found.fall_along.value, 6)
    ('levels.fall-along', 0.02)
    """
    heights = rod_heights(levels)
    notes = _notes(levels, heights)
    placed = [name for name in heights.names if name in at and name not in apart]
    lost = [name for name in heights.names if name not in at and name not in apart]
    if lost:
        notes.append(finding("levels.no-place", points=lost))
    xy = np.array([at[name] for name in placed], dtype=float).reshape(-1, 2)
    rows = [heights.index[name] for name in placed]
    h, cov = heights.height_m[rows], heights.cov[np.ix_(rows, rows)]
    bare = Levels(heights.names[0], heights, ())
    try:
        plane, zone = best_plane(xy, h, cov), minimum_zone(xy, h)
    except Refused as refused:
        return replace(bare, notes=(*notes, finding("levels.no-falls", why=nested(refused.why))))
    heading = _longest(xy) if heading_rad is None else heading_rad
    along = np.array([math.cos(heading), math.sin(heading)])
    right = np.array([along[1], -along[0]])
    corners = None
    if len(placed) == 4:
        try:
            corners = twist(heights, placed, at)
        except Refused as refused:
            notes.append(finding("levels.no-twist", why=nested(refused.why)))
    return replace(
        bare,
        notes=tuple(notes),
        fall_along=_plane_fall("levels.fall-along", plane, xy, along),
        fall_across=_plane_fall("levels.fall-across", plane, xy, right),
        out_of_plane=_off_plane(placed, plane, cov, xy),
        flatness=_flatness(placed, zone, h, cov),
        twist=corners,
    )


def fall(heights: Heights, high: str, low: str) -> Figure:
    """How far ``low`` lies below ``high`` (negative: it is higher), m, from their heights.

    σ² = q_hh + q_ll − 2 q_hl. KeyError for unknown points.
    """
    terms = [
        Term(finding("levels.height", point=high), heights.at(high), Origin.DERIVED),
        Term(finding("levels.height", point=low), -heights.at(low), Origin.DERIVED),
    ]
    label = finding("levels.fall", high=high, low=low)
    return Figure.sum(label, terms, sigma=heights.sigma_between(high, low))


def floor_fall(heights: Heights, floor: Sequence[str], drain: str, at: Places) -> Figure:
    """Least slope with which a floor's points fall to its drain, as fall over run (negative: water stands there).

    min over the points of (h_point − h_drain)/|point − drain|, dimensionless; σ is that of the fall over the run, the
    run taken as exact. Raises ``Refused`` (a ValueError) without floor points, or for one at the drain itself; KeyError
    for a point that was not levelled or has no position.
    """
    points = [p for p in floor if p != drain]
    if not points:
        raise Refused("levels.floor-without-points")
    run = {p: math.dist(at[p], at[drain]) for p in points}
    if min(run.values()) <= 0.0:
        raise Refused("levels.floor-at-drain")
    worst = min(points, key=lambda p: (heights.at(p) - heights.at(drain)) / run[p])
    drop = fall(heights, worst, drain)
    return Figure.by_rule(
        finding("levels.floor-fall", point=worst),
        drop.value / run[worst],
        finding("levels.floor-fall-rule", point=worst, drain=drain),
        [*drop.terms, Term(finding("levels.run-between", high=worst, low=drain), run[worst], Origin.DERIVED)],
        kind=Kind.RATIO,
        sigma=(drop.sigma or 0.0) / run[worst],
    )


def twist(heights: Heights, corners: Sequence[str], at: Places) -> Figure:
    """How far the last of four corners stands above the plane of the other three, m, each height times its share.

    With h₄ = Σ sᵢhᵢ on the plane of the first three (Σ sᵢ = 1, Σ sᵢ(x, y)ᵢ = (x, y)₄) the twist is h₄ − Σ sᵢhᵢ; for a
    rectangle named round its edge h₄ − h₁ + h₂ − h₃. Raises ValueError unless there are four corners, ``Refused`` (a
    ValueError too) where the first three are in one line.
    """
    if len(corners) != 4:
        raise ValueError("twist is asked of four corners")
    xy = np.array([at[name] for name in corners], dtype=float)
    if np.linalg.matrix_rank(np.vstack([np.ones(3), (xy[:3] - xy[0]).T]), tol=1e-6) < 3:
        raise Refused("levels.corners-in-line")
    share = np.linalg.lstsq(np.vstack([np.ones(3), xy[:3].T]), np.array([1.0, *xy[3]]), rcond=None)[0]
    row = np.append(-share, 1.0)
    rows = [heights.index[name] for name in corners]
    terms = [
        Term(_share(name, float(factor)), float(factor) * heights.at(name), Origin.DERIVED)
        for name, factor in zip(corners, row, strict=True)
    ]
    sigma = math.sqrt(max(0.0, float(row @ heights.cov[np.ix_(rows, rows)] @ row)))
    return Figure.sum(finding("levels.twist", corner=corners[3], others=tuple(corners[:3])), terms, sigma=sigma)


def _least_floor_fall(spec: HousingFloor, heights: Heights, at: Places) -> tuple[Figure | None, tuple[Code, ...]]:
    """Least fall to the drain, from the runs that were measured or follow from the survey."""
    worst: Figure | None = None
    lost = []
    for name, run in spec.points:
        if run is not None:
            places: Places = {spec.drain: (0.0, 0.0), name: (run, 0.0)}
        elif name in at and spec.drain in at:
            places = at
        else:
            lost.append(name)
            continue
        try:
            found = floor_fall(heights, [name], spec.drain, places)
        except Refused:
            lost.append(name)
            continue
        if worst is None or found.value < worst.value:
            worst = found
    return worst, (finding("levels.floor-run", points=lost),) if lost else ()


def _notes(levels: Sequence[Level], heights: Heights) -> list[Code]:
    """Readings that contradict the others, or the lack of any check."""
    if heights.freedom == 0:
        return ["levels.nothing-spare"]
    w = np.abs(np.nan_to_num(heights.w))
    worst = int(np.argmax(w))
    if w[worst] < BAARDA_W:
        return []
    size = abs(float(heights.residual[worst])) / float(heights.redundancy[worst])
    read = levels[worst]
    return [finding("levels.contradicted", off_m=size, point=read.point, read=read.rod.text)]


def _longest(xy: Array) -> float:
    """Direction in which the points reach farthest, rad."""
    i, j = np.unravel_index(int(np.argmax(((xy[:, None] - xy[None]) ** 2).sum(axis=2))), (len(xy), len(xy)))
    d = xy[j] - xy[i]
    return math.atan2(float(d[1]), float(d[0]))


def _plane_fall(label: Code, plane: Plane, xy: Array, way: Array) -> Figure:
    """Fall of the best plane over the extent of the points in one direction: −∇h·e times max − min of x·e."""
    run = float(np.ptp(xy @ way))
    slope = -float(np.dot(plane.slope, way))
    sigma = math.sqrt(max(0.0, float(way @ plane.cov[1:, 1:] @ way)))
    return Figure.by_rule(
        label,
        slope * run,
        "levels.fall-rule",
        [
            Term("levels.slope", slope, Origin.DERIVED, sigma=sigma),
            Term("levels.run", run, Origin.DERIVED),
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
        "levels.out-of-plane",
        [
            Term(finding("levels.above-plane", point=names[top]), float(plane.off[top]), Origin.DERIVED),
            Term(finding("levels.below-plane", point=names[bottom]), -float(plane.off[bottom]), Origin.DERIVED),
        ],
        sigma=math.sqrt(max(0.0, float(row @ cov @ row))),
    )


def _flatness(names: Sequence[str], zone: FlatnessZone, height: Array, cov: Array) -> Figure:
    """Width of the narrowest zone, from the points that touch it."""
    terms = [
        Term(_share(names[k], float(zone.row[k])), float(zone.row[k] * height[k]), Origin.DERIVED)
        for k in zone.touching
        if zone.row[k] != 0.0
    ]
    sigma = math.sqrt(max(0.0, float(zone.row @ cov @ zone.row)))
    if not terms:
        return Figure("levels.flatness", 0.0, Kind.LENGTH, Origin.DERIVED, sigma=sigma, source="minimum-zone")
    return Figure.sum("levels.flatness", terms, sigma=sigma, source="minimum-zone")


def _share(point: str, factor: float) -> Code:
    return finding("levels.height-share", point=point, factor=factor)
