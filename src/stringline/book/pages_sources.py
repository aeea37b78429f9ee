"""Sources and assumptions: every source that this book leans on, with how far it may be trusted as quoted."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from typing import Any

from stringline.book import pages_words as words
from stringline.judging import Limit
from stringline.plan import Plan
from stringline.sources import require
from stringline.worked import Figure, Kind, Origin, Term

GLOSSARY: tuple[tuple[str, str], ...] = (
    ("Adjusted", "The distance that fits all readings together best; a reading itself is never changed."),
    ("Residual", "Adjusted less read: how far the other readings pull this one."),
    ("r", "How well other readings check this one: 0 not at all, 1 wholly. Under 0.2 a slip can hide."),
    ("w", "The residual in units of its own uncertainty. Beyond ±3.3 a reading is hardly an honest one."),
    ("σ", "Standard uncertainty: about two readings in three fall within ±σ, nineteen in twenty within ±2σ."),
    ("Cannot tell", "The limit lies within ±2σ of the value. Measure better before you decide."),
    ("Gauge", "Distance between the two tracks' centrelines, square across."),
    ("Station", "Distance along a track from the housing's face."),
    ("Diagonals", "Corner to corner across the tracks, both ways; equal when the tracks are square to the housing."),
    ("Lead", "How far one end of the leading edge is ahead; + where the drive side is ahead."),
    ("Left, right", "As seen standing at the housing, looking over the water."),
    ("Factory end", "The end of a stick as it was delivered: square and clean, so it goes where two sticks meet."),
)


def sources_sheet(plan: Plan, others: list[dict[str, Any]]) -> dict[str, Any]:
    """Sources cited in the plan or in ``others`` (sheets already made), assumptions, practice values, glossary."""
    keys = sorted({*cited(plan), *_cited_in_sheets(others)})
    entries = [require(k) for k in keys]
    return {
        "kind": "sources",
        "title": "Sources and assumptions",
        "sources": [
            {
                "key": e.key,
                "title": e.title,
                "where": e.where,
                "standing": e.standing.value,
                "note": e.note,
            }
            for e in entries
        ],
        "assumptions": list(plan.assumptions),
        "practice": _practice(plan),
        "system": "" if plan.system is None else plan.system.name,
        "glossary": [{"word": w, "means": m} for w, m in GLOSSARY],
    }


def cited(value: object) -> Iterator[str]:
    """Every source key in a plan, found in its figures, terms and limits wherever they are."""
    for part in _walk(value):
        if isinstance(part, Figure | Term | Limit) and part.source is not None:
            yield part.source


def _walk(value: object) -> Iterator[object]:
    if isinstance(value, tuple | list):
        for item in value:
            yield from _walk(item)
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        yield value
        for f in dataclasses.fields(value):
            yield from _walk(getattr(value, f.name))


def _cited_in_sheets(sheets: list[dict[str, Any]]) -> Iterator[str]:
    for sheet in sheets:
        for row in (*sheet.get("remember", ()), *sheet.get("cautions", ())):
            if isinstance(row, dict) and row.get("source"):
                yield row["source"]


def _practice(plan: Plan) -> list[dict[str, str]]:
    rows: dict[tuple[str, str], dict[str, str]] = {}
    for part in _walk(plan):
        if not isinstance(part, Figure):
            continue
        for term in part.terms:
            if term.origin is Origin.PRACTICE and part.kind is not Kind.COUNT:
                said = words.amount(abs(term.value), term.kind or part.kind, plan.job.unit)
                key = term.source or ""
                rows.setdefault((term.label, said), {"label": term.label, "amount": said, "key": key})
    return list(rows.values())
