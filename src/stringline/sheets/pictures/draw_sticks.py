"""The sticks that are cut for a job's last pieces, each to scale: what comes from which end, and what is left."""

from __future__ import annotations

from collections.abc import Mapping

from stringline.drawing.board import Board
from stringline.drawing.canvas import Drawing, Line, Text
from stringline.drawing.lettering import width_mm as text_width
from stringline.drawing.scales import scales
from stringline.finding import Finding, finding, nested
from stringline.nesting.diagram import Span, Strip
from stringline.sheets.pictures import layers
from stringline.sheets.voice import Voice

_BAR_MM = 6.0
_ROW_MM = 16.0  # from one stick to the next
_HEIGHT_MM = 2.2
_END_MM = 1.1


def sticks_drawing(strips: tuple[Strip, ...], marks: Mapping[str, str], voice: Voice, width_mm: float) -> Drawing:
    """Draw one bar a stick, all at one scale. ``marks`` turn a run's key into the mark on its last piece's card.

    Raises ValueError where no stick is cut.
    """
    if not strips:
        raise ValueError("no stick is cut")
    longest = max(s.stick_m for s in strips)
    every = scales(voice.unit.in_feet)
    scale = next((s for s in every if s.to_mm(longest) <= width_mm - 8.0), every[-1])
    board = Board(scale)
    for k, strip in enumerate(strips):
        _strip(board, strip, marks, voice, -board.m(k * _ROW_MM))
    foot = -board.m((len(strips) - 1) * _ROW_MM + 7.0)
    board.add(Text(layers.NOTE, (0.0, foot), voice.say(finding("cuts.sticks.key", scale=scale.text)), 1.8))
    alt = voice.say(finding("cuts.sticks.alt", scale=scale.text, sticks=[_said(s, marks) for s in strips]))
    return board.finish("sticks", voice.say("cuts.sticks.drawing"), alt, width_mm=width_mm)


def _strip(board: Board, strip: Strip, marks: Mapping[str, str], voice: Voice, y: float) -> None:
    m = board.m
    upper = y + m(_BAR_MM)
    times = f"{strip.times} × " if strip.times > 1 else ""
    head = times + voice.cap(finding(_where(strip), stick_m=strip.stick_m))
    board.add(Text(layers.NOTE, (0.0, upper + m(1.6)), head, 2.5, weight="bold"))
    board.ring(layers.STOCK, ((0.0, y), (strip.stick_m, y), (strip.stick_m, upper), (0.0, upper)))
    for span in strip.spans:
        _span(board, span, marks, voice, y)
    for there, at, inward in ((strip.left_end, 0.0, 1.0), (strip.right_end, strip.stick_m, -1.0)):
        if there:
            x = at + inward * m(_END_MM)
            board.ring(layers.STOCK, ((at, y), (x, y), (x, upper), (at, upper)), "ink")


def _span(board: Board, span: Span, marks: Mapping[str, str], voice: Voice, y: float) -> None:
    m = board.m
    upper, middle = y + m(_BAR_MM), y + m(_BAR_MM / 2)
    end = span.start_m + span.length_m
    if span.kind in ("scrap", "offcut"):
        # What is not cut for this job is crossed by a thin line.
        board.add(Line(layers.THIN, (span.start_m, y), (end, upper)))
    if span.kind == "piece":
        for at in (span.start_m, end):
            board.add(Line(layers.JOINT, (at, y - m(1.2)), (at, upper + m(1.0))))
    found = _words(span, marks)
    if found is None:
        return
    words = voice.say(found)
    room = board.scale.to_mm(span.length_m) - 2 * _END_MM - 1.0
    if text_width(words, _HEIGHT_MM, "bold" if span.kind == "piece" else "regular") <= room:
        centre = (span.start_m + span.length_m / 2, middle)
        weight = "bold" if span.kind == "piece" else "regular"
        board.add(Text(layers.NOTE, centre, words, _HEIGHT_MM, 0.0, 0.5, 0.5, weight, span.kind != "piece"))
    elif span.kind == "piece":
        board.add(Text(layers.NOTE, (span.start_m, y - m(1.6)), words, _HEIGHT_MM, 0.0, 0.0, 1.0, "bold"))


def _words(span: Span, marks: Mapping[str, str]) -> Finding | None:
    """What a stretch is; None for a saw cut."""
    if span.kind == "piece":
        mark = marks.get(span.key)
        what = nested(span.label) if mark is None else finding("common.as-written", text=mark)
        return finding("cuts.sticks.piece", what=what, length_m=span.length_m)
    return None if span.kind == "kerf" else finding(f"cuts.sticks.{span.kind}", length_m=span.length_m)


def _where(strip: Strip) -> str:
    return "stock.from-rack" if strip.from_rack else "stock.from-stick"


def _said(strip: Strip, marks: Mapping[str, str]) -> Finding:
    parts = [w for w in (_words(s, marks) for s in strip.spans) if w is not None]
    return finding("cuts.sticks.gives", stick=finding(_where(strip), stick_m=strip.stick_m), parts=parts)
