"""The dimensioned plan, alone on its sheet, at a scale that a rule reads true."""

from __future__ import annotations

from typing import Any

from stringline.book import pages_words as words
from stringline.book.drawing import Drawing
from stringline.book.pages_pictures import picture
from stringline.layout.result import Layout
from stringline.plan import Plan


def plan_sheet(plan: Plan, layout: Layout, drawing: Drawing) -> dict[str, Any]:
    """The plan drawing with the figures that fix it, and what the layout says in words."""
    unit = plan.job.unit
    shown = (layout.gauge, layout.travel, layout.channel, layout.water_width, layout.water_length, layout.setback)
    return {
        "kind": "plan",
        "title": "Plan",
        "picture": picture(drawing, id_prefix="plan"),
        "figures": [
            {
                "label": f.label,
                "amount": words.amount(f.value, f.kind, unit),
                "spread": words.spread(f.sigma, f.kind, unit),
            }
            for f in shown
        ],
        "clearances": [
            {
                "what": f"{c.part} to {c.obstacle}",
                "amount": words.amount(c.figure.value, c.figure.kind, unit),
                "spread": words.spread(c.figure.sigma, c.figure.kind, unit),
            }
            for c in layout.clearances
        ],
        "notes": list(layout.notes),
    }
