"""What is cut on site from ordered stock: does what was ordered still make what was built?"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace

from stringline.cutting import basis as taken
from stringline.cutting.across import lid_total
from stringline.cutting.along import SIDES, run_figure, track_rules, track_run
from stringline.cutting.basis import Given
from stringline.cutting.result import Order, OrderLine
from stringline.cutting.ropes import cut_point, ropes
from stringline.cutting.strips import filler
from stringline.cutting.wedges import wedges_to_order
from stringline.nesting.grain import to_grains, to_m
from stringline.nesting.runs import lacking
from stringline.ordering.compare import SAME_M, Does, Line, change_of
from stringline.ordering.order import housing_lines
from stringline.system.takes_up import takes_up
from stringline.worked import Figure, Kind, Origin, Term


def stock_parts(given: Given, today: Order, placed: Mapping[str, Figure] | None = None) -> tuple[Line, ...]:
    """Tracks, ropes, wedges, filler, lid and fascia; ``placed`` are figures that went out and so stand for today's."""
    lines = {line.key: line for line in today.lines}
    return (
        *_tracks(given, today),
        *_ropes(given, lines["rope"], placed or {}),
        *(_counts(given, lines) if given.in_channel else ()),
        *_housing(given, lines, placed or {}),
    )


def _built(given: Given) -> list[str]:
    return [s for s in SIDES if taken.channel(given, s).basis == taken.AS_BUILT]


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
        design = _design_run(given, side)
        item = f"Track, {side}"
        if side not in built:
            yield Line(f"track-{side}", item, design, design, None, None, Does.NOT_MEASURED, "Measure the channel.")
            continue
        needed, _ = run_figure(given, side)
        change = change_of(f"{item}: needed less ordered", needed, design)
        if more:
            list_ = " and ".join(f"{n} × {given.say(to_m(s))}" for s, n in sorted(Counter(more).items(), reverse=True))
            does, says = (
                Does.REORDER,
                f"The sticks ordered do not make both tracks: order {list_} more, in all for the two.",
            )
        elif abs(change.value) <= SAME_M:
            does, says = Does.FITS, "As ordered."
        else:
            which = "longer" if change.value > 0 else "shorter"
            amount = given.say_small(abs(change.value))
            does, says = Does.TRIM, f"{amount} {which}: cut the last piece by its new card. The sticks ordered do."
            if not staggered:
                says += " The joints then come closer than the catalogue's stagger."
        yield Line(f"track-{side}", item, design, design, needed, change, does, says)


def _design_run(given: Given, side: str) -> Figure:
    figure, _ = run_figure(Given(replace(given.job, as_built=None), given.system, given.layout, None), side)
    return figure


def _ropes(given: Given, line: OrderLine, placed: Mapping[str, Figure]) -> Iterable[Line]:
    """A rope that is short is cut farther from the housing, and the other with it: both are cut at one point."""
    pieces, _ = ropes(given)
    built = _built(given)
    ordered = [placed.get(f"rope_{side}", f) for side, f in zip(SIDES, line.figures, strict=True)]
    changes = [
        change_of(f"Rope, {p.side}: needed less ordered", p.figure, f) for p, f in zip(pieces, ordered, strict=True)
    ]
    coil, wanted = sum(f.value for f in ordered), sum(p.figure.value for p in pieces)
    at = cut_point(given).value
    room = takes_up(given.system, at).rope_m
    short = max((c.value for s, c in zip(SIDES, changes, strict=True) if s in built), default=0.0)
    for piece, asked, change, side in zip(pieces, ordered, changes, SIDES, strict=True):
        if side not in built:
            yield Line(piece.key, f"Rope, {side}", asked, asked, None, None, Does.NOT_MEASURED, "Measure the channel.")
            continue
        more = given.say_small(abs(change.value))
        if abs(change.value) <= SAME_M:
            does, says = Does.FITS, "As ordered."
        elif change.value < 0:
            does, says = Does.TRIM, f"Cut at the common point; {more} of rope is left over."
        elif wanted <= coil:
            does, says = (
                Does.TRIM,
                "Longer than ordered, but the other is shorter by more: one coil does for both.",
            )
        elif short <= room:
            does = Does.TAKE_UP
            says = (
                f"{more} longer than ordered. Where the coil does not hold it, mark both ropes at "
                f"{given.say(at + short)} in front of the housing, not {given.say(at)}."
            )
        else:
            does, says = Does.REORDER, f"{more} longer than ordered. Look what the coil still holds, or order one."
        yield Line(piece.key, f"Rope, {side}", asked, asked, piece.figure, change, does, says)


def _counts(given: Given, lines: dict[str, OrderLine]) -> Iterable[Line]:
    measured = bool(_built(given))
    yield _count("wedge", "Wedges", lines["wedge"].count, wedges_to_order(given), measured)
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
    return _count("filler", "Filler strip", have, have + max(0, math.ceil(lack / longest - 1e-9)), measured)


def _count(key: str, item: str, have: int, need: int, measured: bool) -> Line:
    ordered = _number(f"{item}, ordered", have)
    if not measured:
        return Line(key, item, ordered, ordered, None, None, Does.NOT_MEASURED, "Measure the channel.")
    needed = _number(f"{item}, needed", need)
    change = Figure.sum(
        f"{item}: needed less ordered",
        [Term("Needed now", float(need), Origin.DERIVED), Term("As ordered", -float(have), Origin.CHOSEN)],
        kind=Kind.COUNT,
    )
    if need > have:
        return Line(key, item, ordered, ordered, needed, change, Does.REORDER, f"Order {need - have} more.")
    says = "As ordered." if need == have else f"{have - need} left over."
    return Line(key, item, ordered, ordered, needed, change, Does.FITS, says)


def _number(label: str, count: int) -> Figure:
    return Figure.single(label, float(count), Origin.DERIVED, kind=Kind.COUNT)


def _housing(given: Given, lines: dict[str, OrderLine], placed: Mapping[str, Figure]) -> Iterable[Line]:
    total, lid_basis = lid_total(given)
    clear = taken.fascia_clear(given)
    now = {line.key: line for line in housing_lines(given)}
    for key, item, needed, basis, line in (
        ("lid", "Lid", total, lid_basis, "lid-panel"),
        ("fascia", "Fascia, centre piece", clear.figure, clear.basis, "fascia"),
    ):
        ordered = placed.get(key, lines[line].figures[1 if key == "lid" else 0])
        if basis != taken.AS_BUILT:
            yield Line(key, item, ordered, ordered, None, None, Does.NOT_MEASURED, "Measure it on the built housing.")
            continue
        change = change_of(f"{item}: needed less ordered", needed, ordered)
        more = now[line].count - lines[line].count
        if more > 0:
            does, says = Does.REORDER, f"Order {more} more of {str(lines[line].item).lower()}."
        elif abs(change.value) <= SAME_M:
            does, says = Does.FITS, "As ordered."
        else:
            what = "last panel" if key == "lid" else "centre piece"
            off = f"{given.say_small(abs(change.value))} {'longer' if change.value > 0 else 'shorter'}"
            does = Does.TRIM
            says = f"{off}: cut the {what} by its new card, {given.say(needed.value)} in all. What was ordered does."
        yield Line(key, item, ordered, ordered, needed, change, does, says)
