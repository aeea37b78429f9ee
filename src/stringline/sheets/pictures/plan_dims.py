"""Dimensions of the plan: outside the object, the shortest innermost; clearances; check lines; the scale bar."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from stringline.drawing.board import Board, scale_bar
from stringline.drawing.canvas import Dimension, Point, Text
from stringline.drawing.dims import TICK_MM, fits, measured_m, take_apart
from stringline.drawing.lettering import width_mm
from stringline.drawing.measure import extent_mm, strokes, text_box, texts
from stringline.drawing.placing import Placer
from stringline.finding import finding
from stringline.form.result import Fit
from stringline.layout.result import Clearance
from stringline.lengths import FOOT
from stringline.sheets.pictures import layers
from stringline.sheets.pictures.plan_obstacles import shortest
from stringline.sheets.pictures.plan_shapes import Shapes
from stringline.sheets.voice import Voice

_LEAST = 0.0015  # a dimension shorter than this, in metres, is nothing to letter
_RIGHT, _UP, _DOWN = (1.0, 0.0), (0.0, 1.0), (0.0, -1.0)
Chain = tuple[list[Point], list[str]]


def add_dimensions(board: Board, what: Shapes, voice: Voice) -> None:
    """Chains across the far end, along the right side, and over the housing."""
    g, w = what.half_gauge, what.track_half

    across = _chain([(v, what.channel) for v in (-g, max(-g, what.water_left), min(g, what.water_right), g)], voice, 0)
    gauge: Chain = [(-g, what.channel), (g, what.channel)], [voice.say(finding("pictures.plan.gauge", gauge_m=2 * g))]
    top = extent_mm(board.items, board.scale)[3] if what.obstacles else 0.0
    above = board.m(top) if _blocks_above(what, board) else what.channel
    count = len(board.items)
    board.stack((across, gauge), (0.0, max(above, what.channel)), 0.0, _UP)
    over = [text_box(take_apart(d, board.scale).text, board.scale) for d in _dims(board, count)]

    along = _chain([(g + w, v) for v in (0.0, what.near, what.far, what.travel, what.channel)], voice, 1)
    foot = (g + w, 0.0)
    chains: list[Chain] = [
        along,
        ([foot, (g + w, what.travel)], [voice.say(finding("pictures.plan.travel", travel_m=what.travel))]),
        ([foot, (g + w, what.channel)], [voice.say(finding("pictures.plan.channel", channel_m=what.channel))]),
    ]
    # A short last dimension is written past the chain's end: keep clear of what stands over the far end.
    edge = extent_mm(board.items[:count], board.scale)[2]
    reach = max([edge, *(b.bounds[2] - 3.0 for b in over)])
    board.stack(chains, (board.m(reach), 0.0), math.pi / 2, _RIGHT)

    low, h = what.lid[0][1], what.housing_half
    inside: Chain = [(-h, low), (h, low)], [voice.say(finding("pictures.plan.housing-inside", inside_m=2 * h))]
    board.stack([inside], (0.0, low), 0.0, _DOWN, first_mm=7.0)


def add_clearances(board: Board, what: Shapes, clearances: Sequence[Clearance], voice: Voice) -> None:
    """The smallest clearance of each obstacle as a dimension between the two nearest places."""
    for thing in what.obstacles:
        own = [c for c in clearances if c.obstacle == thing.name and what.part(c.part) is not None]
        if not own:
            continue
        least = min(own, key=lambda c: c.figure.value)
        corners = what.part(least.part)
        if least.figure.value <= _LEAST or corners is None:
            continue
        a, b = shortest(thing, corners)
        if math.dist(a, b) < _LEAST:
            continue
        angle = math.atan2(b[1] - a[1], b[0] - a[0])
        words = voice.length(least.figure.value)
        board.add(_clear_of_ticks(board, Dimension(layers.DIMS, a, b, a, angle, words, 1.8)))


def _clear_of_ticks(board: Board, dim: Dimension) -> Dimension:
    """A dimension whose words do not fit between its ticks has them beside it, where they cross least."""
    if fits(dim, board.scale):
        return dim
    placer = Placer(board.scale)
    for item in board.items:
        placer.avoid(strokes(item, board.scale))
    placer.take(*texts(board.items, board.scale))
    shift = (width_mm(dim.text, dim.height_mm) + board.scale.to_mm(measured_m(dim))) / 2 + TICK_MM
    found = [replace(dim, shift_mm=s, under=u) for s in (shift, -shift) for u in (False, True)]
    prices = placer.prices([[take_apart(d, board.scale).text] for d in found])
    return found[int(prices.argmin())]


def add_checks(board: Board, what: Shapes, voice: Voice, fit: Fit | None) -> list[Iterator[list[Text]]]:
    """Diagonals and the gauge at its stations, as check lines; gives back where their words could go."""
    g, length = what.half_gauge, what.channel
    words: list[Iterator[list[Text]]] = []
    for station in fit.gauge if fit is not None else ():
        s = station.station_m
        if 0 < s < length:
            board.line(layers.CHECK, (-g, s), (g, s))
            gauge = station.gauge.value
            said = voice.say(finding("pictures.plan.gauge-at", station_m=s, gauge_m=gauge)), voice.length(gauge)
            words.append(_on_line((-g, s), (g, s), said))
    diagonal = voice.say(finding("pictures.plan.diagonal", diagonal_m=math.hypot(2 * g, length)))
    for side in (1, -1):
        a, b = (-side * g, 0.0), (side * g, length)
        board.line(layers.CHECK, a, b)
        words.append(_on_line(a, b, (diagonal,)))
    return words


def add_scale(board: Board, voice: Voice, left_m: float, *, beside: bool) -> None:
    """Scale bar and its words: under everything, or ``beside`` the housing on its left."""
    left, bottom, _right, _top = extent_mm(board.items, board.scale)
    step, name = (FOOT, "feet") if voice.unit.in_feet else (1.0, "metres")
    room = 32.0 if beside else 60.0
    steps = [n for n in (0, 1, 2, 4, 8, 16, 32) if board.scale.to_mm(n * step) <= room] or [0, 1]
    marks: list[tuple[float, str]] = []
    for n in steps:
        clear = not marks or board.scale.to_mm(n * step - marks[-1][0]) > 8 or n == steps[-1]
        marks.append((n * step, (voice.say(finding(f"pictures.plan.{name}", n=n)) if n else "0") if clear else ""))
    if len(marks) > 2 and board.scale.to_mm(marks[-1][0] - marks[-2][0]) < 8:
        marks[-2] = (marks[-2][0], "")
    long = board.scale.to_mm(marks[-1][0])
    scale = voice.say(finding("pictures.plan.scale", scale=board.scale.text))
    if beside:
        x, y = left - long - 8.0, bottom + 4.0
        words = Text(layers.NOTE, (board.m(x), board.m(y + 4.0)), scale, 1.8)
    else:
        x, y = board.scale.to_mm(left_m), bottom - 6.0
        words = Text(layers.NOTE, (board.m(x + long + 8.0), board.m(y + 0.8)), scale, 2.5, up=0.5)
    scale_bar(board, (board.m(x), board.m(y)), marks)
    board.add(words)


def letter(board: Board, placer: Placer, wanted: Sequence[Iterator[list[Text]]], most: float = math.inf) -> int:
    """Place and record each of the wanted labels; how many found no place."""
    lost = 0
    for candidates in wanted:
        found = placer.place(candidates, most=most)
        if found is None:
            lost += 1
        else:
            board.add(*found)
    return lost


def _on_line(a: Point, b: Point, words: Sequence[str]) -> Iterator[list[Text]]:
    angle = math.atan2(b[1] - a[1], b[0] - a[0])
    if angle > math.pi / 2 + 1e-9:
        angle -= math.pi
    for text in words:
        for t in (0.27, 0.73, 0.22, 0.78, 0.33, 0.67, 0.17, 0.83, 0.4, 0.6):
            at = (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)
            for up in (-0.65, 1.6):
                yield [Text(layers.NOTE, at, text, 1.8, angle, 0.5, up, halo=True)]


def _chain(points: Sequence[Point], voice: Voice, axis: int) -> Chain:
    """A chain through points in order, those that add nothing left out."""
    kept = [points[0]]
    kept += [p for p in points[1:] if p[axis] - kept[-1][axis] > _LEAST]
    return kept, [voice.length(b[axis] - a[axis]) for a, b in pairwise(kept)]


def _blocks_above(what: Shapes, board: Board) -> bool:
    """Whether an obstacle stands where the dimensions over the far end would be."""
    reach = what.half_gauge + board.m(14)
    return any(
        max(a[1], b[1]) > what.channel and min(a[0], b[0]) < reach and max(a[0], b[0]) > -reach
        for thing in what.obstacles
        for a, b in thing.faces
    )


def _dims(board: Board, start: int) -> list[Dimension]:
    return [d for d in board.items[start:] if isinstance(d, Dimension)]
