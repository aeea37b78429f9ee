"""Whether to order, the order that went out, and what the pour changed, for a terminal."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from stringline.finding import finding
from stringline.job.edit_order import order_block
from stringline.plan import Plan
from stringline.sheets.difference import difference_sheet
from stringline.sheets.order import order_sheet
from stringline.sheets.voice import Voice
from stringline.terminal.lines import heading
from stringline.terminal.render import sheet_text


def order_text(plan: Plan, made: Mapping[str, Any] | None, file: str, *, asked: bool, written: bool) -> str:
    """Whether to order, what to order from whom, and the block that keeps the order in the job.

    ``made`` is that block's content, None where there is nothing to order; ``asked`` whether it was to be written.
    """
    voice = Voice(plan.job.unit)
    out = [heading(plan.job.name), sheet_text(order_sheet(plan, voice, asked=True))]
    if made is None:
        return "\n".join(out)
    if plan.difference is not None:
        out += ["", sheet_text(difference_sheet(plan, voice))]
    if written:
        which = "ordering.sheet.written"
    elif asked:
        which = "ordering.sheet.not-written"
    else:
        which = "ordering.sheet.place" if plan.placed is None else "ordering.sheet.place-again"
    kept = finding(which, file=file, date=made["date"], mark=made["mark"])
    out += ["", voice.say(kept)]  # never folded: it holds a command to copy
    if which == "ordering.sheet.place":
        out += ["", *(f"  {line}" for line in order_block(made).splitlines())]
    return "\n".join(out)


def difference_text(plan: Plan) -> str:
    """The differences of a job."""
    return "\n".join([heading(plan.job.name), sheet_text(difference_sheet(plan, Voice(plan.job.unit)))])
