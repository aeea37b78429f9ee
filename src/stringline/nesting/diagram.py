"""Cut diagrams: each stick with what is cut from it, in order and to scale, and which ends came from the factory."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from stringline.finding import Code, finding
from stringline.nesting.grain import GRAINS_PER_M, to_m
from stringline.nesting.runs import Opened
from stringline.nesting.stock import Pattern

Called = Mapping[str, Code]
"""What a piece is called, by its key or name; one that is not named there is called by its key."""


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a stick. ``kind``: piece, kerf, offcut (goes back on the rack) or scrap; ``key`` of a piece."""

    start_m: float
    length_m: float
    kind: str
    label: Code = "common.nothing"
    key: str = ""


@dataclass(frozen=True, slots=True)
class Strip:
    """One stick, ``times`` alike. ``left_end``, ``right_end``: whether that is a factory end (plain stock: False)."""

    stick_m: float
    spans: tuple[Span, ...]
    times: int = 1
    from_rack: bool = False
    left_end: bool = False
    right_end: bool = False


def track_strip(opened: Opened, least_m: float = 0.0, called: Called | None = None) -> Strip:
    """The first last piece starts at one factory end, the second ends at the other; what is between is cut away.

    An offcut shorter than ``least_m`` is scrap: it does not go back on the rack. Whole sticks need no strip.

    >>> strip = track_strip(Opened(48_000_000, (("track-left", 16_000_000),), 31_976_000))
    >>> [(s.kind, s.start_m, round(s.length_m, 6)) for s in strip.spans]
    [('piece', 0.0, 2.0), ('kerf', 2.0, 0.003), ('offcut', 2.003, 3.997)]
    """
    stick = to_m(opened.stick)
    key, first = opened.pieces[0]
    spans = [_piece(0.0, to_m(first), key, called)]
    rest = opened.stick - first
    if len(opened.pieces) == 2:
        other, second = opened.pieces[1]
        if rest > second:
            spans.append(Span(to_m(first), to_m(rest - second), "scrap", "nesting.scrap"))
        spans.append(_piece(stick - to_m(second), to_m(second), other, called))
    elif rest > 0:
        kerf = rest - opened.left_over
        if opened.left_over > 0 and not opened.from_rack and to_m(opened.left_over) >= least_m:
            spans.append(Span(to_m(first), to_m(kerf), "kerf"))
            spans.append(Span(to_m(first + kerf), to_m(opened.left_over), "offcut", "nesting.back-on-rack"))
        else:
            spans.append(Span(to_m(first), to_m(rest), "scrap", "nesting.scrap"))
    return Strip(stick, tuple(spans), 1, opened.from_rack, True, not opened.from_rack)


def stock_strip(pattern: Pattern, kerf: int, per_m: float = GRAINS_PER_M, called: Called | None = None) -> Strip:
    """One pattern of a plain cutting plan, whose whole numbers are ``per_m`` to the metre.

    >>> strip = stock_strip(Pattern("s", 1000, 2, (("a", 300, 3),), 85), 5, 1000)
    >>> [s.kind for s in strip.spans], strip.spans[-1].length_m, strip.times
    (['piece', 'kerf', 'piece', 'kerf', 'piece', 'kerf', 'offcut'], 0.085, 2)
    """
    parts = [(name, size) for name, size, n in pattern.pieces for _ in range(n)]
    spans: list[Span] = []
    at = 0
    for k, (name, size) in enumerate(parts):
        spans.append(_piece(at / per_m, size / per_m, name, called))
        at += size
        if kerf > 0 and (k < len(parts) - 1 or pattern.left):
            spans.append(Span(at / per_m, kerf / per_m, "kerf"))
            at += kerf
    if pattern.length > at:
        kind = "offcut" if pattern.left else "scrap"
        spans.append(Span(at / per_m, (pattern.length - at) / per_m, kind, "nesting.left-over"))
    return Strip(pattern.length / per_m, tuple(spans), pattern.times)


def _piece(start_m: float, length_m: float, key: str, called: Called | None) -> Span:
    label = (called or {}).get(key) or finding("nesting.piece", name=key)
    return Span(start_m, length_m, "piece", label, key)
