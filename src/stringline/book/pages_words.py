"""A figure's working in words, as a person would do it on paper; single values are worded by `quantities`."""

from __future__ import annotations

from stringline.lengths import FOOT, INCH, Unit
from stringline.quantities import (
    MINUS,
    PLUS_MINUS,
    UNIT_WORDS,
    VERDICT_WORDS,
    amount,
    as_read,
    chance,
    decimal,
    length,
    limit_words,
    small,
    spread,
    tolerance,
)
from stringline.sheets.voice import Voice
from stringline.worked import Figure, Kind, Origin

__all__ = [
    "MINUS",
    "PLUS_MINUS",
    "UNIT_WORDS",
    "VERDICT_WORDS",
    "amount",
    "as_read",
    "chance",
    "decimal",
    "length",
    "limit_words",
    "origin_words",
    "sigma_words",
    "small",
    "spread",
    "tolerance",
    "working",
]


def sigma_words(sigma: float | None, kind: Kind, unit: Unit) -> str:
    """σ itself, an empty text where it is not known."""
    return spread(sigma, kind, unit, times=1.0).removeprefix(f"{PLUS_MINUS} ")


def origin_words(origin: Origin, source: str | None) -> str:
    """Who says so: the origin, and the source's key where there is one and it says more."""
    return origin.value if source is None or source == origin.value else f"{origin.value} [{source}]"


def working(figure: Figure, unit: Unit) -> dict[str, object]:
    """Signed rows, the rule if it is not a sum, and the result.

    ``rounded`` says that the printed terms do not add up to the printed result because each is rounded.
    """
    rows = []
    by_rule = figure.rule is not None
    for term in figure.terms:
        sign = "" if by_rule else ("+" if term.value >= 0 else MINUS)
        rows.append(
            {
                "sign": sign,
                "label": Voice(unit).say(term.label),
                "amount": amount(term.value if by_rule else abs(term.value), term.kind or figure.kind, unit),
                "sigma": sigma_words(term.sigma, term.kind or figure.kind, unit),
                "origin": origin_words(term.origin, term.source),
            }
        )
    return {
        "label": Voice(unit).say(figure.label),
        "rule": Voice(unit).say(figure.rule or "common.nothing"),
        "rows": rows,
        "result": amount(figure.value, figure.kind, unit),
        "sigma": sigma_words(figure.sigma, figure.kind, unit),
        "origin": origin_words(figure.origin, figure.source),
        "rounded": bool(figure.terms) and not by_rule and figure.kind is Kind.LENGTH and _rounds_apart(figure, unit),
    }


def _rounds_apart(figure: Figure, unit: Unit) -> bool:
    step = {Unit.FT_IN: INCH / 16, Unit.FT: FOOT / 200, Unit.M: 0.001, Unit.MM: 0.001}[unit]
    return sum(round(t.value / step) for t in figure.terms) != round(figure.value / step)
