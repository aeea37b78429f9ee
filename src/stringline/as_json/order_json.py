"""Whether to order, the order that went out, and what the pour changed, as JSON-able values."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stringline.as_json.figure_json import figure_json, said
from stringline.worked import Figure

if TYPE_CHECKING:
    from stringline.ordering.advice import Choice, Readiness
    from stringline.ordering.difference import Difference
    from stringline.ordering.placed import Placed

Value = dict[str, Any]


def ready_json(found: Readiness) -> Value:
    """The choices with their probabilities and costs, and which to take."""
    return {
        "take": found.take,
        "why": found.why,
        "choices": [_choice(c) for c in found.choices],
        "notes": list(found.notes),
    }


def placed_json(placed: Placed) -> Value:
    """The order that went out, as the job says."""
    return {
        "date": placed.date,
        "mark": placed.mark,
        "figures": {key: figure_json(f) for key, f in placed.figures.items()},
        "notes": list(placed.notes),
    }


def difference_json(found: Difference) -> Value:
    """Line by line what was designed, ordered and is needed now, and the cut cards that are void."""
    return {
        "verdict": found.verdict,
        "basis": found.basis,
        "changed_since_order": found.changed_since_order,
        "lines": [
            {
                "key": x.key,
                "item": said(x.item),
                "designed": _figure(x.designed),
                "ordered": _figure(x.ordered),
                "needed": _figure(x.needed),
                "change": _figure(x.change),
                "does": x.does.value,
                "says": x.says,
            }
            for x in found.lines
        ],
        "reissued": [
            {
                "key": r.key,
                "mark": r.mark,
                "name": said(r.name),
                "old": figure_json(r.old),
                "new": figure_json(r.new),
                "revision": r.revision,
            }
            for r in found.reissued
        ],
        "notes": list(found.notes),
    }


def _choice(c: Choice) -> Value:
    return {
        "key": c.key,
        "title": c.title,
        "probability": c.chance.all,
        "cover_width": c.chance.cover_width,
        "cover_length": c.chance.cover_length,
        "leading_edge": c.chance.leading_edge,
        "drum": c.chance.drum,
        "figures": [figure_json(f) for f in c.figures],
        "cost": _figure(c.cost),
        "note": c.note,
    }


def _figure(f: Figure | None) -> Value | None:
    return None if f is None else figure_json(f)
