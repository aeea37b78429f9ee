"""Designed, ordered, built: line by line, what still fits, what to take up, what to trim, what to order again."""

from __future__ import annotations

from dataclasses import replace

from stringline.cutting.basis import AS_BUILT, Given
from stringline.cutting.pieces import cut_list
from stringline.cutting.result import CutList, Piece
from stringline.finding import Code, finding, in_turn, nested
from stringline.form.result import Fit
from stringline.job.model import Job
from stringline.layout.result import Layout
from stringline.ordering.compare import compare
from stringline.ordering.compare_stock import stock_parts
from stringline.ordering.order import order as make_order
from stringline.ordering.placed import FIGURES, figures_of, mark_of, moved, placed_order
from stringline.ordering.result import SAME_M, Difference, Does, Line, Order, Placed, Reissued
from stringline.system.model import System


def difference(
    job: Job, system: System, layout: Layout, fit: Fit | None = None, cuts: CutList | None = None
) -> Difference:
    """Hold what was ordered against today's design and against what was built.

    The order is the one that the job says was placed, or else the one that today's survey would place.
    """
    given = Given(job, system, layout, fit)
    today = make_order(job, system, layout, fit=fit)
    placed = placed_order(job)
    designed, now_asked = figures_of(make_order(replace(job, as_built=None), system, layout)), figures_of(today)
    ordered = now_asked if placed is None else {**now_asked, **placed.figures}
    lines = (*compare(given, designed, ordered), *stock_parts(given, today, None if placed is None else placed.figures))
    before = cut_list(replace(job, as_built=None), system, layout, None)
    now = cuts or cut_list(job, system, layout, fit)
    changes = {} if placed is None else moved(today, placed)
    changed = any(abs(d) > SAME_M for d in changes.values())
    notes: list[Code] = []
    if placed is None and job.as_built is not None and not given.after_pour:
        notes.append("ordering.if-it-waited")
    if changed:
        notes.insert(0, _changed(changes))
    basis = _basis(placed, today, job, after_pour=given.after_pour)
    return Difference(_verdict(lines, changed), basis, lines, _reissued(before, now), changed, tuple(notes))


def settled(cuts: CutList, found: Difference | None) -> CutList:
    """The cut list with the first step of leading edge and drum as the difference says it.

    Both come cut to the order: whether they are cut again depends on what was ordered, not only on what was built.
    """
    if found is None:
        return cuts
    said = {line.key: line for line in found.lines if line.needed is not None}

    def settle(piece: Piece) -> Piece:
        line = said.get(piece.key)
        if piece.key not in ("leading-edge", "drum") or line is None or not piece.steps:
            return piece
        first = finding("ordering.step-as-ordered", says=nested(line.says))
        return replace(piece, steps=(first, *piece.steps[1:]))

    return replace(cuts, pieces=tuple(settle(p) for p in cuts.pieces))


def _changed(changes: dict[str, float]) -> Code:
    """What moved since the order went out, most first."""
    most_first = sorted(changes.items(), key=lambda m: -abs(m[1]))
    named = [(nested(FIGURES[k].name), d) for k, d in most_first if abs(d) > SAME_M]
    moves = [finding("ordering.moved", part=name, change_m=d) for name, d in named]
    return finding("ordering.survey-changed", most=named[0][0], moves=moves)


def _basis(placed: Placed | None, today: Order, job: Job, *, after_pour: bool) -> Code:
    built = nested("ordering.not-built" if job.as_built is None else "ordering.built")
    mark = mark_of(today)
    if placed is None:
        by = nested("ordering.by-what-was-built" if after_pour else "ordering.by-todays-survey")
        return finding("ordering.no-order", by=by, mark=mark, built=built)
    date = finding("ordering.on-date", date=placed.date) if placed.date else None
    plan = finding("ordering.from-plan", mark=placed.mark) if placed.mark else None
    return finding("ordering.order-went-out", date=date, plan=plan, mark=mark, built=built)


def _verdict(lines: tuple[Line, ...], changed: bool) -> Code:
    """The worst first: what to order again; else what to measure again; else what there is to do."""

    def items(code: str, *does: Does) -> tuple[Code, ...]:
        listed = [nested(x.item) for x in lines if x.does in does]
        return (finding(code, items=listed),) if listed else ()

    head: tuple[Code, ...] = ("ordering.survey-has-changed",) if changed else ()
    first = items("ordering.order-again", Does.REORDER) or items("ordering.measure-again", Does.MEASURE)
    if first:
        return in_turn(*head, *first)
    if all(x.does is Does.NOT_MEASURED for x in lines):
        return in_turn(*head, "ordering.nothing-measured")
    rest = items("ordering.not-measured", Does.NOT_MEASURED)
    work = (*items("ordering.to-cut", Does.TRIM), *items("ordering.to-take-up", Does.TAKE_UP))
    if not work:
        return in_turn(*head, "ordering.measured-fits" if rest else "ordering.all-fits", *rest)
    return in_turn(*head, "ordering.so-far-does" if rest else "ordering.all-does", *work, *rest)


def _reissued(before: CutList, now: CutList) -> tuple[Reissued, ...]:
    old = {p.key: p for p in before.pieces}
    return tuple(
        Reissued(p.key, p.mark, p.name, old[p.key].figure, p.figure, "B")
        for p in now.pieces
        if p.key in old and p.basis == AS_BUILT and abs(p.figure.value - old[p.key].figure.value) > SAME_M
    )
