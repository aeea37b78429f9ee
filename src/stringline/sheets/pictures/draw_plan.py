"""The dimensioned plan, in the cover's frame: housing at the bottom, looking over the water."""

from __future__ import annotations

import math
from collections.abc import Iterator

from stringline.drawing.board import Board
from stringline.drawing.canvas import Circle, Drawing, Hatch, Point, Text
from stringline.drawing.measure import strokes, texts
from stringline.drawing.placing import Placer
from stringline.drawing.scales import Scale, scales
from stringline.finding import Code, finding
from stringline.form.result import Fit
from stringline.job.model import Pool
from stringline.layout.result import Layout
from stringline.sheets.pictures import layers
from stringline.sheets.pictures.plan_dims import add_checks, add_clearances, add_dimensions, add_scale, letter
from stringline.sheets.pictures.plan_obstacles import draw_thing
from stringline.sheets.pictures.plan_shapes import Shapes, shapes
from stringline.sheets.voice import Voice
from stringline.survey.result import Survey
from stringline.system.model import System

_MOTOR_MM = 2.4
_LESS = ("whole", "short", "alone")  # of a label's words, where the room is less


def plan_drawing(
    layout: Layout,
    survey: Survey,
    pool: Pool,
    system: System,
    voice: Voice,
    *,
    fit: Fit | None = None,
    area_mm: tuple[float, float] = (180.0, 230.0),
    or_mm: tuple[float, float] | None = None,
) -> Drawing:
    """Draw the plan to the largest standard scale at which it fits ``area_mm``, everything lettered included.

    ``or_mm`` is another area that would do as well.
    """
    areas = [area_mm] if or_mm is None else [area_mm, or_mm]

    def fitting(size: tuple[float, float]) -> bool:
        return any(size[0] <= area[0] and size[1] <= area[1] for area in areas)

    what = shapes(layout, survey, pool, system)
    every = scales(voice.unit.in_feet)
    bare = 2 * what.housing_half, what.channel + system.housing.inside_depth_m
    for scale in every:
        if not fitting((scale.to_mm(bare[0]), scale.to_mm(bare[1]))):
            continue
        for beside in (False, True):
            drawing = _draw(layout, what, voice, fit, scale, beside)
            if fitting(drawing.paper_size_mm):
                return drawing
    return _draw(layout, what, voice, fit, every[-1], False)


def _draw(layout: Layout, what: Shapes, voice: Voice, fit: Fit | None, scale: Scale, beside: bool) -> Drawing:
    board = Board(scale)
    _objects(board, what)
    motor = _motor(board, layout, what, voice.say("pictures.plan.motor-mark"))
    add_dimensions(board, what, voice)
    add_clearances(board, what, layout.clearances, voice)
    checks = add_checks(board, what, voice, fit)
    placer = _placer(board)
    _looking(board, placer, what, voice)
    letter(board, placer, [_housing_labels(what, voice)])
    letter(board, placer, [_beside(board, motor, voice.say("pictures.plan.motor"), 1.8)], most=12.0)
    letter(board, placer, [_along_track(board, layout, what, side, voice) for side in (-1, 1)])
    letter(board, placer, [_near(board, t.middle, t.name, 2.2) for t in what.obstacles])
    letter(board, placer, checks)
    letter(board, placer, [_edge_label(board, what, voice), _pulley_label(board, what, voice)], most=14.0)
    letter(board, placer, [_radius(board, p, said, voice) for p, said in _radii(what)], most=16.0)
    letter(board, placer, [_near(board, p, name, 1.8) for name, p in what.water_points])
    letter(board, placer, [_in_water(what, voice.say("pictures.plan.water"))], most=10.0)
    add_scale(board, voice, -what.housing_half, beside=beside)
    alt = finding(
        "pictures.plan.alt",
        scale=scale.text,
        gauge_m=layout.gauge.value,
        travel_m=layout.travel.value,
        channel_m=layout.channel.value,
        side=layout.drive_side,
    )
    return board.finish("plan", voice.say("pictures.plan.title"), voice.say(alt))


