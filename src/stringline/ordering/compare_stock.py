"""What is cut on site from ordered stock: does what was ordered still make what was built?"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace

from stringline.cutting.across import lid_total
from stringline.cutting.along import SIDES, run_figure, track_rules, track_run
from stringline.cutting.basis import AS_BUILT, Given, channel, fascia_clear
from stringline.cutting.ropes import cut_point, ropes
from stringline.cutting.strips import filler, wedges_to_order
from stringline.finding import Code, finding, in_turn, nested
from stringline.nesting.grain import to_grains, to_m
from stringline.nesting.runs import lacking
from stringline.ordering.compare import change_of
from stringline.ordering.order import housing_lines
from stringline.ordering.result import SAME_M, Does, Line, Order, OrderLine
from stringline.system.takes_up import takes_up
from stringline.worked import Figure, Kind, Origin


def stock_parts(given: Given, today: Order, placed: Mapping[str, Figure] | None = None) -> tuple[Line, ...]:
    """Tracks, ropes, wedges, filler, lid and fascia; ``placed`` are figures that went out and so stand for today's.

    Stock is never taken up: it is cut by new cards as long as what was ordered makes what was built, else more is
    ordered. What was not measured after the pour is not judged.
    """
    lines = {line.key: line for line in today.lines}
    return (
        *_tracks(given, today),
        *_ropes(given, lines["rope"], placed or {}),
        *(_counts(given, lines) if given.in_channel else ()),
        *_housing(given, lines, placed or {}),
    )


def _built(given: Given) -> list[str]:
    return [s for s in SIDES if channel(given, s).basis == AS_BUILT]


def _unmeasured(key: str, item: Code, ordered: Figure, says: Code) -> Line:
    return Line(key, item, ordered, ordered, None, None, Does.NOT_MEASURED, says)


def _tracks(given: Given, today: Order) -> Iterable[Line]:
    built = _built(given)
    sticks = tuple(to_grains(s) for s in given.system.track.stick_lengths_m)
    ordered = Counter(
        {to_grains(line.figures[0].value): line.count for line in today.lines if line.key.startswith("stick-")}
    )
    left, right = (track_run(given, s) for s in SIDES)
    rack = tuple(to_grains(o.m) for o in given.job.offcuts)
    more, staggered = lacking(ordered, left, right, sticks, track_rules(given), rack)
    for side in SIDES:
        key, item = f"track-{side}", finding("ordering.item-track", side=side)
        design = _design_run(given, side)
        if side not in built:
            yield _unmeasured(key, item, design, "ordering.measure-channel")
            continue
        needed, _ = run_figure(given, side)
        change = change_of(item, needed, design)
        does, says = _track_says(float(change.value), more, staggered=staggered)
        yield Line(key, item, design, design, needed, change, does, says)


def _track_says(change_m: float, more: Iterable[int], *, staggered: bool) -> tuple[Does, Code]:
    """``more`` are the sticks lacking for both tracks, in grains."""
    lack = [
        finding("ordering.so-many-sticks", n=n, stick_m=to_m(s)) for s, n in sorted(Counter(more).items(), reverse=True)
    ]
    if lack:
        return Does.REORDER, finding("ordering.sticks-lack", sticks=lack)
    if abs(change_m) <= SAME_M:
        return Does.FITS, "ordering.fits"
    code = "ordering.track-longer" if change_m > 0 else "ordering.track-shorter"
    closer = () if staggered else ("ordering.joints-closer",)
    return Does.TRIM, in_turn(finding(code, by_m=abs(change_m)), *closer)


def _design_run(given: Given, side: str) -> Figure:
    figure, _ = run_figure(Given(replace(given.job, as_built=None), given.system, given.layout, None), side)
    return figure


def _ropes(given: Given, line: OrderLine, placed: Mapping[str, Figure]) -> Iterable[Line]:
    """A rope that is short is cut farther from the housing, and the other with it: both are cut at one point."""
    pieces, _ = ropes(given)
    built = _built(given)
    items = [finding("ordering.item-rope", side=side) for side in SIDES]
    ordered = [placed.get(f"rope_{side}", f) for side, f in zip(SIDES, line.figures, strict=True)]
    changes = [change_of(i, p.figure, f) for i, p, f in zip(items, pieces, ordered, strict=True)]
    enough = sum(p.figure.value for p in pieces) <= sum(f.value for f in ordered)
    at_m = float(cut_point(given).value)
    short_m = max((float(c.value) for s, c in zip(SIDES, changes, strict=True) if s in built), default=0.0)
    room_m = takes_up(given.system, at_m).rope_m
    for side, item, piece, asked, change in zip(SIDES, items, pieces, ordered, changes, strict=True):
        if side not in built:
            yield _unmeasured(piece.key, item, asked, "ordering.measure-channel")
            continue
        by_m = abs(float(change.value))
        says: Code
        if by_m <= SAME_M:
            does, says = Does.FITS, "ordering.fits"
        elif change.value < 0:
            does, says = Does.TRIM, finding("ordering.rope-left-over", by_m=by_m)
        elif enough:
            does, says = Does.TRIM, "ordering.rope-coil-does"
        elif short_m <= room_m:
            does, says = Does.TAKE_UP, finding("ordering.rope-farther", by_m=by_m, new_m=at_m + short_m, at_m=at_m)
        else:
            does, says = Does.REORDER, finding("ordering.rope-short", by_m=by_m)
        yield Line(piece.key, item, asked, asked, piece.figure, change, does, says)


def _counts(given: Given, lines: dict[str, OrderLine]) -> Iterable[Line]:
    measured = bool(_built(given))
    yield _count("wedge", "ordering.item-wedges", lines["wedge"].count, wedges_to_order(given), measured)
    yield _filler(given, lines, measured)


def _filler(given: Given, lines: dict[str, OrderLine], measured: bool) -> Line:
    """Filler may be joined anywhere, so what counts is how much of it there is, less its saw cuts."""
    sticks = [line for key, line in lines.items() if key.startswith("filler-")]
    have = sum(line.count for line in sticks)
    length = sum(line.count * line.figures[0].value for line in sticks)
    asked = sum(filler(given, side).figure.value for side in SIDES)
    cuts = 2 * len(SIDES)  # an end to fit and a joint on each side
    lack = asked + cuts * given.system.track.kerf_m - length
    longest = max(given.system.filler.stick_lengths_m)
    need = have + max(0, math.ceil(lack / longest - 1e-9))
    return _count("filler", "ordering.item-filler", have, need, measured)


def _count(key: str, item: Code, have: int, need: int, measured: bool) -> Line:
    ordered = _number(finding("ordering.count-ordered", item=nested(item)), have)
    if not measured:
        return _unmeasured(key, item, ordered, "ordering.measure-channel")
    needed = _number(finding("ordering.count-needed", item=nested(item)), need)
    change = change_of(item, needed, ordered)
    if need > have:
        return Line(key, item, ordered, ordered, needed, change, Does.REORDER, finding("ordering.more", n=need - have))
    says: Code = "ordering.fits" if need == have else finding("ordering.left-over", n=have - need)
    return Line(key, item, ordered, ordered, needed, change, Does.FITS, says)


def _number(label: Code, count: int) -> Figure:
    return Figure.single(label, float(count), Origin.DERIVED, kind=Kind.COUNT)


_NEW_CARDS = {
    "lid": ("ordering.lid-longer", "ordering.lid-shorter"),
    "fascia": ("ordering.fascia-longer", "ordering.fascia-shorter"),
}


def _housing(given: Given, lines: dict[str, OrderLine], placed: Mapping[str, Figure]) -> Iterable[Line]:
    now = {line.key: line for line in housing_lines(given)}
    total, lid_basis = lid_total(given)
    clear = fascia_clear(given)
    lid, fascia = lines["lid-panel"], lines["fascia"]
    for key, item, line, ordered, needed, basis in (
        ("lid", "ordering.item-lid", lid, placed.get("lid", lid.figures[1]), total, lid_basis),
        ("fascia", "ordering.item-fascia", fascia, placed.get("fascia", fascia.figures[0]), clear.figure, clear.basis),
    ):
        if basis != AS_BUILT:
            yield _unmeasured(key, item, ordered, "ordering.measure-housing")
            continue
        change = change_of(item, needed, ordered)
        more = now[line.key].count - line.count
        longer, shorter = _NEW_CARDS[key]
        says: Code
        if more > 0:
            does, says = Does.REORDER, finding("ordering.more-of", n=more, item=nested(line.item))
        elif abs(change.value) <= SAME_M:
            does, says = Does.FITS, "ordering.fits"
        else:
            code = longer if change.value > 0 else shorter
            by_m, needed_m = abs(float(change.value)), float(needed.value)
            does, says = Does.TRIM, finding(code, by_m=by_m, needed_m=needed_m)
        yield Line(key, item, ordered, ordered, needed, change, does, says)
