"""Sheet one: what must be right today."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from stringline.book import pages_words as words
from stringline.book.pages_cautions import for_stage
from stringline.judging import Check, Stage, Verdict
from stringline.plan import Needs, Plan
from stringline.sheets.voice import Voice
from stringline.worked import Kind

# A section is needed once its stage has been reached: without it, nobody can say that the stage may go on.
_WANTED_FROM = {
    "survey": Stage.SURVEY,
    "layout": Stage.LAYOUT,
    "order": Stage.ORDER,
    "parts": Stage.ORDER,
    "fit": Stage.FIT_OUT,
    "cuts": Stage.FIT_OUT,
}

_ORDER = (Verdict.FAIL, Verdict.CANNOT_TELL, Verdict.NOT_MEASURED, Verdict.WATCH, Verdict.PASS)


def today_sheet(plan: Plan) -> dict[str, Any]:
    """Verdict first: may the stage go on, which checks hold it, and what nobody may forget."""
    stage = plan.job.stage
    held = plan.held
    missing = _missing(plan)
    due = [m for m in missing if m["due"]]
    here = [c for c in plan.checks if c.stage.rank <= stage.rank and c not in held]
    later = [c for c in plan.checks if c.stage.rank > stage.rank]
    return {
        "kind": "today",
        "title": "What must be right today",
        "stage": stage.value,
        **_verdict(stage, len(held), len(due)),
        "held": [check_row(c, plan) for c in _sorted(held)],
        "watch": [check_row(c, plan) for c in _sorted(c for c in here if c.verdict is not Verdict.PASS)],
        "passed": [check_row(c, plan) for c in here if c.verdict is Verdict.PASS],
        "later": [check_row(c, plan) for c in later],
        "missing": missing,
        "remember": for_stage(stage),
        "glossary": [{"word": w, "means": m} for w, m in words.GLOSSARY],
    }


def check_row(check: Check, plan: Plan) -> dict[str, Any]:
    """A check as a row: its verdict in words, value with ± 2σ, limit, what follows and what to do."""
    unit = plan.job.unit
    voice = Voice(unit)
    figure = check.figure
    return {
        "code": check.code,
        "title": voice.say(check.title),
        "verdict": check.verdict.value,
        "says": words.VERDICT_WORDS[check.verdict],
        "value": "no reading" if figure is None else words.amount(figure.value, figure.kind, unit),
        "spread": "" if figure is None else words.spread(figure.sigma, figure.kind, unit),
        "about": "" if figure is None else voice.say(figure.label),
        "limit": _limit(check, plan),
        "consequence": voice.say(check.consequence),
        "action": voice.say(check.action),
        "stage": check.stage.value,
        "holds": check.holds,
    }


def _limit(check: Check, plan: Plan) -> str:
    if check.limit is None:
        return ""
    if check.figure is None:
        # Without a figure there is no kind; every limit of the catalogue that can stand alone is a length.
        return words.limit_words(check.limit, Kind.LENGTH, plan.job.unit)
    return words.limit_words(check.limit, check.figure.kind, plan.job.unit)


def _verdict(stage: Stage, held: int, due: int) -> dict[str, Any]:
    name = stage.value.capitalize()
    if held:
        count = "One check holds" if held == 1 else f"{held} checks hold"
        return {
            "go": "stop",
            "verdict": f"Stop. {name} does not go on yet.",
            "why": f"{count} it. Do what is written beside each, measure again, and print this sheet again.",
        }
    if due:
        count = "one section" if due == 1 else f"{due} sections"
        return {
            "go": "unknown",
            "verdict": f"Not yet. Nobody can say whether {name.lower()} may go on.",
            "why": f"No check fails, but {count} that this stage leans on cannot be worked out yet; see below.",
        }
    return {
        "go": "go",
        "verdict": f"{name} may go on, as far as these readings tell.",
        "why": "No check in this book holds it. That says nothing of what was not measured or what local rules ask.",
    }


def _missing(plan: Plan) -> list[dict[str, Any]]:
    rows = []
    for name, stage in _WANTED_FROM.items():
        section = getattr(plan, name)
        if isinstance(section, Needs):
            rows.append(
                {
                    "section": name,
                    "needs": Voice(plan.job.unit).all(section.missing),
                    "due": plan.job.stage.rank >= stage.rank,
                    "from": stage.value,
                }
            )
    return rows


def _sorted(checks: Iterable[Check]) -> list[Check]:
    return sorted(checks, key=lambda c: (_ORDER.index(c.verdict), c.stage.rank))
