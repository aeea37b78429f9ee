"""A figure and a limit as JSON-able values."""

from __future__ import annotations

from contextvars import ContextVar
from typing import Any

from stringline.finding import Code
from stringline.judging import Limit
from stringline.lengths import Unit
from stringline.sheets.voice import Voice
from stringline.worked import Figure, Term

SPEAKING: ContextVar[Voice] = ContextVar("SPEAKING")


def said(code: Code) -> str:
    """A finding in the words of whoever the data is written for."""
    return SPEAKING.get(Voice(Unit.M)).say(code)


def figure_json(f: Figure) -> dict[str, Any]:
    """A figure with its working; values in the SI unit of its kind."""
    return {
        "label": said(f.label),
        "value": f.value,
        "kind": f.kind.value,
        "origin": f.origin.value,
        "sigma": f.sigma,
        "source": f.source,
        "rule": None if f.rule is None else said(f.rule),
        "terms": [_term(t) for t in f.terms],
    }


def limit_json(limit: Limit) -> dict[str, Any]:
    """A limit's two ends, null where open."""
    return {"low": limit.low, "high": limit.high, "source": limit.source}


def _term(t: Term) -> dict[str, Any]:
    return {"label": said(t.label), "value": t.value, "origin": t.origin.value, "source": t.source, "sigma": t.sigma}
