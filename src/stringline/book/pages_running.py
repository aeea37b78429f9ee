"""How the cover rolls and pulls, the lead to expect, and why a crooked one is crooked.

These sheets stand in the book once the plan holds their sections (``mechanics``, ``lead``, ``diagnosis``).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from stringline.book import pages_words as words
from stringline.book.pages_pictures import picture
from stringline.drawing.canvas import Drawing
from stringline.lengths import Unit
from stringline.plan import Needs, Plan
from stringline.sheets.cautions import for_card
from stringline.sheets.voice import Voice
from stringline.worked import Kind

if TYPE_CHECKING:
    from stringline.lead.result import CauseFound, Diagnosis, LeadPrediction
    from stringline.mechanics.result import Mechanics


def section(plan: Plan, name: str) -> Any:
    """A section that a plan may hold, or None where it holds none or only says what it needs."""
    found = getattr(plan, name, None)
    return None if isinstance(found, Needs) else found


def rolling_sheet(plan: Plan, mechanics: Mechanics, drawn: Mapping[str, Drawing]) -> dict[str, Any]:
    """Section, torque and speed, then every figure with its rule; what cannot work stands first."""
    unit, voice = plan.job.unit, Voice(plan.job.unit)
    return {
        "kind": "rolling",
        "title": "How it rolls and pulls",
        "refusals": [
            {
                "what": voice.say(refusal.part),
                "why": voice.say(refusal.why),
                "nearest": voice.say(refusal.nearest or "nothing in the catalogue at hand would do"),
            }
            for refusal in mechanics.refusals
        ],
        "figures": [
            {
                "label": voice.say(f.label),
                "amount": words.amount(f.value, f.kind, unit),
                "spread": words.spread(f.sigma, f.kind, unit),
                "rule": voice.say(f.rule or "common.nothing"),
            }
            for f in mechanics.figures
        ],
        "pictures": [picture(drawn[name], id_prefix=name) for name in ("section", "run") if name in drawn],
        "notes": voice.all(mechanics.notes),
    }


def expected(lead: LeadPrediction, unit: Unit) -> list[dict[str, str]]:
    """Rows of the run-in card with the lead and the current to expect, 95 runs in 100."""

    def span(low: float, high: float) -> str:
        first, last = words.small(low, unit, sign=True), words.small(high, unit, sign=True)
        return f"{first.split()[0]} to {last}"  # the unit once

    return [
        {
            "station": words.length(row.station_m, unit),
            "closing": span(row.closing_low_m, row.closing_high_m),
            "opening": span(row.opening_low_m, row.opening_high_m),
            "current": f"{words.decimal(row.closing_current_a, 1)} / {words.decimal(row.opening_current_a, 1)} A",
        }
        for row in lead.card
    ]


def crooked_sheet(plan: Plan, diagnosis: Diagnosis, drawing: Drawing | None = None) -> dict[str, Any]:
    """The verdict, what to do first, every cause with its odds and amount, and the reading that would tell more."""
    unit, voice = plan.job.unit, Voice(plan.job.unit)
    first, after, more = diagnosis.first, diagnosis.after, diagnosis.next_reading
    return {
        "kind": "crooked",
        "title": "Why it runs crooked",
        "cautions": [asdict(i) for i in for_card("run-in", Voice(plan.job.unit))],
        "verdict": voice.say(diagnosis.verdict),
        "sure": diagnosis.sure,
        "action": "" if first is None else voice.say(first.action),
        "why": "" if first is None else voice.say(first.why),
        "causes": [_cause(c, voice) for c in diagnosis.causes],
        "rivals": voice.all(diagnosis.rivals),
        "next": "" if more is None else voice.say(more.text),
        "after": ""
        if after is None
        else f"{words.amount(after.worst.value, after.worst.kind, unit)} "
        f"{words.spread(after.worst.sigma, after.worst.kind, unit)}".rstrip(),
        "after_rows": []
        if after is None
        else [
            {
                "station": words.length(float(s), unit),
                "closing": words.small(float(c), unit, sign=True),
                "opening": words.small(float(o), unit, sign=True),
                "spread": words.spread(float(g), Kind.LENGTH, unit),
            }
            for s, c, o, g in _thinned(after.station_m, after.closing_m, after.opening_m, after.sigma_m)
        ],
        "picture": None if drawing is None else picture(drawing, id_prefix="crooked"),
        "fits": diagnosis.fits,
        "readings": diagnosis.readings,
        "lessons": [
            {
                "action": voice.say(lesson.action),
                "verdict": voice.say(lesson.verdict),
                "readings": len(lesson.direction),
            }
            for lesson in diagnosis.lessons
        ],
        "notes": voice.all(diagnosis.notes),
    }


def _cause(cause: CauseFound, voice: Voice) -> dict[str, str]:
    unit = voice.unit
    return {
        "title": voice.say(cause.title),
        "side": {"drive": "drive side", "idle": "idle side", "both": "both sides"}[cause.side],
        "at": "" if cause.station_m is None else words.length(cause.station_m, unit),
        "probability": words.chance(cause.probability),
        "main": words.chance(cause.main),
        "amount": words.small(cause.amount.value, unit)
        if cause.amount.kind is Kind.LENGTH
        else words.amount(cause.amount.value, cause.amount.kind, unit),
        "spread": words.spread(cause.amount.sigma, cause.amount.kind, unit),
        "effect": words.small(cause.effect_m, unit),
        "action": voice.say(cause.action),
    }


def _thinned(*columns: Any, most: int = 10) -> list[tuple[Any, ...]]:
    """At most ``most`` rows of columns of one length, evenly picked, both ends kept."""
    n = len(columns[0])
    picked = range(n) if n <= most else [round(k * (n - 1) / (most - 1)) for k in range(most)]
    return [tuple(column[k] for column in columns) for k in picked]
