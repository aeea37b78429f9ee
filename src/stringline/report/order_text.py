"""Whether to order, the order that went out, and what the pour changed, for a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stringline.lengths import Unit
from stringline.quantities import amount, length, small
from stringline.report.words import heading, table
from stringline.worked import Figure, Kind

if TYPE_CHECKING:
    from stringline.cutting.difference import Difference
    from stringline.cutting.ready import Choice, Readiness
    from stringline.plan import Plan

DASH = "–"


def ready_lines(found: Readiness) -> list[str]:
    """The advice, then how likely all parts fit under each choice, and the cost to expect where costs are known."""
    priced = any(c.cost is not None for c in found.choices)
    head = ("", "all", "width", "edge", "drum", "length", *(("cost to expect",) if priced else ()))
    out = ["May it be ordered? How likely the ordered parts fit what will be built", f"  {found.why}"]
    out += table(head, [_row(c, priced=priced) for c in found.choices])
    if not priced:
        out.append("  Write wrong_order_cost, day_cost and days_to_wait in [order] to have the choices priced.")
    return [*out, *(f"  note: {n}" for n in found.notes)]


def difference_lines(found: Difference, unit: Unit) -> list[str]:
    """The verdict, then a line each: designed, ordered, needed now, the change, and what to do; then void cards."""
    rows = [
        (x.item, _value(x.designed, unit), _value(x.ordered, unit), _value(x.needed, unit), _change(x.change, unit))
        for x in found.lines
    ]
    laid = table(("", "designed", "ordered", "needed now", "change"), rows)
    says = ["", *(f"  {x.does.value.upper()}: {x.says}" for x in found.lines)]
    out = ["What the pour changed", f"  {found.verdict}", f"  {found.basis}", *(f"  ! {n}" for n in found.notes)]
    out += [f"{row}{said}" for row, said in zip(laid, says, strict=True)]
    if found.reissued:
        out.append("  Cut cards drawn again; the earlier card of the same mark is VOID:")
        moved = [(r.mark, r.name, _value(r.old, unit), _value(r.new, unit), r.revision) for r in found.reissued]
        out += table(("mark", "piece", "void", "now", "revision"), moved)
    return out


def difference_text(plan: Plan) -> str:
    """The difference page of a job."""
    out = [heading(f"{plan.job.name} {DASH} designed, ordered, built")]
    if plan.difference is None:
        return "\n".join(
            [*out, "Nothing is ordered or built yet: write [order] when it is, [as_built] after the pour."]
        )
    return "\n".join([*out, *difference_lines(plan.difference, plan.job.unit)])


def _row(c: Choice, *, priced: bool) -> tuple[str, ...]:
    chances = (c.chance.all, c.chance.cover_width, c.chance.leading_edge, c.chance.drum, c.chance.cover_length)
    cells = (c.title, *(amount(p, Kind.PROBABILITY, Unit.M) for p in chances))
    if not priced:
        return cells
    return (*cells, DASH if c.cost is None else f"{c.cost.value:.0f}")


def _value(f: Figure | None, unit: Unit) -> str:
    if f is None:
        return DASH
    return length(f.value, unit) if f.kind is Kind.LENGTH else amount(f.value, f.kind, unit)


def _change(f: Figure | None, unit: Unit) -> str:
    if f is None:
        return DASH
    return small(f.value, unit, sign=True) if f.kind is Kind.LENGTH else amount(f.value, f.kind, unit)