def _objects(board: Board, what: Shapes) -> None:
    for thing in what.obstacles:
        draw_thing(board, thing, what.centre)
    board.ring(layers.WATER, what.water)
    inset = what.half_gauge - what.track_half
    board.line(layers.COVER, (-inset, 0.0), (-inset, what.travel))
    board.line(layers.COVER, (inset, 0.0), (inset, what.travel))
    for side in (-1, 1):
        u = side * what.half_gauge
        board.ring(layers.TRACK, what.track(side))
        board.line(layers.AXIS, (u, -what.into_housing - board.m(3)), (u, what.channel + board.m(3)))
        board.dot(layers.PULLEY, (u, what.channel - what.track_half), 1.1, "paper")
    board.ring(layers.HOUSING, what.housing)
    board.ring(layers.LID, what.lid)
    board.line(layers.EDGE, (-what.half_gauge, what.travel), (what.half_gauge, what.travel))
    for _name, p in what.water_points:
        board.dot(layers.POINT, p, 0.5)


def _motor(board: Board, layout: Layout, what: Shapes, letters: str) -> Point:
    """The motor's mark at the drive side end of the housing."""
    side = -1 if layout.drive_side == "left" else 1
    middle = (what.housing[0][1] + what.housing[2][1]) / 2
    wall = side * what.housing_half
    at = (wall + side * board.m(_MOTOR_MM + 1.2), middle)
    board.line(layers.DRIVE, (wall, middle), (wall + side * board.m(1.2), middle))
    mark = Text(layers.NOTE, at, letters, 2.5, along=0.5, up=0.5, weight="bold")
    board.add(Circle(layers.DRIVE, at, board.m(_MOTOR_MM), "paper"), mark)
    return at


def _placer(board: Board) -> Placer:
    placer = Placer(board.scale)
    for item in board.items:
        if not isinstance(item, Hatch):
            placer.avoid(strokes(item, board.scale))
        elif len(item.points) > 2:
            placer.avoid(zip(item.points, item.points[1:] + item.points[:1], strict=True))
    placer.take(*texts(board.items, board.scale))
    return placer


def _looking(board: Board, placer: Placer, what: Shapes, voice: Voice) -> None:
    """Arrow and words for the direction one looks in."""
    long = min(13.0, 0.2 * board.scale.to_mm(what.far - what.near))
    tail = (0.0, what.near + board.m(6.5))
    head = (0.0, tail[1] + board.m(long))
    board.arrow(layers.TRACK, tail, head)
    placer.avoid([(tail, head)], 5.0)
    said = voice.say("pictures.plan.looking")
    middle = (tail[1] + head[1]) / 2
    places = [(0.0, tail[1] - board.m(1.0), 0.5, 1.0), (0.0, head[1] + board.m(1.0), 0.5, 0.0)]
    places += [(side * board.m(2.0), middle, 0.5 - 0.5 * side, 0.5) for side in (1, -1)]
    options = [[Text(layers.NOTE, (x, y), said, 1.8, along=along, up=up, halo=True)] for x, y, along, up in places]
    letter(board, placer, [iter(options)])


def _housing_labels(what: Shapes, voice: Voice) -> Iterator[list[Text]]:
    middle = (what.housing[0][1] + what.housing[2][1]) / 2
    for words in voice.all(f"pictures.plan.housing-{much}" for much in _LESS):
        for height in (2.5, 2.2, 1.8):
            yield [Text(layers.NOTE, (0.0, middle), words, height, along=0.5, up=0.5, halo=True)]


def _along_track(board: Board, layout: Layout, what: Shapes, side: int, voice: Voice) -> Iterator[list[Text]]:
    name = "left" if side < 0 else "right"
    role = finding(f"pictures.plan.{'drive' if name == layout.drive_side else 'idle'}-side")
    for words in voice.all(finding(f"pictures.plan.track-{much}", side=name, role=role) for much in _LESS):
        for height in (2.5, 1.8):
            for out in (2.2, 3.0, 4.0):
                for t in (0.3, 0.4, 0.2, 0.5, 0.6, 0.7, 0.15, 0.8):
                    u = side * (what.half_gauge + what.track_half + board.m(out))
                    up = 0.0 if side < 0 else 1.0
                    at = (u, what.channel * t)
                    yield [Text(layers.NOTE, at, words, height, math.pi / 2, 0.5, up, "bold", halo=True)]


