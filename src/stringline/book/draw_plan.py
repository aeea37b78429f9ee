"""The dimensioned plan, in the cover's frame: housing at the bottom, looking over the water."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from stringline.book import layers
from stringline.book.board import Board, scale_bar
from stringline.book.drawing import Circle, Drawing, Hatch, Point, Text
from stringline.book.measure import extent_mm, strokes, texts
from stringline.book.placing import Placer
from stringline.book.plan_shapes import Shapes, shapes
from stringline.book.scales import Scale, scales
from stringline.fit.result import Fit
from stringline.job.model import Pool
from stringline.layout.result import Layout
from stringline.lengths import Unit, format_length
from stringline.survey.result import Survey
from stringline.system.model import System

_LEAST = 0.0015  # a dimension shorter than this, in metres, is nothing to letter
_RIGHT, _UP, _DOWN = (1.0, 0.0), (0.0, 1.0), (0.0, -1.0)


def plan_drawing(
    layout: Layout,
    survey: Survey,
    pool: Pool,
    system: System,
    unit: Unit,
    *,
    fit: Fit | None = None,
    area_mm: tuple[float, float] = (180.0, 230.0),
) -> Drawing:
    """Draw the plan to the largest standard scale at which it fits ``area_mm``, everything lettered included."""
    what = shapes(layout, survey, pool, system)
    every = scales(unit)
    bare = 2 * what.housing_half, what.channel + system.housing.inside_depth_m
    usable = [s for s in every if s.to_mm(bare[0]) <= area_mm[0] and s.to_mm(bare[1]) <= area_mm[1]]
    for scale in usable:
        drawing = _draw(layout, what, unit, fit, scale)
        if drawing.paper_size_mm[0] <= area_mm[0] and drawing.paper_size_mm[1] <= area_mm[1]:
            return drawing
    return _draw(layout, what, unit, fit, every[-1])


def _draw(layout: Layout, what: Shapes, unit: Unit, fit: Fit | None, scale: Scale) -> Drawing:
    board = Board(scale)
    _objects(board, what)
    _checks(board, what, unit, fit)
    _dimensions(board, what, unit)
    _motor(board, layout, what)
    _labels(board, layout, what, unit)
    _below(board, what, unit)
    side = layout.drive_side
    alt = (
        f"Plan of the cover at {scale.text}, housing at the bottom: gauge {format_length(layout.gauge.value, unit)}, "
        f"travel {format_length(layout.travel.value, unit)}, channels "
        f"{format_length(layout.channel.value, unit)} long, "
        f"drive side {side}."
    )
    return board.finish("plan", "Plan", alt)


def _objects(board: Board, what: Shapes) -> None:
    for _name, _kind, outline in what.obstacles:
        _obstacle(board, outline)
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


def _obstacle(board: Board, outline: tuple[Point, ...]) -> None:
    if len(outline) > 2:
        board.add(Hatch(layers.HATCH, outline))
        board.ring(layers.OBSTACLE, outline)
    elif len(outline) == 2:
        (ax, ay), (bx, by) = outline
        long = math.hypot(bx - ax, by - ay) or 1.0
        # A face known by two points: hatched on the side away from the pool's middle line.
        nx, ny = -(by - ay) / long, (bx - ax) / long
        away = 1.0 if nx * (ax + bx) + ny * 1e-6 >= 0 else -1.0
        t = board.m(2.5) * away
        board.add(Hatch(layers.HATCH, ((ax, ay), (bx, by), (bx + nx * t, by + ny * t), (ax + nx * t, ay + ny * t))))
        board.line(layers.OBSTACLE, outline[0], outline[1])
    elif outline:
        board.dot(layers.OBSTACLE, outline[0], 1.0)


def _checks(board: Board, what: Shapes, unit: Unit, fit: Fit | None) -> None:
    g, length = what.half_gauge, what.channel
    diagonal = format_length(math.hypot(2 * g, length), unit)
    angle = math.atan2(length, 2 * g)
    for side in (1, -1):
        a, b = (-side * g, 0.0), (side * g, length)
        board.line(layers.CHECK, a, b)
        at = (a[0] + (b[0] - a[0]) * 0.74, a[1] + (b[1] - a[1]) * 0.74)
        board.add(Text(layers.NOTE, at, f"diagonal {diagonal}", 1.8, side * angle, along=0.5, up=-0.4, halo=True))
    for station in fit.gauge if fit is not None else ():
        if not 0 < station.station_m < length:
            continue
        s = station.station_m
        board.line(layers.CHECK, (-g, s), (g, s))
        at = (-g * 0.45, s)
        board.add(Text(layers.NOTE, at, format_length(station.gauge.value, unit), 1.8, along=0.5, up=-0.4, halo=True))


def _dimensions(board: Board, what: Shapes, unit: Unit) -> None:
    g, w = what.half_gauge, what.track_half
    edge = max(g + w, what.housing_half)

    def put(values: Sequence[float], place: int) -> tuple[list[Point], list[str]]:
        """Points on the object and the words between them; ``place`` 0 across the far end, 1 along the right side."""
        kept = [values[0]]
        kept += [v for v in values[1:] if v - kept[-1] > _LEAST]
        on = [(v, what.channel) if place == 0 else (g + w, v) for v in kept]
        return on, [format_length(b - a, unit) for a, b in pairwise(kept)]

    across = put((-g, max(-g, what.water_left), min(g, what.water_right), g), 0)
    gauge = [(-g, what.channel), (g, what.channel)], [f"gauge {format_length(2 * g, unit)}"]
    board.stack((across, gauge), (0.0, what.channel), 0.0, _UP)

    along = put((0.0, what.near, what.far, what.travel, what.channel), 1)
    ends: list[Point] = [(g + w, 0.0), (g + w, what.travel)]
    overall: list[Point] = [(g + w, 0.0), (g + w, what.channel)]
    chains = [along, (ends, [f"travel {format_length(what.travel, unit)}"])]
    chains.append((overall, [f"channel {format_length(what.channel, unit)}"]))
    board.stack(chains, (edge, 0.0), math.pi / 2, _RIGHT)

    low = what.lid[0][1]
    h = what.housing_half
    inside: list[Point] = [(-h, low), (h, low)]
    board.stack([(inside, [f"housing inside {format_length(2 * h, unit)}"])], (0.0, low), 0.0, _DOWN, first_mm=7.0)


def _motor(board: Board, layout: Layout, what: Shapes) -> None:
    side = -1 if layout.drive_side == "left" else 1
    middle = (what.housing[0][1] + what.housing[2][1]) / 2
    r = board.m(2.4)
    at = (side * (what.housing_half - r - board.m(1.2)), middle)
    board.add(Circle(layers.DRIVE, at, r, "paper"), Text(layers.NOTE, at, "M", 2.5, along=0.5, up=0.5, weight="bold"))


def _labels(board: Board, layout: Layout, what: Shapes, unit: Unit) -> None:
    placer = Placer(board.scale)
    for item in board.items:
        if not isinstance(item, Hatch):
            placer.avoid(strokes(item, board.scale))
    placer.take(*texts(board.items, board.scale))
    placer.take(Text(layers.NOTE, (0.0, what.near), "M", 0.1))
    wanted = (
        list(_housing_labels(what)),
        *(_along_track(board, layout, what, side) for side in (-1, 1)),
        _in_water(what),
        _edge_label(board, what),
        *(_pulley_label(board, what, side) for side in (-1, 1)),
        *(_near_point(board, p, r_text, 1.8) for p, r_text in _radii(what, unit)),
        *(_near_point(board, _middle(outline), name, 2.2) for name, _kind, outline in what.obstacles if outline),
        *(_near_point(board, p, name, 1.8) for name, p in what.water_points),
    )
    _looking(board, placer, what)
    for _name, p in what.water_points:
        board.dot(layers.POINT, p, 0.5)
    for candidates in wanted:
        found = placer.place(candidates)
        if found:
            board.add(*found)


def _looking(board: Board, placer: Placer, what: Shapes) -> None:
    tail = (0.0, what.near + board.m(7.0))
    head = (0.0, tail[1] + board.m(13.0))
    board.arrow(layers.TRACK, tail, head)
    placer.avoid([(tail, head)], 5.0)
    words = Text(
        layers.NOTE, (0.0, tail[1] - board.m(1.2)), "looking over the water", 1.8, along=0.5, up=1.0, halo=True
    )
    board.add(words)
    placer.take(words)


def _housing_labels(what: Shapes) -> Iterator[list[Text]]:
    middle = (what.housing[0][1] + what.housing[2][1]) / 2
    for words in ("housing, drum and rope reels; lid dashed", "housing; lid dashed", "housing"):
        for height in (2.5, 2.2, 1.8):
            for u in (0.0, -0.3 * what.housing_half, 0.3 * what.housing_half):
                yield [Text(layers.NOTE, (u, middle), words, height, along=0.5, up=0.5, halo=True)]


def _along_track(board: Board, layout: Layout, what: Shapes, side: int) -> Iterator[list[Text]]:
    name = "left" if side < 0 else "right"
    role = "drive side" if name == layout.drive_side else "idle side"
    for words in (f"{name} track, {role}", f"{name}, {role}", name):
        for height in (2.5, 1.8):
            for out in (2.2, 3.0, 4.0):
                for t in (0.3, 0.4, 0.2, 0.5, 0.6, 0.7, 0.15, 0.8):
                    u = side * (what.half_gauge + what.track_half + board.m(out))
                    up = 0.0 if side < 0 else 1.0
                    at = (u, what.channel * t)
                    yield [Text(layers.NOTE, at, words, height, math.pi / 2, 0.5, up, "bold", halo=True)]


def _in_water(what: Shapes) -> Iterator[list[Text]]:
    for height in (3.5, 2.5, 1.8):
        for t in (0.5, 0.42, 0.58, 0.35, 0.65, 0.28):
            for u in (0.5, 0.3, 0.7, 0.2, 0.8):
                at = (
                    what.water_left + (what.water_right - what.water_left) * u,
                    what.near + (what.far - what.near) * t,
                )
                yield [Text(layers.NOTE, at, "water", height, along=0.5, up=0.5, weight="italic", halo=True)]


def _edge_label(board: Board, what: Shapes) -> Iterator[list[Text]]:
    for words in ("leading edge, cover closed", "leading edge"):
        for off, up in ((-1.2, 1.0), (1.2, 0.0), (-2.4, 1.0)):
            for u in (0.0, -0.3, 0.3, -0.5, 0.5):
                at = (u * what.half_gauge, what.travel + board.m(off))
                yield [Text(layers.NOTE, at, words, 1.8, along=0.5, up=up, halo=True)]


def _pulley_label(board: Board, what: Shapes, side: int) -> Iterator[list[Text]]:
    u = side * (what.half_gauge + what.track_half + board.m(1.5))
    for words in ("far-end pulley", "pulley"):
        for drop in (0.0, 2.0, 4.0, 6.0, 9.0):
            at = (u, what.channel - board.m(drop))
            yield [Text(layers.NOTE, at, words, 1.8, along=0.0 if side > 0 else 1.0, up=1.0, halo=True)]


def _near_point(board: Board, p: Point, words: str, height: float) -> Iterator[list[Text]]:
    for far in (1.4, 2.6, 4.2, 6.5, 9.0):
        for k in (1, 3, 5, 7, 0, 4, 2, 6):
            a = k * math.pi / 4
            dx, dy = math.cos(a), math.sin(a)
            at = (p[0] + board.m(far) * dx, p[1] + board.m(far) * dy)
            along = 0.5 - 0.5 * round(dx)
            up = 0.5 - 0.5 * round(dy)
            yield [Text(layers.NOTE, at, words, height, 0.0, along, up, halo=True)]


def _radii(what: Shapes, unit: Unit) -> list[tuple[Point, str]]:
    radii = {round(r, 4) for _, r in what.corner_radii}
    kept = what.corner_radii[:1] if len(radii) == 1 else what.corner_radii
    many = f" ({len(what.corner_radii)} corners)" if len(radii) == 1 and len(what.corner_radii) > 1 else ""
    return [(p, f"R {format_length(r, unit)}{many}") for p, r in kept]


def _middle(outline: tuple[Point, ...]) -> Point:
    n = len(outline)
    return sum(p[0] for p in outline) / n, sum(p[1] for p in outline) / n


def _below(board: Board, what: Shapes, unit: Unit) -> None:
    """Scale bar and its words under the housing's dimension."""
    _left, bottom, _right, _top = extent_mm(board.items, board.scale)
    y = board.m(bottom - 6.0)
    x = -what.housing_half
    step, name = (0.3048, "ft") if unit in (Unit.FT_IN, Unit.FT) else (1.0, "m")
    marks = (0, 1, 2, 4, 8) if name == "ft" else (0, 1, 2, 3)
    words = [f"{n} {name}" if n else "0" for n in marks]
    last = len(marks)
    while last > 2 and board.scale.to_mm(marks[last - 1] * step) > 60:
        last -= 1
    # Words under marks that lie close together would touch: letter only those with room.
    pairs: list[tuple[float, str]] = []
    for n, word in zip(marks[:last], words[:last], strict=True):
        room = not pairs or board.scale.to_mm(n * step - pairs[-1][0]) > 8
        pairs.append((n * step, word if room else ""))
    scale_bar(board, (x, y), pairs)
    at = (x + pairs[-1][0] + board.m(7.0), y + board.m(0.8))
    board.add(Text(layers.NOTE, at, f"Scale {board.scale.text}", 2.5, up=0.5))
