"""The to-scale strip on a cut card: one run with its sticks, joints, pins and ends.

Every mark carries its running length from the housing end, so that all can be set out with one pull of the tape.
Lengths are to scale, the strip's width is not.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from stringline.cutting.result import Mark, Piece, Segment
from stringline.drawing.board import Board
from stringline.drawing.canvas import Circle, Drawing, Line, Point, Polyline, Text
from stringline.drawing.lettering import width_mm as text_width
from stringline.drawing.measure import extent_mm
from stringline.drawing.scales import Scale, scales
from stringline.finding import Finding, code_of, finding, nested
from stringline.sheets.pictures import layers
from stringline.sheets.voice import Voice

_BAR_MM = 5.0
_STEM_MM = 2.0  # bar to the elbow of a stem
_JOG_MM = 4.5  # elbow to the lettering
_PITCH_MM = 3.1  # between turned texts
_HEIGHT_MM = 1.8
_LEVEL_MM = 2.2  # lettering that lies level
_TIERS = 3  # rows of level lettering
_TIER_MM = 4.2  # between those rows
_SIDE_MM = 3.0  # clear at both ends
_BESIDE_MM = 22.0
_SAME_M = 0.0005
_END_KINDS = ("cut-end", "factory-end", "wedge-end")
_KEY_KINDS = ("cut-end", "factory-end", "joint", "pin", "screw")


@dataclass(frozen=True, slots=True)
class Row:
    """A part of the run that is drawn in one row, from and to metres; broken where the run goes on."""

    start_m: float
    end_m: float
    marks: tuple[Mark, ...]
    segments: tuple[Segment, ...]
    first: bool
    last: bool


def strip_drawing(piece: Piece, voice: Voice, width_mm: float = 170.0) -> Drawing:
    """Draw a piece from its housing end to its far end at a standard scale, in as many rows as its lettering needs.

    Raises ValueError for a piece without length.
    """
    length = _length(piece)
    if not length > 0:
        raise ValueError(f"'{piece.key}' has no length to draw")
    rows = _rows(piece, length, width_mm)
    longest = max(r.end_m - r.start_m for r in rows)
    every = scales(voice.unit.in_feet)
    for scale in every:
        if scale.to_mm(longest) > width_mm - 2 * _SIDE_MM and scale is not every[-1]:
            continue
        board = Board(scale)
        top = 0.0
        for row in rows:
            top = _row(board, row, voice, top, width_mm) - board.m(4.0)
        _key(board, piece, voice, width_mm, broken=len(rows) > 1)
        # Short end pieces letter their length beside the strip: that too must fit.
        left, _bottom, right, _top = extent_mm(board.items, scale)
        if right - left <= width_mm - 1.0:
            break
    return board.finish(
        "strip-" + piece.key, f"{piece.mark} {voice.say(piece.name)}", _alt(piece, voice, scale), width_mm=width_mm
    )


def _length(piece: Piece) -> float:
    ends = [s.start_m + s.length_m for s in piece.segments] + [m.at_m for m in piece.marks]
    return max(ends) if ends else piece.figure.value


def _rows(piece: Piece, length: float, width_mm: float) -> list[Row]:
    """As few rows as hold the lettering, broken at joints where that will do and within a stick where it will not."""
    # A length that a short end piece letters beside the strip needs room too.
    most = max(4, int((width_mm - 2 * _SIDE_MM - _BESIDE_MM) / _PITCH_MM))
    marks = sorted(piece.marks, key=lambda m: m.at_m)
    joints = [s.start_m for s in piece.segments[1:]]
    breaks = [0.0]
    while sum(m.at_m > breaks[-1] for m in marks) > most:
        ahead = [m.at_m for m in marks if m.at_m > breaks[-1]]
        room, too_far = ahead[most - 1], ahead[most]
        fitting = [j for j in joints if breaks[-1] < j <= room]
        # A row less than half full is no use: break the stick midway between two marks instead.
        half = breaks[-1] + (room - breaks[-1]) / 2
        breaks.append(fitting[-1] if fitting and fitting[-1] >= half else (room + too_far) / 2)
    breaks.append(length)
    out = []
    for k, (a, b) in enumerate(pairwise(breaks)):
        first, last = k == 0, k == len(breaks) - 2
        inside = tuple(m for m in marks if (a - _SAME_M if first else a) < m.at_m + (_SAME_M if first else 0.0))
        inside = tuple(m for m in inside if m.at_m <= b + (_SAME_M if last else 0.0))
        sticks = tuple(s for s in piece.segments if s.start_m < b - _SAME_M and s.start_m + s.length_m > a + _SAME_M)
        out.append(Row(a, b, inside, sticks, first, last))
    return out


def _row(board: Board, row: Row, voice: Voice, top: float, width_mm: float) -> float:
    """Draw one row below ``top``; the model height of its lower edge."""
    m = board.m
    words = [_words(mark, voice) for mark in row.marks]
    level = _level(board, row, words, width_mm)
    if level is not None:
        return _level_row(board, row, voice, top, words, level)
    high = max((text_width(w, _HEIGHT_MM, _weight(k)) for w, k in zip(words, row.marks, strict=True)), default=0.0)
    y = top - m(high + _STEM_MM + _JOG_MM + 1.0 + _BAR_MM)
    upper = y + m(_BAR_MM)
    x0 = -row.start_m
    _bar(board, row, x0, y)
    places = _spread(
        [board.scale.to_mm(mark.at_m + x0) for mark in row.marks], _PITCH_MM, width_mm - 2 * _SIDE_MM - _BESIDE_MM / 2
    )
    for mark, word, place in zip(row.marks, words, places, strict=True):
        x = mark.at_m + x0
        _symbol(board, mark, x, y)
        elbow, foot = (x, upper + m(_STEM_MM * 0.5)), (m(place), upper + m(_STEM_MM * 0.5 + _JOG_MM))
        board.add(Polyline(layers.THIN, ((x, upper), elbow, foot)))
        at = (m(place), foot[1] + m(0.8))
        board.add(Text(layers.NOTE, at, word, _HEIGHT_MM, math.pi / 2, 0.0, 0.5, _weight(mark)))
    return _lengths_below(board, row, voice, x0, y)


@dataclass(frozen=True, slots=True)
class _Level:
    """Where level lettering stands: its start from the row's start, and its tier, 0 nearest the bar."""

    start_mm: float
    tier: int


