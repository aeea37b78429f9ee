"""From the best rectangle to a Layout: every length a worked figure with its uncertainty.

How each length is made up stands in :mod:`stringline.layout.place`. σ is first order: a length's derivatives by heading
and reaches (:class:`stringline.layout.stance.Stance`), and through them by every surveyed point, take the points' joint
covariance into it. Margins and the catalogue's lengths are taken as exact. Where the heading is held as set out (along
a curve, or stopped by an obstacle) what the points' errors would do to the best heading takes no part.
"""

from __future__ import annotations

import math

import numpy as np

from stringline.finding import Finding, finding
from stringline.geometry import Array
from stringline.job.model import Cover, Obstacle, Pool
from stringline.layout.clearance import HOUSING, Part, cover_parts, parts_for, pieces_of, worst
from stringline.layout.ends import End
from stringline.layout.ground import Size
from stringline.layout.measure import area_figure, band, perimeter_figure
from stringline.layout.outline import Outline
from stringline.layout.result import Clearance, Layout
from stringline.layout.search import Found
from stringline.layout.stance import AHEAD, BEHIND, LEFT, RIGHT, Stance, stance
from stringline.layout.walls import WallStop, frame_at, gradient, joint_sigma, stop_at_wall
from stringline.survey.result import Survey
from stringline.system.model import System
from stringline.worked import Figure, Origin, Term

_SIDES = ("left", "right")
_SQUARE_M = 0.0005  # a housing is square to its edge where one end of that lies no nearer than this
_FAR_WATER = "layout.part.far-water"
_REACHES = ("layout.reach-right", "layout.reach-left", "layout.reach-ahead", "layout.reach-back")  # in stance's order


def draw_up(
    survey: Survey,
    pool: Pool,
    cover: Cover,
    system: System,
    outline: Outline,
    size: Size,
    end: End,
    found: Found,
    instead: tuple[tuple[str, ...], Found] | None = None,
) -> Layout:
    """Write the best rectangle at one end up as a :class:`Layout`.

    ``instead`` is what stands in the way of a better rectangle at that end, and that rectangle.
    """
    cov = outline.covariance(survey)
    stood = stance(outline, found.heading_rad, cov)
    width = _extent(outline, stood, "layout.water-across", RIGHT, LEFT)
    length = _extent(outline, stood, "layout.water-along", AHEAD, BEHIND)
    side = Figure.single("layout.side-margin", cover.side_margin_m, Origin.CHOSEN)
    far = Figure.single("layout.end-margin", cover.end_margin_m, Origin.CHOSEN)
    apart = "layout.chosen" if "setback" in cover.choices else "layout.end-margin-at-housing"
    setback = Figure.sum("layout.setback", [Term(apart, size.setback, Origin.CHOSEN)])
    gauge = _gauge(width, cover, size)
    frame = frame_at(stood.heading_rad, stood.reach, size)
    notes = [_heading_note(end, found, stood)]
    stop = stop_at_wall(survey, pool, outline, stood, size)
    travel = _travel(setback, length, far, stop)
    channel = _channel(travel, system)
    if cover.mount == "under-coping" and (outline.curve is not None or any(outline.through)):
        notes.append(finding("layout.bows-away"))
    if instead is not None:
        notes.append(_instead_note(instead, found))
    if stop is not None:
        notes.append(_wall_note(stop))
    clear = _clearances(survey, pool, outline, stood, size, stop)
    return Layout(
        frame=frame,
        housing_edge=end.edge,
        water=outline.polygon,
        drive_side=cover.drive_side,
        gauge=gauge,
        water_width=width,
        water_length=length,
        side_margin=side,
        end_margin=far,
        setback=setback,
        travel=travel,
        channel=channel,
        clearances=clear,
        notes=tuple(notes),
        mount=cover.mount,
        water_area=area_figure(outline, cov),
        water_perimeter=perimeter_figure(outline, cov),
        water_sigma=band(outline, cov),
    )


def _extent(outline: Outline, stood: Stance, label: str, one: int, other: int) -> Figure:
    terms = [
        Term(
            finding(_REACHES[k], place=outline.place(stood.touch[k])),
            float(stood.reach[k]),
            Origin.MEASURED,
            sigma=stood.sigma(np.eye(5)[1 + k]),
        )
        for k in (one, other)
    ]
    # the two reaches share points and the heading, so their σ do not simply add
    return Figure.sum(label, terms, sigma=stood.sigma(np.eye(5)[1 + one] + np.eye(5)[1 + other]))


def _gauge(width: Figure, cover: Cover, size: Size) -> Figure:
    terms = [
        width.term("layout.of-water-across"),
        *(Term(finding("layout.side-margin-on", side=s), cover.side_margin_m, Origin.CHOSEN) for s in _SIDES),
    ]
    wall = size.side - cover.side_margin_m
    if cover.mount != "on-deck":
        terms += [
            Term(finding("layout.wall-to-centreline", side=s), wall, Origin.CATALOGUE, "catalogue") for s in _SIDES
        ]
    return Figure.sum("layout.gauge", terms, sigma=width.sigma)


def _travel(setback: Figure, length: Figure, far: Figure, stop: WallStop | None) -> Figure:
    terms = [
        setback.term("layout.of-setback"),
        length.term("layout.of-water-along"),
        far.term("layout.end-margin-at-far-end"),
    ]
    sigma = length.sigma
    if stop is not None and stop.cut_m > 0.0:
        terms.append(Term(finding("layout.cut-back", wall=stop.wall), -stop.cut_m, Origin.MEASURED))
        sigma = stop.sigma_m
    return Figure.sum("layout.travel", terms, sigma=sigma)


