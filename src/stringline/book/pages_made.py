"""Sheets on what is bought and made: may it be ordered, which stick gives what, and what the pour changed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from stringline.book import pages_words as words
from stringline.finding import Code, code_of, within
from stringline.lengths import Unit
from stringline.ordering.result import Choice, Difference
from stringline.plan import Plan
from stringline.sheets.voice import Voice
from stringline.worked import Figure, Kind

DASH = "–"


def ready_rows(plan: Plan) -> dict[str, Any] | None:
    """How likely the ordered parts fit under each choice, the advice first; None where it is asked no longer.

    After the order went out, or once something is built, the difference sheet answers instead.
    """
    found = plan.advice
    if found is None or plan.placed is not None or plan.job.as_built is not None:
        return None
    say = Voice(plan.job.unit).say
    return {
        "why": say(found.why),
        "priced": any(c.cost is not None for c in found.choices),
        "choices": [_choice(c, say) for c in found.choices],
    }


def changed_words(plan: Plan) -> str:
    """What is wrong with the order that went out, loudly; "" where nothing is."""
    for check in plan.checks:
        if check.code == "order-changed" and any(f.code == "check.order-moved" for f in within(check.action)):
            return Voice(plan.job.unit).say(check.action)
    return ""


def difference_sheet(plan: Plan, found: Difference) -> dict[str, Any]:
    """Verdict, then each part as designed, ordered and built with what to do; then the cards that are void."""
    unit = plan.job.unit
    say = Voice(unit).say
    changed = changed_words(plan)
    return {
        "kind": "difference",
        "title": "What the pour changed" if plan.job.as_built is not None else "What was ordered",
        "verdict": say(found.verdict),
        "go": _go(found),
        "basis": say(found.basis),
        "changed": changed,
        "lines": [
            {
                "item": say(x.item),
                "designed": _value(x.designed, unit),
                "ordered": _value(x.ordered, unit),
                "needed": _value(x.needed, unit),
                "change": _change(x.change, unit),
                "does": say(x.does.word).capitalize(),
                "says": say(x.says),
                "sign": _SIGNS[x.does.value],
            }
            for x in found.lines
        ],
        "void": [
            {"mark": r.mark, "name": say(r.name), "old": _value(r.old, unit), "new": _value(r.new, unit)}
            for r in found.reissued
        ],
        "notes": [say(n) for n in found.notes if not (changed and code_of(n) == "ordering.survey-changed")],
    }


_SIGNS = {
    "fits": "pass",
    "take up": "pass",
    "trim": "watch",
    "measure again": "cannot tell",
    "not measured": "not measured",
    "order again": "fail",
}


def _go(found: Difference) -> str:
    asked = {x.does.value for x in found.lines}
    if "order again" in asked:
        return "stop"
    return "unknown" if asked & {"measure again", "not measured"} else "go"


def _choice(c: Choice, say: Callable[[Code], str]) -> dict[str, str]:
    def share(p: float) -> str:
        return words.amount(p, Kind.PROBABILITY, Unit.M)

    return {
        "title": say(c.title),
        "all": share(c.fit.all),
        "width": share(c.fit.cover_width),
        "edge": share(c.fit.leading_edge),
        "drum": share(c.fit.drum),
        "length": share(c.fit.cover_length),
        "cost": DASH if c.cost is None else f"{c.cost.value:.0f}",
    }


def _value(f: Figure | None, unit: Unit) -> str:
    return DASH if f is None else words.amount(f.value, f.kind, unit)


def _change(f: Figure | None, unit: Unit) -> str:
    if f is None:
        return DASH
    return words.small(f.value, unit, sign=True) if f.kind is Kind.LENGTH else words.amount(f.value, f.kind, unit)
