"""Whether to order, the order that went out, and what the pour changed, for a terminal."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from stringline.finding import Code
from stringline.lengths import Unit
from stringline.plan import Needs, Plan
from stringline.quantities import amount, figure_text, length, small
from stringline.sheets.today import check_table
from stringline.sheets.voice import Voice
from stringline.terminal.lines import heading, table
from stringline.terminal.render import blocks_lines
from stringline.worked import Figure, Kind

if TYPE_CHECKING:
    from stringline.judging import Check
    from stringline.ordering.result import Advice, Choice, Difference

DASH = "–"


def advice_lines(found: Advice, unit: Unit) -> list[str]:
    """The advice, then how likely all parts fit under each choice, and the cost to expect where costs are known."""
    say = Voice(unit).say
    priced = any(c.cost is not None for c in found.choices)
    head = ("", "all", "width", "edge", "drum", "length", *(("cost to expect",) if priced else ()))
    out = ["May it be ordered? How likely the ordered parts fit what will be built", f"  {say(found.why)}"]
    out += table(head, [_row(c, say, priced=priced) for c in found.choices])
    if not priced:
        out.append("  Write wrong_order_cost, day_cost and days_to_wait in [order] to have the choices priced.")
    return out


def difference_lines(found: Difference, unit: Unit) -> list[str]:
    """The verdict, then a line each: designed, ordered, needed now, the change, and what to do; then void cards."""
    say = Voice(unit).say
    rows = [
        (
            say(x.item),
            _value(x.designed, unit),
            _value(x.ordered, unit),
            _value(x.needed, unit),
            _change(x.change, unit),
        )
        for x in found.lines
    ]
    laid = table(("", "designed", "ordered", "needed now", "change"), rows)
    says = ["", *(f"  {say(x.does.word).upper()}: {say(x.says)}" for x in found.lines)]
    out = ["Designed, ordered, built", f"  {say(found.verdict)}", f"  {say(found.basis)}"]
    out += [f"  ! {say(n)}" for n in found.notes]
    out += [f"{row}{said}" for row, said in zip(laid, says, strict=True)]
    if found.reissued:
        out.append("  Cut cards drawn again; every earlier card of the same mark is VOID:")
        moved = [(r.mark, say(r.name), _value(r.old, unit), _value(r.new, unit), r.revision) for r in found.reissued]
        out += table(("mark", "piece", "void", "now", "revision"), moved)
    return out


def _checks(checks: Sequence[Check], unit: Unit) -> list[str]:
    table = check_table("checks", checks, Voice(unit))
    return [] if table is None else blocks_lines([table])


def order_text(
    plan: Plan, held: Sequence[Check], made: Mapping[str, Any] | None, file: str, *, asked: bool, written: bool
) -> str:
    """Whether to order, what to order from whom, and the block that keeps the order in the job.

    ``made`` is that block's content, None where there is nothing to order; ``asked`` whether it was to be written.
    """
    from stringline.terminal.plan_text import needs_lines

    unit = plan.job.unit
    out = [heading(f"{plan.job.name} {DASH} order")]
    if held:
        out.append("HOLD: do not order yet.")
        out += _checks(held, unit)
    else:
        out.append("There is nothing to order yet." if made is None else "Nothing found here holds the order.")
    for c in plan.checks:
        if c.code in ("order-ready", "order-changed") and c not in held:
            out += _checks([c], unit)
    if made is None:
        for needs in plan.needs:
            # What only waits for another section is said by that one.
            if needs.missing and needs.missing != ("plan.layout-first",):
                out += ["", *needs_lines(needs, unit)]
        return "\n".join(out)
    out += ["", *order_lines(plan)]
    if plan.advice is not None:
        out += ["", *advice_lines(plan.advice, unit)]
    if plan.difference is not None:
        out += ["", *difference_lines(plan.difference, unit)]
    return "\n".join([*out, "", *_kept(plan, made, file, asked=asked, written=written)])


def order_lines(plan: Plan) -> list[str]:
    """What to order, by supplier, each with its sizes and what the supplier has to know."""
    if isinstance(plan.order, Needs):
        return []
    unit = plan.job.unit
    say = Voice(unit).say
    out = [say(plan.order.basis)]
    for supplier in dict.fromkeys(line.supplier for line in plan.order.lines):
        name = say(supplier)
        out += ["", name[:1].upper() + name[1:]]
        for line in plan.order.lines:
            if line.supplier == supplier:
                sizes = " × ".join(figure_text(f, unit) for f in line.figures)
                out.append(f"  {line.count:>3}  {say(line.item):<44} {sizes}".rstrip())
                out += [f"       {say(line.note)}"] if line.note else []
    return [*out, *(f"  note: {say(n)}" for n in plan.order.notes)]


def _kept(plan: Plan, made: Mapping[str, Any], file: str, *, asked: bool, written: bool) -> list[str]:
    from stringline.job.edit_order import order_block

    if written:
        return [
            f"Written into {file}: order of {made['date']}, plan {made['mark']}. Every later reading is held to it."
        ]
    if asked:
        return ["Not written: the order is held. Add --anyway if it went out all the same."]
    if plan.placed is not None:
        again = f"`stringline order {file} --place --again`"
        return [f"This would be plan {made['mark']}. When it goes out in the place of the earlier order: {again}."]
    how = f"When it goes out, paste this into the job, or: `stringline order {file} --place`."
    return [how, "", *(f"  {line}" for line in order_block(made).splitlines())]


def difference_text(plan: Plan) -> str:
    """The difference page of a job."""
    out = [heading(f"{plan.job.name} {DASH} designed, ordered, built")]
    if plan.difference is None:
        return "\n".join(
            [*out, "Nothing is ordered or built yet: write [order] when it is, [as_built] after the pour."]
        )
    return "\n".join([*out, *difference_lines(plan.difference, plan.job.unit)])


def _row(c: Choice, say: Callable[[Code], str], *, priced: bool) -> tuple[str, ...]:
    chances = (c.fit.all, c.fit.cover_width, c.fit.leading_edge, c.fit.drum, c.fit.cover_length)
    cells = (say(c.title), *(amount(p, Kind.PROBABILITY, Unit.M) for p in chances))
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