def _level(board: Board, row: Row, words: Sequence[str], width_mm: float) -> list[_Level] | None:
    """Places for level lettering over the bar, or None where the marks stand too close for it.

    Marks are lettered from the middle outwards: those nearest an end stand highest. Lettering is centred on its mark,
    or runs towards the middle where marks stand close together.
    """
    return _level_where(board, row, words, width_mm, True) or _level_where(board, row, words, width_mm, False)


def _level_where(board: Board, row: Row, words: Sequence[str], width_mm: float, centred: bool) -> list[_Level] | None:
    most = min(width_mm - 2 * _SIDE_MM, max(board.scale.to_mm(row.end_m - row.start_m), 0.8 * width_mm))
    stems: list[tuple[float, int]] = []  # of the marks placed so far, each up to its tier
    spans: list[tuple[float, float, int]] = []
    out: dict[int, _Level] = {}
    middle = (row.start_m + row.end_m) / 2
    for k in sorted(range(len(words)), key=lambda k: abs(row.marks[k].at_m - middle)):
        mark = row.marks[k]
        x = board.scale.to_mm(mark.at_m - row.start_m)
        wide = text_width(words[k], _LEVEL_MM, _weight(mark))
        starts = [x + 1.0, x - wide - 1.0] if mark.at_m < middle else [x - wide - 1.0, x + 1.0]
        if centred:
            starts.insert(0, x - wide / 2)
        found = None
        for tier, start in ((t, s) for t in range(_TIERS) for s in starts):
            a, b = start - 1.2, start + wide + 1.2
            if start < -0.01 or start + wide > most or any(a < s[1] and s[0] < b for s in spans if s[2] == tier):
                continue
            # No stem may run through lettering on its way up or beside it, neither this one nor an earlier one.
            if any(s[0] < x < s[1] for s in spans if s[2] <= tier) or any(a < v < b for v, t in stems if t >= tier):
                continue
            found = _Level(start, tier)
            break
        if found is None:
            return None
        out[k] = found
        stems.append((x, found.tier))
        spans.append((found.start_mm - 1.0, found.start_mm + wide + 1.0, found.tier))
    return [out[k] for k in range(len(words))]


