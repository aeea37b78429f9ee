"""The dimensioned plan, alone on its sheet, at a scale that a rule reads true."""

from __future__ import annotations

from typing import Any

from stringline.book import pages_words as words
from stringline.book.pages_paper import HEADING
from stringline.book.pages_pictures import CORNER, picture
from stringline.drawing.canvas import Drawing
from stringline.form.result import Fit
from stringline.layout.result import Layout
from stringline.lengths import Unit
from stringline.plan import Plan
from stringline.sheets.voice import Voice
from stringline.worked import Figure


def plan_sheet(plan: Plan, layout: Layout, drawing: Drawing, free_mm: tuple[float, float]) -> dict[str, Any]:
    """The plan drawing with the figures that fix it, and what the layout says in words."""
    unit = plan.job.unit
    fit = plan.fit if isinstance(plan.fit, Fit) else None
    water = (layout.water_area, layout.water_perimeter)
    shown = (layout.gauge, layout.travel, layout.channel, layout.water_width, layout.water_length, layout.setback)
    return {
        "kind": "plan",
        "title": "Plan",
        # A drawing as tall as its sheet has the heading in a column of its own.
        "column": CORNER if drawing.paper_size_mm[1] > free_mm[1] - HEADING - 9.0 else 0.0,
        "picture": picture(drawing, id_prefix="plan"),
        "figures": [_row(Voice(unit).say(f.label), f, unit) for f in (*shown, *water) if f is not None],
        "clearances": [_row(f"{Voice(unit).say(c.part)} to {c.obstacle}", c.figure, unit) for c in layout.clearances],
        "form": None if fit is None else _form(fit, unit),
        "notes": [*_edge(layout, unit), *Voice(unit).all((*layout.notes, *(fit.notes if fit is not None else ())))],
    }


def _edge(layout: Layout, unit: Unit) -> list[str]:
    """How closely the water's edge is known, square to itself."""
    if layout.water_sigma is None or not len(layout.water_sigma):
        return []
    worst, best = (words.tolerance(2 * float(s), unit) for s in (layout.water_sigma.max(), layout.water_sigma.min()))
    return [f"The water's edge is known, square to itself, to ± {worst} where worst and ± {best} where best (2σ)."]


def _form(fit: Fit, unit: Unit) -> dict[str, Any]:
    """Form of the tracks: what is known of it, and the gauge by station."""
    known = (fit.straight_left, fit.straight_right, fit.parallel, fit.square, fit.diagonals)
    return {
        "basis": fit.basis,
        "rows": [_row(Voice(unit).say(f.label), f, unit) for f in known if f is not None],
        "gauge": [
            {
                "station": words.length(g.station_m, unit),
                "gauge": words.amount(g.gauge.value, g.gauge.kind, unit),
                "spread": words.spread(g.gauge.sigma, g.gauge.kind, unit),
                "deviation": words.amount(g.deviation.value, g.deviation.kind, unit),
            }
            for g in fit.gauge
        ],
    }


def _row(what: str, figure: Figure, unit: Unit) -> dict[str, str]:
    return {
        "what": what,
        "amount": words.amount(figure.value, figure.kind, unit),
        "spread": words.spread(figure.sigma, figure.kind, unit),
    }
