"""The survey sheet's drawing: points, taped lines, what is doubtful, and what to tape next."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from stringline.drawing.board import Board
from stringline.drawing.callout import call_out
from stringline.drawing.canvas import Drawing, EllipseItem, Line, Point, Text
from stringline.drawing.lettering import width_mm
from stringline.drawing.measure import strokes
from stringline.drawing.placing import Placer
from stringline.drawing.scales import Scale, scales
from stringline.finding import Code, finding
from stringline.limits import ENOUGH_R, GUARD
from stringline.sheets.pictures import layers
from stringline.sheets.pictures.survey_legend import add_legend
from stringline.sheets.voice import Voice
from stringline.survey.result import Survey, Suspect, TapeResult

FLAG_FROM = GUARD  # a standardised residual at which a line is flagged: 2 σ, a picture's threshold and no verdict
MOST_FLAGS = 12
_ELLIPSE_MM = 5.0  # how long the largest semi-axis may be on paper
_EXAGGERATIONS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)


def survey_drawing(
    survey: Survey,
    voice: Voice,
    *,
    water: tuple[str, ...] = (),
    area_mm: tuple[float, float] = (180.0, 200.0),
) -> Drawing:
    """Draw the survey at the largest standard scale that fits ``area_mm``; ``water`` names its edge's points in order.

    Lengths are lettered where there is room; those of doubtful lines and of lines to tape next always.
    """
    at = {p.name: (p.x_m, p.y_m) for p in survey.points}
    xs, ys = [p[0] for p in at.values()], [p[1] for p in at.values()]
    bare = max(xs) - min(xs), max(ys) - min(ys)
    every = scales(voice.unit.in_feet)
    for scale in every:
        if scale.to_mm(bare[0]) + 8 > area_mm[0] or scale.to_mm(bare[1]) + 16 > area_mm[1]:
            continue
        drawing = _draw(survey, voice, water, area_mm, scale, at)
        if drawing.paper_size_mm[0] <= area_mm[0] and drawing.paper_size_mm[1] <= area_mm[1]:
            return drawing
    return _draw(survey, voice, water, area_mm, every[-1], at)


def exaggeration(survey: Survey, scale: Scale) -> int:
    """Round factor by which error ellipses are drawn larger than the drawing's scale; 1 where there are none."""
    largest = max((p.ellipse.major_m for p in survey.points), default=0.0)
    if largest <= 0.0:
        return 1
    fitting = [k for k in _EXAGGERATIONS if scale.to_mm(largest * k) <= _ELLIPSE_MM]
    return fitting[-1] if fitting else 1


def _draw(
    survey: Survey,
    voice: Voice,
    water: tuple[str, ...],
    area_mm: tuple[float, float],
    scale: Scale,
    at: dict[str, Point],
) -> Drawing:
    board = Board(scale)
    doubted = {frozenset((s.frm, s.to)): s for s in survey.suspects}
    edge = [at[n] for n in water if n in at]
    if len(edge) > 2:
        board.ring(layers.WATER_SKETCH, edge)
    _lines(board, survey, doubted, at)
    factor = exaggeration(survey, scale)
    for p in survey.points:
        e = p.ellipse
        if e.major_m > 0:
            item = EllipseItem(
                layers.ELLIPSE, at[p.name], e.major_m * factor, max(e.minor_m, 0.0) * factor, e.angle_rad
            )
            board.add(item)
    _pegs(board, survey, at)
    placer = _placer(board, at, area_mm)
    _name_points(board, placer, survey, at)
    for suspect in survey.suspects:
        _call_out(board, placer, suspect, voice, at)
    for k, nxt in enumerate(survey.next_tapes, 1):
        long = finding("survey.picture.next", number=k, expected_m=nxt.expected_m)
        words = voice.all((long, finding("survey.picture.next-short", number=k)))
        _letter(board, placer, at[nxt.frm], at[nxt.to], words, "bold")
    flagged = _flagged(survey)
    for t in flagged:
        _flag(board, placer, t, voice, at)
    for struck in survey.struck:
        if struck.frm in at and struck.to in at:
            words = voice.all(
                (finding("survey.picture.struck", read=struck.length.text), "survey.picture.struck-short")
            )
            _letter(board, placer, at[struck.frm], at[struck.to], words)
    rest = [t for t in survey.tapes if frozenset((t.frm, t.to)) not in doubted]
    lettered = 0
    for t in sorted(rest, key=lambda t: -t.read_m):
        lettered += _letter(board, placer, at[t.frm], at[t.to], [t.text], most=5.5)
    add_legend(board, survey, voice, factor, missing=len(rest) - lettered, within_mm=area_mm[0], flagged=bool(flagged))
    return board.finish("survey", voice.say("survey.sheet.title"), voice.say(_alt(survey, scale, factor)))