def _level_row(
    board: Board, row: Row, voice: Voice, top: float, words: Sequence[str], places: Sequence[_Level]
) -> float:
    """A row with level lettering below ``top``; the model height of its lower edge."""
    m = board.m
    tiers = max((p.tier for p in places), default=-1) + 1
    x0 = -row.start_m
    upper = top - m(tiers * _TIER_MM + _STEM_MM)
    y = upper - m(_BAR_MM)
    _bar(board, row, x0, y)
    for mark, word, place in zip(row.marks, words, places, strict=True):
        x = mark.at_m + x0
        _symbol(board, mark, x, y)
        base = upper + m(_STEM_MM + place.tier * _TIER_MM)
        beside = place.start_mm > board.scale.to_mm(x) or place.start_mm + text_width(
            word, _LEVEL_MM, _weight(mark)
        ) < board.scale.to_mm(x)
        board.add(Line(layers.THIN, (x, upper), (x, base + m(_LEVEL_MM if beside else -0.6))))
        board.add(Text(layers.NOTE, (m(place.start_mm), base), word, _LEVEL_MM, weight=_weight(mark)))
    return _lengths_below(board, row, voice, x0, y)


def _bar(board: Board, row: Row, x0: float, y: float) -> None:
    m = board.m
    upper = y + m(_BAR_MM)
    segments = row.segments or (Segment(row.start_m, row.end_m - row.start_m, False, 0.0, ""),)
    for s in segments:
        a, b = s.start_m, s.start_m + s.length_m
        left, right = max(a, row.start_m), min(b, row.end_m)
        for v in (y, upper):
            board.add(Line(layers.STOCK, (x0 + left, v), (x0 + right, v)))
        for end, own in ((left, a), (right, b)):
            whole = abs(end - own) < _SAME_M
            board.add(Line(layers.STOCK if whole else layers.BREAK, (x0 + end, y), (x0 + end, upper)))
        # Factory ends are blocks inside the bar: both ends of a whole stick, the far end of a cut one.
        if row.segments and abs(right - b) < _SAME_M:
            _block(board, x0 + b, y, -1)
        if s.whole and abs(left - a) < _SAME_M:
            _block(board, x0 + a, y, 1)
    if not row.first and any(abs(s.start_m - row.start_m) < _SAME_M for s in row.segments):
        board.add(Line(layers.JOINT, (x0 + row.start_m, y - m(1.2)), (x0 + row.start_m, upper + m(1.0))))
    if not row.segments:
        for mark in row.marks:
            if mark.kind == "factory-end":
                _block(board, x0 + mark.at_m, y, -1 if mark.at_m > row.start_m else 1)


def _block(board: Board, x: float, y: float, inward: int) -> None:
    m = board.m
    w = inward * m(1.1)
    board.ring(layers.STOCK, ((x, y), (x + w, y), (x + w, y + m(_BAR_MM)), (x, y + m(_BAR_MM))), "ink")


def _symbol(board: Board, mark: Mark, x: float, y: float) -> None:
    m = board.m
    upper, middle = y + m(_BAR_MM), y + m(_BAR_MM / 2)
    if mark.kind in ("pin", "screw"):
        board.add(Circle(layers.PIN, (x, middle), m(0.8), "paper"))
        board.add(Line(layers.THIN, (x - m(1.3), middle), (x + m(1.3), middle)))
    elif mark.kind == "joint":
        board.add(Line(layers.JOINT, (x, y - m(1.2)), (x, upper + m(1.0))))
    elif mark.kind == "cut-end":
        # A saw's teeth along the cut.
        teeth = [(x + m(0.7 if k % 2 else -0.7), y - m(1.0) + k * m((_BAR_MM + 2.0) / 6)) for k in range(7)]
        board.add(Polyline(layers.STOCK, tuple(teeth)))
    elif mark.kind == "note":
        board.add(Line(layers.AXIS, (x, y - m(1.2)), (x, upper + m(1.0))))


def _lengths_below(board: Board, row: Row, voice: Voice, x0: float, y: float) -> float:
    """The sticks' lengths; the model height of the lower edge. The whole stands large on the card."""
    cuts = [row.start_m, *(s.start_m for s in row.segments[1:]), row.end_m]
    on: list[Point] = [(c + x0, y) for c in cuts]
    words = [voice.length(b - a) for a, b in pairwise(cuts)]
    for k, s in enumerate(row.segments):
        if abs(s.length_m - (cuts[k + 1] - cuts[k])) > _SAME_M:
            words[k] = ""  # a part of a broken stick: its length stands in the key
            continue
        named = f"{voice.say(s.label)}: {words[k]}"
        if s.label and text_width(named, 2.5) + 4.0 < board.scale.to_mm(cuts[k + 1] - cuts[k]):
            words[k] = named
    reach = board.stack([(on, words)], (0.0, y), 0.0, (0.0, -1.0), first_mm=5.5)
    return y - board.m(reach - 4.0)