def _channel(travel: Figure, system: System) -> Figure:
    terms = [
        travel.term("layout.of-travel"),
        Term("layout.half-slider", system.leading_edge.slider_length_m / 2, Origin.CATALOGUE, "catalogue"),
    ]
    if system.track.channels == 2:
        terms.append(Term("layout.pulley-spacer", system.track.pulley_spacer_m, Origin.CATALOGUE, "catalogue"))
    return Figure.sum("layout.channel", terms, sigma=travel.sigma)


def _heading_note(end: End, found: Found, stood: Stance) -> Finding:
    off = math.remainder(found.heading_rad - end.square_rad, math.tau)
    if end.edge is None:
        return finding("layout.stands-at", end=end.label)
    left, right = end.edge
    guide = stood.guide
    along = None if guide is None else finding("layout.sides-follow", first=guide[0], last=guide[1])
    if abs(off) * found.width_m < _SQUARE_M:
        return finding("layout.stands-square", left=left, right=right, along=along)
    nearer = right if off > 0 else left
    by = abs(math.tan(off)) * found.width_m
    return finding("layout.stands-turned", left=left, right=right, nearer=nearer, by_m=by, along=along)


def _instead_note(instead: tuple[tuple[str, ...], Found], found: Found) -> Finding:
    obstacles, free = instead
    return finding(
        "layout.turned-by-obstacles",
        obstacles=obstacles,
        turn_rad=abs(math.remainder(found.heading_rad - free.heading_rad, math.tau)),
        across=wider(found.width_m - free.width_m),
        along=longer(found.length_m - free.length_m),
    )


def wider(by_m: float) -> Finding:
    """That one thing is wider than another by so much; narrower where ``by_m`` is negative."""
    return finding("layout.wider" if by_m >= 0.0 else "layout.narrower", by_m=abs(by_m))


def longer(by_m: float) -> Finding:
    """That one thing is longer than another by so much; shorter where ``by_m`` is negative."""
    return finding("layout.longer" if by_m >= 0.0 else "layout.shorter", by_m=abs(by_m))


def _wall_note(stop: WallStop) -> Finding:
    code = "layout.pocket-in-wall" if stop.cut_m == 0.0 else "layout.stops-at-wall"
    return finding(code, wall=stop.wall, past_m=stop.past_m)


def _clearances(
    survey: Survey, pool: Pool, outline: Outline, stood: Stance, size: Size, stop: WallStop | None
) -> tuple[Clearance, ...]:
    """The nearest part to every obstacle, with the distance's σ from the obstacle's points and the water's together."""
    found = []
    for o in pool.obstacles:
        if stop is None:
            cut = 0.0
        elif o.name == stop.wall:
            cut = size.end + size.past_stop + size.short  # a cover may end at a wall: see Surroundings
        else:
            cut = stop.cut_m
        points = survey.xy[[survey.index[p] for p in o.points]]
        value, part = _nearest(o, points, stood.heading_rad, stood.reach, size, cut)
        sigma = _clearance_sigma(survey, outline, stood, o, points, part, size, cut)
        label = finding("layout.clearance", part=finding(part), obstacle=o.name)
        if stop is not None and o.name == stop.wall and part != HOUSING:
            part, label = _FAR_WATER, finding("layout.clearance-of-water", obstacle=o.name)
        terms = [Term("layout.in-plan", value, Origin.MEASURED, sigma=sigma)]
        figure = Figure.by_rule(label, value, "layout.clearance-rule", terms, sigma=sigma)
        found.append(Clearance(o.name, part, figure))
    return tuple(found)


def _nearest(o: Obstacle, points: Array, heading: float, reach: Array, size: Size, cut: float) -> tuple[float, str]:
    pieces = pieces_of(o.kind, frame_at(heading, reach, size).from_survey(points))
    parts = parts_for(o.kind, _parts(reach, size, cut))
    best = min(parts, key=lambda p: worst(p, pieces))
    return worst(best, pieces), best.name


def _parts(reach: Array, size: Size, cut: float) -> tuple[Part, ...]:
    gauge = float(reach[RIGHT] + reach[LEFT]) + 2 * size.side
    channel = size.setback + float(reach[AHEAD] + reach[BEHIND]) + size.end + size.past_stop - cut
    return cover_parts(gauge, channel, size.track_half, size.housing_beyond, size.housing_deep)


def _clearance_sigma(
    survey: Survey, outline: Outline, stood: Stance, o: Obstacle, points: Array, part: str, size: Size, cut: float
) -> float:
    def distance(q: Array, xy: Array) -> float:
        pieces = pieces_of(o.kind, frame_at(float(q[0]), q[1:], size).from_survey(xy.reshape(-1, 2)))
        named = next(p for p in _parts(q[1:], size, cut) if p.name == part)
        return worst(named, pieces)

    q, flat = np.concatenate([[stood.heading_rad], stood.reach]), points.reshape(-1)
    by_stance = gradient(lambda x: distance(x, flat), q) @ stood.rows
    return joint_sigma(survey, outline, o.points, by_stance, gradient(lambda x: distance(q, x), flat))
