"""The taping plan's drawing: rough places, the baseline and every line to pull with its number."""

from __future__ import annotations

import math

from stringline.drawing.board import Board
from stringline.drawing.canvas import Drawing, Point, Text
from stringline.drawing.measure import strokes
from stringline.drawing.placing import Placer
from stringline.drawing.scales import choose
from stringline.finding import finding
from stringline.sheets.pictures import layers
from stringline.sheets.voice import Voice
from stringline.survey.design.untaped import Taping

_SPARE_MM = (30.0, 16.0)  # round the points, for names


def taping_drawing(
    taping: Taping, voice: Voice, *, water: tuple[str, ...] = (), area_mm: tuple[float, float] = (180.0, 110.0)
) -> Drawing:
    """Draw what to tape at the largest standard scale that fits ``area_mm``; ``water`` names the edge's points."""
    plan = taping.plan
    at: dict[str, Point] = {**taping.rough, plan.baseline[0]: plan.a, plan.baseline[1]: plan.b}
    xs, ys = [p[0] for p in at.values()], [p[1] for p in at.values()]
    bare = max(xs) - min(xs), max(ys) - min(ys)
    room = area_mm[0] - _SPARE_MM[0], area_mm[1] - _SPARE_MM[1]
    scale = choose(max(bare[0], 0.1), max(bare[1], 0.1), room, voice.unit.in_feet)
    board = Board(scale)
    edge = [at[n] for n in water if n in at]
    if len(edge) > 2:
        board.ring(layers.WATER_SKETCH, edge)
    for line in plan.lines:
        board.line(layers.UNCHECKED if line.check else layers.TAPE, at[line.frm], at[line.to])
    placer = Placer(scale)
    for item in board.items:
        placer.avoid(strokes(item, scale))
    for name, p in at.items():
        _mark(board, p, stake=name in plan.baseline and name not in taping.rough)
        placer.hold_square(p, 1.2)
    for name, p in at.items():
        _name(board, placer, name, p)
    for n, line in enumerate(plan.lines, 1):
        _number(board, placer, str(n), at[line.frm], at[line.to])
    lines = tuple(finding("taping.picture.line", number=n, a=x.frm, b=x.to) for n, x in enumerate(plan.lines, 1))
    a, b = plan.baseline
    alt = finding("taping.picture.alt", scale=scale.text, a=a, b=b, lines=lines)
    return board.finish("taping", voice.say("taping.sheet.title"), voice.say(alt))


def _mark(board: Board, p: Point, *, stake: bool) -> None:
    """A square for a stake that is to be set, a circle for a point of the pool."""
    if stake:
        r = board.m(1.5)
        board.ring(layers.POINT, [(p[0] + a * r, p[1] + b * r) for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))], "ink")
    else:
        board.dot(layers.POINT, p, 0.9, "paper")


def _name(board: Board, placer: Placer, name: str, p: Point) -> None:
    options, costs = [], []
    for far in (2.4, 3.2, 4.4, 6.0, 8.0):
        for k in range(16):
            c, s = math.cos(math.tau * k / 16), math.sin(math.tau * k / 16)
            where = (p[0] + board.m(far) * c, p[1] + board.m(far) * s)
            options.append([Text(layers.NOTE, where, name, 3.0, 0.0, 0.5 - 0.5 * c, 0.5 - 0.5 * s, "bold", halo=True)])
            costs.append(far * 2.5)
    found = placer.place(options, costs=costs)
    if found:
        board.add(*found)


def _number(board: Board, placer: Placer, words: str, a: Point, b: Point) -> None:
    """The line's number, on the line itself where it is alone."""
    options = []
    for t in (0.5, 0.4, 0.6, 0.3, 0.7, 0.22, 0.78, 0.35, 0.65, 0.16, 0.84):
        where = (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)
        options.append([Text(layers.NOTE, where, words, 2.2, 0.0, 0.5, 0.5, "bold", halo=True)])
    found = placer.place(options)
    if found:
        board.add(*found)