def _words(mark: Mark, voice: Voice) -> str:
    at, label = voice.length(mark.at_m), voice.say(mark.label)
    if mark.kind == "pin":  # a plain one needs only its place
        return f"{at} {voice.say('cards.pin-moved-short')}" if code_of(mark.label) == "cards.pin-moved" else at
    if mark.kind == "screw":
        return f"{at} {voice.say('cards.screw-short')}"
    if mark.kind in _END_KINDS and mark.at_m == 0.0:
        return label
    return f"{at} {label}"


def _weight(mark: Mark) -> str:
    return "regular" if mark.kind in ("pin", "screw") else "bold"


def _spread(wanted: Sequence[float], pitch: float, high: float) -> list[float]:
    """Places as near as can be to the wanted ones (least squares), at least ``pitch`` apart, from 0 to ``high``.

    ``wanted`` is in order. Where there is no room for all, the last ones run past ``high``.
    """
    blocks: list[list[float]] = []  # sum of the wanted places less their own offset, and how many
    for k, w in enumerate(wanted):
        blocks.append([w - k * pitch, 1.0])
        while len(blocks) > 1 and blocks[-2][0] / blocks[-2][1] > blocks[-1][0] / blocks[-1][1]:
            total, n = blocks.pop()
            blocks[-1][0] += total
            blocks[-1][1] += n
    out: list[float] = []
    for total, n in blocks:
        start = max(0.0, min(total / n, high - (len(wanted) - 1) * pitch))
        out += [start + (len(out) + j) * pitch for j in range(int(n))]
    return out


def _key(board: Board, piece: Piece, voice: Voice, width_mm: float, *, broken: bool) -> None:
    """What the signs mean, those in use, and the scale."""
    left, bottom, _right, _top = extent_mm(board.items, board.scale)
    kinds = {mark.kind for mark in piece.marks}
    y = board.m(bottom - 7.6)
    x = left
    for kind in _KEY_KINDS:
        if kind not in kinds and not (kind == "factory-end" and any(s.whole for s in piece.segments)):
            continue
        at = board.m(x + 2.0)
        if kind == "factory-end":
            _block(board, at, y, 1)
        else:
            _symbol(board, Mark(0.0, kind, ""), at, y)
        words = voice.say(f"cuts.strip.{kind}")
        board.add(Text(layers.NOTE, (board.m(x + 5.0), y + board.m(1.6)), words, _HEIGHT_MM))
        x += 5.0 + text_width(words, _HEIGHT_MM) + 3.5
    end = "housing" if piece.side in ("left", "right") else "left"
    notes = [voice.say(finding(f"cuts.strip.scale-from-{end}", scale=board.scale.text))]
    if broken:
        notes.append(voice.say(finding("cuts.strip.broken", length_m=_length(piece), made=_made(piece, voice))))
    for note in notes:
        if x + text_width(note, _HEIGHT_MM) > left + width_mm - 2 * _SIDE_MM:
            x, y = left, y - board.m(6.0 if note is notes[0] else 4.2)
        board.add(Text(layers.NOTE, (board.m(x), y + board.m(1.6)), note, _HEIGHT_MM))
        x += width_mm


def _made(piece: Piece, voice: Voice) -> Finding | None:
    """The lengths of a run's sticks, those alike together; None where it has none."""
    sticks: dict[str, int] = {}
    for s in piece.segments:
        text = voice.length(s.length_m)
        sticks[text] = sticks.get(text, 0) + 1
    made = " + ".join(text if n == 1 else f"{n} × {text}" for text, n in sticks.items())
    return finding("cuts.strip.made-of", sticks=made) if made else None


def _alt(piece: Piece, voice: Voice, scale: Scale) -> str:
    joints = tuple(m.at_m for m in piece.marks if m.kind == "joint")
    pins = sum(m.kind == "pin" for m in piece.marks)
    parts = [
        finding(
            "cuts.strip.alt",
            name=nested(piece.name),
            mark=piece.mark,
            scale=scale.text,
            length_m=_length(piece),
        )
    ]
    if joints:
        parts.append(finding("cuts.strip.alt-joints", n=len(joints), places_m=joints))
    if pins:
        parts.append(finding("cuts.strip.alt-pins", n=pins))
    return voice.say(finding("cuts.strip.alt-all", parts=parts))