def _lines(board: Board, survey: Survey, doubted: dict[frozenset[str], Suspect], at: dict[str, Point]) -> None:
    for struck in survey.struck:
        if struck.frm in at and struck.to in at:
            board.line(layers.STRUCK, at[struck.frm], at[struck.to])
    for t in survey.tapes:
        if frozenset((t.frm, t.to)) in doubted:
            continue
        board.line(layers.TAPE if t.redundancy >= ENOUGH_R else layers.UNCHECKED, at[t.frm], at[t.to])
    for nxt in survey.next_tapes:
        board.line(layers.NEXT, at[nxt.frm], at[nxt.to])
    for pair in doubted.values():
        board.line(layers.SUSPECT, at[pair.frm], at[pair.to])


def _pegs(board: Board, survey: Survey, at: dict[str, Point]) -> None:
    """A triangle for a point held fixed, a circle for any other."""
    for p in survey.points:
        x, y = at[p.name]
        if p.fixed:
            r = board.m(1.7)
            corners = [(x + r * math.cos(a), y + r * math.sin(a)) for a in (math.pi / 2, 7 * math.pi / 6, -math.pi / 6)]
            board.ring(layers.POINT, corners, "paper")
        else:
            board.dot(layers.POINT, (x, y), 0.9, "paper")


def _placer(board: Board, at: dict[str, Point], area_mm: tuple[float, float]) -> Placer:
    f = board.scale.to_mm
    xs, ys = [f(p[0]) for p in at.values()], [f(p[1]) for p in at.values()]
    # Labels may stand a little outside the points, as far as the sheet lets them.
    spare_x = max(3.0, min(22.0, (area_mm[0] - (max(xs) - min(xs))) / 2 - 2.0))
    spare_y = max(3.0, min(12.0, (area_mm[1] - (max(ys) - min(ys))) / 2 - 8.0))
    placer = Placer(board.scale, (min(xs) - spare_x, min(ys) - spare_y, max(xs) + spare_x, max(ys) + spare_y))
    for item in board.items:
        placer.avoid(strokes(item, board.scale), 2.0 if item.layer in (layers.SUSPECT, layers.NEXT) else 1.0)
    return placer


def _name_points(board: Board, placer: Placer, survey: Survey, at: dict[str, Point]) -> None:
    for p in survey.points:
        placer.hold_square(at[p.name], 1.0)
    for p in survey.points:
        x, y = at[p.name]
        options, costs = [], []
        for far in (1.9, 2.6, 3.5, 4.6, 6.0, 8.0):
            for k in range(16):
                c, s = math.cos(math.tau * k / 16), math.sin(math.tau * k / 16)
                where = (x + board.m(far) * c, y + board.m(far) * s)
                words = Text(layers.NOTE, where, p.name, 2.5, 0.0, 0.5 - 0.5 * c, 0.5 - 0.5 * s, "bold", halo=True)
                options.append([words])
                costs.append(far * 2.5)
        found = placer.place(options, costs=costs)
        if found:
            board.add(*found)


