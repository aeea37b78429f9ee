"""Designed, ordered, built: line by line, what still fits, what to take up, what to trim, what to order again."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stringline.cutting.basis import Given
from stringline.cutting.pieces import cut_list
from stringline.cutting.result import CutList, Order
from stringline.finding import Code
from stringline.form.result import Fit
from stringline.job.model import Job
from stringline.layout.result import Layout
from stringline.ordering.compare import SAME_M, Does, Line, compare
from stringline.ordering.compare_stock import stock_parts
from stringline.ordering.order import order as make_order
from stringline.ordering.placed import Placed, figures_of, mark_of, placed_order
from stringline.system.model import System
from stringline.worked import Figure


@dataclass(frozen=True, slots=True)
class Reissued:
    """A cut card whose figure changed: the old one is void."""

    key: str
    mark: str
    name: Code
    old: Figure
    new: Figure
    revision: str


@dataclass(frozen=True, slots=True)
class Difference:
    """The difference page: verdict first."""

    verdict: str
    basis: str  # what is compared with what
    lines: tuple[Line, ...]
    reissued: tuple[Reissued, ...]
    changed_since_order: bool
    notes: tuple[str, ...] = ()

    def line(self, key: str) -> Line:
        """The line with that key; KeyError where there is none."""
        for found in self.lines:
            if found.key == key:
                return found
        raise KeyError(key)


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
    ordered = {**now_asked, **placed.figures} if placed is not None else now_asked
    placed_figures = None if placed is None else placed.figures
    lines = (*compare(given, designed, ordered), *stock_parts(given, today, placed_figures))
    before = cut_list(replace(job, as_built=None), system, layout, None)
    now = cuts or cut_list(job, system, layout, fit)
    changed = placed is not None and _changed(now_asked, placed)
    notes: list[str] = []
    if placed is None and job.as_built is not None and not given.after_pour:
        notes.append("If the order waited for the pour, write after_pour = true in [order]: it is then made from this.")
    if changed and placed is not None:
        notes.insert(0, _loudly(given, now_asked, placed))
    basis = _basis(placed, today, job, after_pour=given.after_pour)
    return Difference(_verdict(lines, changed), basis, lines, _reissued(before, now), changed, tuple(notes))


def _changed(designed: dict[str, Figure], placed: Placed) -> bool:
    return any(abs(designed[k].value - f.value) > SAME_M for k, f in placed.figures.items() if k in designed)


def _loudly(given: Given, designed: dict[str, Figure], placed: Placed) -> str:
    moved = {k: designed[k].value - f.value for k, f in placed.figures.items() if k in designed}
    worst = max(moved, key=lambda k: abs(moved[k]))
    words = ", ".join(
        f"{k.replace('_', ' ')} {'+' if d > 0 else '−'}{given.say_small(abs(d))}"
        for k, d in sorted(moved.items(), key=lambda m: -abs(m[1]))
        if abs(d) > SAME_M
    )
    return f"THE SURVEY HAS CHANGED SINCE THE ORDER, most in {worst.replace('_', ' ')}. Now against then: {words}."


def _basis(placed: Placed | None, today: Order, job: Job, *, after_pour: bool) -> str:
    built = "as built" if job.as_built is not None else "not built yet"
    if placed is None:
        made = "what was built" if after_pour else "today's survey"
        return f"The job holds no order: compared with what {made} would order (plan {mark_of(today)}); {built}."
    made = f" from plan {placed.mark}" if placed.mark else ""
    when = f" on {placed.date}" if placed.date else ""
    return f"The order that went out{when}{made}; today's plan is {mark_of(today)}; {built}."


def _verdict(lines: tuple[Line, ...], changed: bool) -> str:
    head = "The survey has changed since the order. " if changed else ""
    again = [str(x.item) for x in lines if x.does is Does.REORDER]
    if again:
        return f"{head}Order again: {'; '.join(again)}."
    unsure = [str(x.item) for x in lines if x.does is Does.MEASURE]
    if unsure:
        return f"{head}Measure again before cutting: {'; '.join(unsure)}."
    if all(x.does is Does.NOT_MEASURED for x in lines):
        return f"{head}Nothing is measured after the pour yet."
    work = [str(x.item) for x in lines if x.does in (Does.TRIM, Does.TAKE_UP)]
    missing = [str(x.item) for x in lines if x.does is Does.NOT_MEASURED]
    rest = f" Not measured yet: {'; '.join(missing)}." if missing else ""
    if not work:
        return f"{head}{'What is measured fits' if missing else 'All fits'}.{rest}"
    seen = [f"{word}: {'; '.join(str(x.item) for x in lines if x.does is does)}." for does, word in _SEE_TO]
    so_far = "So far all" if missing else "All"
    return f"{head}{so_far} that was ordered will do. {' '.join(s for s in seen if not s.endswith(': .'))}{rest}"


_SEE_TO = ((Does.TRIM, "To cut by new cards"), (Does.TAKE_UP, "To take up"))


def _reissued(before: CutList, now: CutList) -> tuple[Reissued, ...]:
    old = {p.key: p for p in before.pieces}
    return tuple(
        Reissued(p.key, p.mark, p.name, old[p.key].figure, p.figure, "B")
        for p in now.pieces
        if p.key in old and p.basis == "as-built" and abs(p.figure.value - old[p.key].figure.value) > SAME_M
    )
