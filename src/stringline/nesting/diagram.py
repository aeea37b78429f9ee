"""Cut diagrams: each stick with what is cut from it, in order and to scale, and which ends came from the factory."""

from __future__ import annotations

from dataclasses import dataclass

from stringline.nesting.fleet import FleetPlan
from stringline.nesting.grain import GRAINS_PER_M, to_m
from stringline.nesting.runs import Opened
from stringline.nesting.stock import StockPlan


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a stick. ``kind``: piece, kerf, offcut (goes back on the rack) or scrap."""

    start_m: float
    length_m: float
    kind: str
    label: str = ""


@dataclass(frozen=True, slots=True)
class Strip:
    """One stick, ``times`` alike. ``left_end``, ``right_end``: whether that is a factory end (plain stock: False)."""

    material: str
    stick_m: float
    spans: tuple[Span, ...]
    times: int = 1
    from_rack: bool = False
    left_end: bool = False
    right_end: bool = False


def fleet_strips(plan: FleetPlan, material: str = "track", least_m: float = 0.0) -> tuple[Strip, ...]:
    """A strip for each stick or rack piece that is cut for last pieces. Whole sticks need none."""
    return tuple(track_strip(o, material, least_m) for o in plan.opened)


def track_strip(opened: Opened, material: str = "track", least_m: float = 0.0) -> Strip:
    """The first last piece starts at one factory end, the second ends at the other; what is between is cut away.

    An offcut shorter than ``least_m`` is scrap: it does not go back on the rack.
    """
    stick = to_m(opened.stick)
    key, first = opened.pieces[0]
    spans = [Span(0.0, to_m(first), "piece", key)]
    rest = opened.stick - first
    if len(opened.pieces) == 2:
        other, second = opened.pieces[1]
        if rest > second:
            spans.append(Span(to_m(first), to_m(rest - second), "scrap", "kerf and scrap"))
        spans.append(Span(stick - to_m(second), to_m(second), "piece", other))
    elif rest > 0:
        kerf = rest - opened.left_over
        if opened.left_over > 0 and not opened.from_rack and to_m(opened.left_over) >= least_m:
            spans.append(Span(to_m(first), to_m(kerf), "kerf"))
            spans.append(Span(to_m(first + kerf), to_m(opened.left_over), "offcut", "back on the rack"))
        else:
            spans.append(Span(to_m(first), to_m(rest), "scrap", "kerf and scrap"))
    return Strip(material, stick, tuple(spans), 1, opened.from_rack, True, not opened.from_rack)


def stock_strips(plan: StockPlan, material: str, kerf: int, per_m: float = GRAINS_PER_M) -> tuple[Strip, ...]:
    """A strip for each pattern of a plain cutting plan, whose whole numbers are ``per_m`` to the metre."""
    strips = []
    for p in plan.patterns:
        parts = [(name, size) for name, size, n in p.pieces for _ in range(n)]
        row: list[tuple[int, str, str]] = []
        for k, (name, size) in enumerate(parts):
            row.append((size, "piece", name))
            if k < len(parts) - 1 or p.left:
                row.append((kerf, "kerf", ""))
        rest = p.length - sum(size for size, _, _ in row)
        row.append((rest, "offcut" if p.left else "scrap", "left over"))
        at = 0
        spans: list[Span] = []
        for size, kind, label in row:
            if size > 0:
                spans.append(Span(at / per_m, size / per_m, kind, label))
            at += size
        strips.append(Strip(material, p.length / per_m, tuple(spans), p.times))
    return tuple(strips)