def _letter(
    board: Board,
    placer: Placer,
    a: Point,
    b: Point,
    words: Sequence[str],
    weight: str = "regular",
    most: float = math.inf,
) -> bool:
    """Letter a line along itself; whether there was room."""
    long = board.scale.to_mm(math.dist(a, b))
    found = placer.place(_along(a, b, [w for w in words if width_mm(w, 1.8, weight) < long - 3.0], weight), most=most)
    if found:
        board.add(*found)
    return found is not None


def _along(a: Point, b: Point, words: Sequence[str], weight: str) -> Iterator[list[Text]]:
    if (b[0], b[1]) < (a[0], a[1]):
        a, b = b, a
    angle = math.atan2(b[1] - a[1], b[0] - a[0])
    if angle <= -math.pi / 2 + 1e-9:
        angle += math.pi
    for text in words:
        for t in (0.5, 0.42, 0.58, 0.34, 0.66, 0.27, 0.73, 0.2, 0.8):
            where = (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)
            for up in (-0.65, 1.6):
                yield [Text(layers.NOTE, where, text, 1.8, angle, 0.5, up, weight, halo=True)]


def _flagged(survey: Survey) -> list[TapeResult]:
    """Lines to flag with their residual, the worst first.

    None while a reading is contradicted: its slip bends the residuals of all the others, and a flag would accuse them.
    """
    if survey.suspects:
        return []
    found = [t for t in survey.tapes if t.w is not None and abs(t.w) >= FLAG_FROM]
    return sorted(found, key=lambda t: -abs(t.w or 0.0))[:MOST_FLAGS]


def _flag(board: Board, placer: Placer, t: TapeResult, voice: Voice, at: dict[str, Point]) -> None:
    """A bar across the line, with the residual beside it."""
    a, b = at[t.frm], at[t.to]
    long = math.dist(a, b) or 1.0
    n = (-(b[1] - a[1]) / long, (b[0] - a[0]) / long)
    words = voice.small(t.residual_m, sign=True)
    for share in (0.5, 0.4, 0.6, 0.3, 0.7):
        m = (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
        options = []
        for side in (1, -1):
            for off in (2.4, 3.4, 5.0):
                d = (n[0] * side, n[1] * side)
                where = (m[0] + d[0] * board.m(off), m[1] + d[1] * board.m(off))
                along, up = 0.5 - 0.5 * d[0], 0.5 - 0.5 * d[1]
                options.append([Text(layers.NOTE, where, words, 1.8, 0.0, along, up, "bold", halo=True)])
        r = board.m(1.6)
        bar = Line(layers.FLAG, (m[0] - n[0] * r, m[1] - n[1] * r), (m[0] + n[0] * r, m[1] + n[1] * r))
        found = placer.place(options) if placer.clear(m, 1.0) else None
        if found:
            board.add(bar, *found)
            placer.avoid([(bar.a, bar.b)])
            return


def _call_out(board: Board, placer: Placer, suspect: Suspect, voice: Voice, at: dict[str, Point]) -> None:
    """What the doubtful reading says and what the others say."""
    words = (
        finding("survey.picture.re-tape", line=finding("survey.line", a=suspect.frm, b=suspect.to)),
        finding("survey.picture.read", read_m=suspect.read_m),
        finding("survey.picture.expected", expected_m=suspect.expected_m, sigma_m=suspect.sigma_m),
    )
    call_out(board, placer, at[suspect.frm], at[suspect.to], voice.all(words))


def _alt(survey: Survey, scale: Scale, factor: int) -> Code:
    points, tapes = len(survey.points), len(survey.tapes)
    parts = [finding("survey.picture.alt-drawn", scale=scale.text, points=points, tapes=tapes)]
    parts += [
        finding("survey.picture.alt-suspect", a=s.frm, b=s.to, read_m=s.read_m, expected_m=s.expected_m)
        for s in survey.suspects
    ]
    if survey.next_tapes:
        lines = tuple(finding("survey.picture.alt-line", a=n.frm, b=n.to) for n in survey.next_tapes)
        parts.append(finding("survey.picture.alt-next", lines=lines))
    if factor > 1:
        parts.append(finding("survey.picture.alt-ellipses", factor=factor))
    return finding("survey.picture.alt", parts=tuple(parts))
