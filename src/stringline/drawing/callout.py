"""A boxed note with a leader to the line that it speaks of."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from stringline.drawing import layers
from stringline.drawing.board import Board
from stringline.drawing.canvas import Line, Point, Polyline, Text
from stringline.drawing.lettering import width_mm
from stringline.drawing.measure import Box, Stroke
from stringline.drawing.placing import Placer

_HEAD_MM, _BODY_MM, _PITCH_MM, _FRAME_MM = 2.2, 1.8, 3.5, 1.3
_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.22, 0.78)
_REACHES = (5.0, 8.0, 12.0, 17.0, 24.0, 34.0, 46.0)


def call_out(board: Board, placer: Placer, a: Point, b: Point, words: Sequence[str]) -> bool:
    """Set ``words`` (the first as a heading) in a box near the line from a to b; whether there was room."""
    m = board.m
    wide = max([width_mm(words[0], _HEAD_MM, "bold"), *(width_mm(w, _BODY_MM) for w in words[1:])])
    high = _HEAD_MM + _PITCH_MM * (len(words) - 1)
    boxes: list[Box] = []
    costs: list[float] = []
    where: list[tuple[Point, Point]] = []
    for share in _SHARES:
        p = (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
        for k in range(16):
            d = (math.cos(math.tau * k / 16), math.sin(math.tau * k / 16))
            for off in _REACHES:
                # The middle of the lettering is pushed out by its own half size.
                x = p[0] + d[0] * m(off + wide / 2) - m(wide / 2)
                y = p[1] + d[1] * m(off + high / 2) - m(high / 2)
                boxes.append(_frame_box(x / m(1.0), y / m(1.0), wide, high))
                costs.append(off * 0.35 + abs(share - 0.5) * 4)
                where.append(((x, y), p))
    total = placer.price_boxes(boxes) + np.array(costs)
    best = int(np.argmin(total))
    if not math.isfinite(total[best]):
        return False
    (x, y), p = where[best]
    texts = _lines(board, words, (x, y), high)
    left, low = x - m(_FRAME_MM), y - m(_FRAME_MM + 0.3)
    right, top = x + m(wide + _FRAME_MM), y + m(high + _FRAME_MM)
    nearest = (min(max(p[0], left), right), min(max(p[1], low), top))
    frame = ((left, low), (right, low), (right, top), (left, top))
    board.add(Line(layers.FLAG_LEADER, p, nearest))
    board.dot(layers.FLAG_LEADER, p, 0.8)
    board.add(Polyline(layers.FLAG, frame, True, "paper"), *texts)
    placer.hold(boxes[best])
    sides: list[Stroke] = list(zip(frame, frame[1:] + frame[:1], strict=True))
    placer.avoid([*sides, (p, nearest)], 6.0)
    return True


def _frame_box(x: float, y: float, wide: float, high: float) -> Box:
    """The frame round the lettering, and a little more, in millimetres."""
    f = _FRAME_MM + 0.6
    left, low, right, top = x - f, y - f - 0.3, x + wide + f, y + high + f
    return Box(((left, low), (right, low), (right, top), (left, top)))


def _lines(board: Board, words: Sequence[str], corner: Point, high: float) -> list[Text]:
    """Lines of lettering down from a heading, ``corner`` at the base line's start of the last."""
    out = []
    for k, w in enumerate(words):
        at = (corner[0], corner[1] + board.m(high - _HEAD_MM - _PITCH_MM * k))
        head = k == 0
        out.append(Text(layers.NOTE, at, w, _HEAD_MM if head else _BODY_MM, weight="bold" if head else "regular"))
    return out
