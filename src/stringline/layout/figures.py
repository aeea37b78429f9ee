"""From the best rectangle to a Layout: every length a worked figure with its uncertainty."""

from __future__ import annotations

import math

import numpy as np

from stringline.geometry import Array
from stringline.job.model import Cover, Obstacle, Pool
from stringline.layout.clearance import Part, cover_parts, parts_for, pieces_of, worst
from stringline.layout.ends import End
from stringline.layout.ground import Size
from stringline.layout.measure import area_figure, band, perimeter_figure
from stringline.layout.outline import Outline
from stringline.layout.result import Clearance, Layout
from stringline.layout.search import Found
from stringline.layout.stance import AHEAD, BEHIND, LEFT, RIGHT, Stance, stance
from stringline.layout.walls import WallStop, frame_at, gradient, joint_sigma, stop_at_wall
from stringline.lengths import Unit, format_length
from stringline.survey.result import Survey
from stringline.system.model import System
from stringline.worked import Figure, Origin, Term


def draw_up(
    survey: Survey,
    pool: Pool,
    cover: Cover,
    system: System,
    unit: Unit,
    outline: Outline,
    size: Size,
    end: End,
    found: Found,
    instead: tuple[str, Found] | None = None,
) -> Layout:
    """Write the best rectangle at one end up as a :class:`Layout`.

    ``instead`` is what stands in the way of a better rectangle at that end, and that rectangle.
    """
    cov = outline.covariance(survey)
    stood = stance(outline, found.heading_rad, cov)
    width = _extent(outline, stood, "Water, across", RIGHT, LEFT)
    length = _extent(outline, stood, "Water, along", AHEAD, BEHIND)
    side = Figure.single("Side margin", cover.side_margin_m, Origin.CHOSEN)
    far = Figure.single("End margin", cover.end_margin_m, Origin.CHOSEN)
    apart = "chosen for this job" if "setback" in cover.choices else "end margin at the housing"
    setback = Figure.sum("Setback, housing face to nearest water", [Term(apart, size.setback, Origin.CHOSEN)])
    gauge = _gauge(width, cover, size)
    frame = frame_at(stood.heading_rad, stood.reach, size)
    notes = [_heading_note(end, found, stood, unit)]
    stop = stop_at_wall(survey, pool, outline, stood, size)
    travel = _travel(setback, length, far, stop)
    channel = _channel(travel, system)
    if cover.mount == "under-coping" and (outline.curve is not None or any(outline.through)):
        notes.append(
            "A track under the coping runs straight: where the water's edge bows away from it, the coping must reach "
            "out to cover it, or the tracks go flush or on the deck."
        )
    if instead is not None:
        notes.append(_instead_note(instead, found, unit))
    if stop is not None:
        notes.append(_wall_note(stop, unit))
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
    towards = ("to the right", "to the left", "ahead", "back towards the housing")
    terms = [
        Term(
            f"from the survey's origin {towards[k]} as far as {outline.place_name(stood.touch[k])}",
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
        width.term("water, across"),
        *(Term(f"side margin, {s}", cover.side_margin_m, Origin.CHOSEN) for s in ("left", "right")),
    ]
    wall = size.side - cover.side_margin_m
    if cover.mount != "on-deck":
        terms += [
            Term(f"channel wall to track centreline, {s}", wall, Origin.CATALOGUE, "catalogue")
            for s in ("left", "right")
        ]
    return Figure.sum("Gauge, between track centrelines", terms, sigma=width.sigma)


def _travel(setback: Figure, length: Figure, far: Figure, stop: WallStop | None) -> Figure:
    terms = [setback.term("setback"), length.term("water, along"), far.term("end margin at the far end")]
    sigma = length.sigma
    if stop is not None and stop.cut_m > 0.0:
        terms.append(Term(f"cut back to stop at {stop.wall}", -stop.cut_m, Origin.MEASURED))
        sigma = stop.sigma_m
    return Figure.sum("Travel, housing face to far stop", terms, sigma=sigma)


def _channel(travel: Figure, system: System) -> Figure:
    terms = [
        travel.term("travel"),
        Term(
            "half a slider, which rides ahead of the leading edge",
            system.leading_edge.slider_length_m / 2,
            Origin.CATALOGUE,
            "catalogue",
        ),
    ]
    if system.track.channels == 2:
        terms.append(Term("pulley spacer", system.track.pulley_spacer_m, Origin.CATALOGUE, "catalogue"))
    return Figure.sum("Channel, housing face to far end", terms, sigma=travel.sigma)


def _heading_note(end: End, found: Found, stood: Stance, unit: Unit) -> str:
    off = math.remainder(found.heading_rad - end.square_rad, math.tau)
    run = format_length(abs(math.tan(off)) * found.width_m, unit)
    if end.edge is None:
        return f"The housing stands at {end.label}."
    left, right = end.edge
    along = f" The sides follow the edge {stood.guide[0]}–{stood.guide[1]}." if stood.guide is not None else ""
    if abs(off) * found.width_m < 0.0005:
        return f"The housing stands along {left}–{right}, square to it.{along}"
    ahead = right if off > 0 else left
    return (
        f"The housing stands along {left}–{right}; {ahead} lies {run} nearer to the housing's face than the other "
        f"end of that edge.{along}"
    )


def _instead_note(instead: tuple[str, Found], found: Found, unit: Unit) -> str:
    what, free = instead
    wider, longer = (
        format_length(abs(x), unit) for x in (found.width_m - free.width_m, found.length_m - free.length_m)
    )
    across = "wider" if found.width_m >= free.width_m else "narrower"
    along = "longer" if found.length_m >= free.length_m else "shorter"
    turn = math.degrees(abs(math.remainder(found.heading_rad - free.heading_rad, math.tau)))
    return (
        f"Because of {what} the cover is turned by {turn:.1f}° from its best place here: it is {wider} {across} and "
        f"{longer} {along} than it could be without."
    )


def _wall_note(stop: WallStop, unit: Unit) -> str:
    past = format_length(stop.past_m, unit)
    stops = "" if stop.cut_m == 0.0 else f"The leading edge stops at {stop.wall}. "
    return (
        f"{stops}The channels run {past} into {stop.wall}: leave a pocket for each in it, or stop the cover that much "
        "shorter and say so to whoever uses the pool."
    )


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
        label = f"Clearance, {part} to {o.name}"
        if stop is not None and o.name == stop.wall and part != "housing":
            part, label = "far water", f"Clearance, far water less what may stay open to {o.name}"
        note = "shortest distance between the two in plan; negative: how far they would have to move apart"
        terms = [Term("in plan, from the survey", value, Origin.MEASURED, sigma=sigma)]
        figure = Figure.by_rule(label, value, note, terms, sigma=sigma)
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
