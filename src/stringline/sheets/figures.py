"""A figure in words: its working as a person would do it on paper, who says so, a check's limit."""

from __future__ import annotations

import math
from collections.abc import Iterable

from stringline.finding import finding, nested
from stringline.judging import Limit
from stringline.lengths import FOOT, INCH, Unit
from stringline.sheets.model import Row, Working
from stringline.sheets.quantities import MINUS, PLUS_MINUS
from stringline.sheets.voice import Voice
from stringline.sources import require
from stringline.worked import Figure, Kind, Origin

_STEP_M = {Unit.FT_IN: INCH / 16, Unit.FT: FOOT / 200, Unit.M: 0.001, Unit.MM: 0.001}


def sigma_words(sigma: float | None, kind: Kind, voice: Voice) -> str:
    """σ itself, an empty text where it is not known."""
    return voice.spread(sigma, kind, times=1.0).removeprefix(f"{PLUS_MINUS} ")


def origin_words(origin: Origin, source: str | None, voice: Voice) -> str:
    """Who says so: the origin, and the source's key where there is one and it says more."""
    said = voice.say(f"common.origin.{origin.value}")
    if source is None or source == origin.value:
        return said
    return voice.say(finding("common.origin-cited", origin=said, source=source))


def standing_words(origin: Origin, source: str | None, voice: Voice) -> str:
    """Who says so, and how far that source may be trusted where it is more than the catalogue itself."""
    said = voice.say(f"common.origin.{origin.value}")
    if source is None or source == origin.value:
        return said
    standing = voice.say(f"common.standing.{require(source).standing.name.lower()}")
    return voice.say(finding("common.origin-standing", origin=said, source=source, standing=standing))


def limit_words(limit: Limit, kind: Kind, voice: Voice) -> str:
    """A limit as *at most*, *at least*, *within ±* or from one end to the other."""
    low, high = limit.low, limit.high
    ends = {name: voice.amount(v, kind) for name, v in (("low", low), ("high", high)) if v is not None}
    if high is None:
        which = "none" if low is None else "at-least"
    elif low is None or low == 0.0:
        which = "at-most"
    else:
        which = "within" if math.isclose(low, -high, rel_tol=1e-12) else "between"
    return voice.say(finding(f"common.limit.{which}", **ends))


def working(figure: Figure, voice: Voice) -> Working:
    """Signed rows, the rule if it is not a sum, and the result."""
    by_rule = figure.rule is not None
    apart = bool(figure.terms) and not by_rule and figure.kind is Kind.LENGTH and _rounds_apart(figure, voice.unit)
    rows = []
    for term in figure.terms:
        kind = term.kind or figure.kind
        rows.append(
            Row(
                sign="" if by_rule else ("+" if term.value >= 0 else MINUS),
                amount=voice.amount(term.value if by_rule else abs(term.value), kind),
                label=voice.say(term.label),
                origin=origin_words(term.origin, term.source, voice),
                sigma=sigma_words(term.sigma, kind, voice),
                standing=standing_words(term.origin, term.source, voice),
            )
        )
    return Working(
        key=figure.key,
        label=voice.label(figure),
        result=voice.amount(figure.value, figure.kind),
        rows=tuple(rows),
        rule="" if figure.rule is None else voice.say(finding("common.working.rule", rule=nested(figure.rule))),
        sigma=sigma_words(figure.sigma, figure.kind, voice),
        origin=origin_words(figure.origin, figure.source, voice),
        rounded=voice.say("common.working.rounded") if apart else "",
    )


def workings(figures: Iterable[Figure | None], voice: Voice) -> tuple[Working, ...]:
    """Those figures that are there."""
    return tuple(working(f, voice) for f in figures if f is not None)


def _rounds_apart(figure: Figure, unit: Unit) -> bool:
    step = _STEP_M[unit]
    return sum(round(t.value / step) for t in figure.terms) != round(figure.value / step)
