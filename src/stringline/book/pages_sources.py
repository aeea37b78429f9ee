"""Sources and assumptions: every source that this book leans on, with how far it may be trusted as quoted."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from typing import Any

from stringline.book import pages_words as words
from stringline.judging import Limit
from stringline.plan import Plan
from stringline.sheets.voice import Voice
from stringline.sources import require
from stringline.worked import Figure, Kind, Origin, Term


def sources_sheet(plan: Plan, others: list[dict[str, Any]]) -> dict[str, Any]:
    """Sources cited in the plan or in ``others`` (sheets already made), assumptions, practice values."""
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
        "assumptions": Voice(plan.job.unit).all(plan.assumptions),
        "practice": _practice(plan),
        "system": "" if plan.system is None else plan.system.name,
    }


def cited(value: object) -> Iterator[str]:
    """Every source key in a plan, found in its figures, terms and limits wherever they are."""
    for part in _walk(value):
        if isinstance(part, Figure | Term | Limit) and part.source is not None:
            yield part.source


def _walk(value: object) -> Iterator[object]:
    if isinstance(value, Plan):
        value = (value.job, value.system, *value.sections().values())
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
                label = Voice(plan.job.unit).say(term.label)
                rows.setdefault((label, said), {"label": label, "amount": said, "key": key})
    return list(rows.values())