def _in_water(what: Shapes, words: str) -> Iterator[list[Text]]:
    for height in (3.5, 2.5, 1.8):
        for t in (0.5, 0.42, 0.58, 0.35, 0.65, 0.28):
            for u in (0.5, 0.3, 0.7, 0.2, 0.8):
                at = (
                    what.water_left + (what.water_right - what.water_left) * u,
                    what.near + (what.far - what.near) * t,
                )
                yield [Text(layers.NOTE, at, words, height, along=0.5, up=0.5, weight="italic", halo=True)]


def _edge_label(board: Board, what: Shapes, voice: Voice) -> Iterator[list[Text]]:
    for words in voice.all(("pictures.plan.edge-closed", "pictures.plan.edge")):
        for off, up in ((-1.2, 1.0), (1.2, 0.0), (-2.4, 1.0)):
            for u in (0.0, -0.3, 0.3, -0.5, 0.5):
                at = (u * what.half_gauge, what.travel + board.m(off))
                yield [Text(layers.NOTE, at, words, 1.8, along=0.5, up=up, halo=True)]


def _pulley_label(board: Board, what: Shapes, voice: Voice) -> Iterator[list[Text]]:
    for words in voice.all(("pictures.plan.far-pulley", "pictures.plan.pulley")):
        for drop in (0.0, 2.0, 4.0, 6.0, 9.0):
            for side in (-1, 1):
                u = side * (what.half_gauge + what.track_half + board.m(1.5))
                at = (u, what.channel - board.m(drop))
                yield [Text(layers.NOTE, at, words, 1.8, along=0.0 if side > 0 else 1.0, up=1.0, halo=True)]


def _beside(board: Board, p: Point, words: str, height: float) -> Iterator[list[Text]]:
    """Words under, over or outside the motor's mark."""
    r = board.m(_MOTOR_MM + 1.0)
    outside = math.copysign(1.0, p[0])
    for dx, dy in ((0.0, -1.0), (0.0, 1.0), (outside, 0.0)):
        yield [Text(layers.NOTE, (p[0] + dx * r, p[1] + dy * r), words, height, 0.0, 0.5 - 0.5 * dx, 0.5 - 0.5 * dy)]


def _near(board: Board, p: Point, words: str, height: float) -> Iterator[list[Text]]:
    """Words round a point, near places first."""
    for far in (1.4, 2.6, 4.2, 6.5, 9.0):
        for k in (1, 3, 5, 7, 0, 4, 2, 6):
            a = k * math.pi / 4
            dx, dy = math.cos(a), math.sin(a)
            at = (p[0] + board.m(far) * dx, p[1] + board.m(far) * dy)
            yield [Text(layers.NOTE, at, words, height, 0.0, 0.5 - 0.5 * round(dx), 0.5 - 0.5 * round(dy), halo=True)]


def _radius(board: Board, p: Point, said: tuple[Code, ...], voice: Voice) -> Iterator[list[Text]]:
    """A corner's radius near it, in fewer words where the first have no room."""
    for words in voice.all(said):
        yield from _near(board, p, words, 1.8)


def _radii(what: Shapes) -> list[tuple[Point, tuple[Code, ...]]]:
    """Corner radii to letter: once, with their count, where all are alike."""
    alone = [(p, finding("pictures.plan.radius", radius_m=r)) for p, r in what.corner_radii]
    if len(alone) < 2 or len({round(r, 4) for _, r in what.corner_radii}) > 1:
        return [(p, (said,)) for p, said in alone]
    (p, said), radius = alone[0], what.corner_radii[0][1]
    return [(p, (finding("pictures.plan.radius-alike", radius_m=radius, n=len(alone)), said))]
