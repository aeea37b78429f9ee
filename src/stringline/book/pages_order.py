"""The order sheet: grouped by supplier, each figure with what it was made from, and room to sign."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from stringline.book import pages_words as words
from stringline.book.pages_made import changed_words, ready_rows
from stringline.lengths import Unit
from stringline.ordering.result import Order, OrderLine
from stringline.plan import Needs, Plan
from stringline.sheets.cautions import for_card
from stringline.sheets.voice import Voice
from stringline.survey.result import Survey


def order_sheet(plan: Plan, order: Order) -> dict[str, Any]:
    """Lines by supplier in the order they first appear, small parts last."""
    unit = plan.job.unit
    say = Voice(unit).say
    groups: dict[str, list[dict[str, Any]]] = {}
    for line in order.lines:
        groups.setdefault(say(line.supplier), []).append(_line(line, unit))
    return {
        "kind": "order",
        "title": "Order",
        "basis": say(order.basis).rstrip(". "),
        "ready": ready_rows(plan),
        "changed": changed_words(plan),
        "held": [Voice(unit).say(c.title) for c in plan.checks if c.stops and c.stage.rank <= 2],
        "retaped": _retaped(plan, order),
        "cautions": [asdict(i) for i in for_card("order", Voice(plan.job.unit))],
        "groups": [{"supplier": _heading(name), "lines": lines} for name, lines in groups.items()],
        "parts": _parts(plan),
        "notes": [say(n) for n in order.notes],
    }


def _retaped(plan: Plan, order: Order) -> dict[str, Any] | None:
    """What the order would come to once the contradicted lines are taped again; None where none is contradicted."""
    again = plan.order_if_retaped
    if again is None or not isinstance(plan.survey, Survey):
        return None
    unit = plan.job.unit
    say = Voice(unit).say
    new = {line.key: line for line in again.lines}
    rows: list[dict[str, str]] = []
    for line in order.lines:
        other = new.get(line.key)
        if other is None or other.count != line.count:
            rows.append(
                {"what": say(line.item), "now": str(line.count), "then": "0" if other is None else str(other.count)}
            )
            continue
        for a, b in zip(line.figures, other.figures, strict=False):
            now, then = (words.amount(f.value, f.kind, unit) for f in (a, b))
            row = {"what": say(a.label), "now": now, "then": then}
            if now != then and row not in rows:
                rows.append(row)
    known = {line.key for line in order.lines}
    rows += [{"what": say(x.item), "now": "0", "then": str(x.count)} for x in again.lines if x.key not in known]
    lines = " and ".join(f"{s.frm}–{s.to}" for s in plan.survey.suspects)
    return {"lines": lines, "rows": rows}


def _heading(name: str) -> str:
    return name[:1].upper() + name[1:]


def _line(line: OrderLine, unit: Unit) -> dict[str, Any]:
    say = Voice(unit).say
    return {
        "item": say(line.item),
        "count": str(line.count),
        "note": say(line.note) if line.note else "",
        "figures": _figures(line, unit),
    }


def _figures(line: OrderLine, unit: Unit) -> list[dict[str, Any]]:
    """The workings of a line's figures; those that are alike but for their names are worked once, under all of them."""
    found: dict[str, dict[str, Any]] = {}
    for figure in line.figures:
        working = words.working(figure, unit)
        name = str(working.pop("label"))
        alike = found.setdefault(repr(working), {**working, "label": ""})
        alike["label"] = f"{alike['label']}; {name}" if alike["label"] else name
    return list(found.values())


def _parts(plan: Plan) -> list[dict[str, Any]]:
    if isinstance(plan.parts, Needs):
        return []
    say = Voice(plan.job.unit).say
    return [
        {
            "item": say(line.item),
            "count": words.amount(line.count.value, line.count.kind, plan.job.unit),
            "rule": say(line.count.rule) if line.count.rule else " + ".join(say(t.label) for t in line.count.terms),
        }
        for line in plan.parts.lines
    ]
