"""Drawings of a plan, set into sheets at their exact size so that a scale rule laid on the print reads true."""

from __future__ import annotations

from typing import Any

from stringline.book.pages_paper import HEADING, Paper
from stringline.cutting.result import CutList
from stringline.drawing.canvas import Drawing
from stringline.drawing.svg import svg
from stringline.form.result import Fit
from stringline.layout.result import Layout
from stringline.plan import Plan
from stringline.sheets.pictures.draw_plan import plan_drawing
from stringline.sheets.pictures.draw_survey import survey_drawing
from stringline.sheets.pictures.moving_drawings import moving_drawings
from stringline.sheets.voice import Voice
from stringline.survey.result import Survey

_HEADING = 20.0  # height of a sheet's heading and of the line under a full-page drawing
CORNER = 26.0  # width of the column that holds the plan's heading where the drawing takes the sheet's whole height
_TAPING_SHARES = (0.28, 0.42)  # of a sheet's height for the taping plan's drawing: with few lines, with many
_SURVEY_SHARE = 0.44  # of a sheet's height for the survey's drawing; the verdict and the tables have the rest


def drawings(plan: Plan, paper: Paper) -> dict[str, Drawing]:
    """The drawings that a plan allows, by name, each to the largest scale that its sheet holds."""
    width, height = paper.free_mm
    found: dict[str, Drawing] = {}
    survey, layout, job = plan.survey, plan.layout, plan.job
    water = () if job.pool is None else tuple(c.point for c in job.pool.water)
    if plan.taping is not None:
        from stringline.sheets.pictures.draw_taping import taping_drawing

        share = _TAPING_SHARES[len(plan.taping.plan.lines) > 12]
        area = (width, share * height)
        found["taping"] = taping_drawing(plan.taping, Voice(job.unit), water=water, area_mm=area)
    if not isinstance(survey, Survey):
        return found
    found["survey"] = survey_drawing(survey, Voice(job.unit), water=water, area_mm=(width, _SURVEY_SHARE * height))
    if isinstance(layout, Layout) and job.pool is not None and plan.system is not None:
        fit = plan.fit if isinstance(plan.fit, Fit) else None
        given = (layout, survey, job.pool, plan.system, Voice(job.unit))
        # A tall drawing has the sheet's whole height and its heading beside it; a wide one stands under it.
        tall, wide = (width - CORNER, height - 1.0), (width, height - _HEADING)
        found["plan"] = plan_drawing(*given, fit=fit, area_mm=wide, or_mm=tall)
    if plan.sticks is not None and plan.sticks.strips and isinstance(plan.cuts, CutList):
        from stringline.sheets.pictures.draw_sticks import sticks_drawing

        marks = {key.replace("last-", "track-"): mark for key, mark in _marks(plan.cuts).items()}
        found["sticks"] = sticks_drawing(plan.sticks.strips, marks, Voice(job.unit), width)
    return {**found, **moving_drawings(plan, paper.free_mm, Voice(job.unit))}


def _marks(cuts: CutList) -> dict[str, str]:
    return {p.key: p.mark for p in cuts.pieces if p.key.startswith("last-")}


def beside(plan: Drawing, paper: Paper) -> dict[str, Any]:
    """The kind of the plan's page: one as tall as its sheet has the heading in a column of its own, ``column`` wide."""
    return {"kind": "plan", "column": CORNER if plan.paper_size_mm[1] > paper.free_mm[1] - HEADING - 9.0 else 0.0}


def picture(drawing: Drawing, *, id_prefix: str) -> dict[str, Any]:
    """A drawing as page data: its SVG, its size on paper in millimetres, its scale in words, and its alt text."""
    width, height = drawing.paper_size_mm
    return {
        "svg": svg(drawing, id_prefix=id_prefix),
        "width_mm": width,
        "height_mm": height,
        "scale": drawing.scale.text,
        "title": drawing.title,
        "alt": drawing.alt,
    }
