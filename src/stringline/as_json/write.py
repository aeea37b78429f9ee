"""A plan as JSON-able values: stable, documented in docs/json.md, versioned by ``schema``."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from stringline.as_json.figure_json import SPEAKING, figure_json, limit_json, said
from stringline.as_json.order_json import difference_json, placed_json, ready_json
from stringline.as_json.running_json import diagnosis_json, lead_json, mechanics_json
from stringline.as_json.site_json import (
    end_json,
    fit_json,
    levelled_json,
    levels_json,
    remedy_json,
    taping_json,
    water_json,
)
from stringline.cutting.result import CutList, Order, Parts, Piece
from stringline.faults import Faults
from stringline.form.result import Fit
from stringline.judging import Check
from stringline.layout.result import Layout
from stringline.lead.result import Diagnosis, LeadPrediction
from stringline.mechanics.result import Mechanics
from stringline.plan import Needs, Plan
from stringline.sheets.voice import Voice
from stringline.survey.result import Survey

SCHEMA = 1
Value = dict[str, Any]


def dumps(value: Value) -> str:
    """Write JSON text with sorted structure left as given, readable, and no NaN (which JSON does not know)."""
    return json.dumps(value, indent=2, ensure_ascii=False, allow_nan=False)


def faults_json(faults: Faults) -> Value:
    """Every fault of a document."""
    return {
        "schema": SCHEMA,
        "document": faults.document,
        "faults": [
            {"code": f.code, "line": f.line, "where": f.where, "wrong": f.wrong, "right": f.right}
            for f in faults.faults
        ],
    }


def survey_json(survey: Survey) -> Value:
    """The survey in the form that design.md fixes, with notes and struck readings added."""
    test = survey.global_test
    return {
        "schema": SCHEMA,
        "freedom": survey.freedom,
        "sigma0": survey.sigma0,
        "global_test": {"statistic": test.statistic, "low": test.low, "high": test.high, "pass": test.pass_},
        "points": {
            p.name: {
                "x_m": p.x_m,
                "y_m": p.y_m,
                "sx_m": p.sx_m,
                "sy_m": p.sy_m,
                "fixed": p.fixed,
                "ellipse": {
                    "major_m": p.ellipse.major_m,
                    "minor_m": p.ellipse.minor_m,
                    "angle_rad": p.ellipse.angle_rad,
                },
            }
            for p in survey.points
        },
        "tapes": [
            {
                "from": t.frm,
                "to": t.to,
                "read_m": t.read_m,
                "adjusted_m": t.adjusted_m,
                "residual_m": t.residual_m,
                "sigma_m": t.sigma_m,
                "redundancy": t.redundancy,
                "w": t.w,
                "tau": t.tau,
                "smallest_slip_m": t.smallest_slip_m,
                "text": t.text,
                "line": t.line,
            }
            for t in survey.tapes
        ],
        "others": [
            {
                "what": o.kind,
                "points": list(o.points),
                "read_m": o.read_m,
                "adjusted_m": o.adjusted_m,
                "residual_m": o.residual_m,
                "sigma_m": o.sigma_m,
                "redundancy": o.redundancy,
                "w": o.w,
                "smallest_slip_m": o.smallest_slip_m,
                "line": o.line,
            }
            for o in survey.others
        ],
        "suspects": [
            {
                "from": s.frm,
                "to": s.to,
                "read_m": s.read_m,
                "expected_m": s.expected_m,
                "sigma_m": s.sigma_m,
                "slip": s.slip,
                "odds": s.odds,
                "likely_m": s.likely_m,
                "line": s.line,
                "rivals": list(s.rivals),
                "would_tell": s.would_tell,
            }
            for s in survey.suspects
        ],
        "next_tapes": [
            {"from": n.frm, "to": n.to, "expected_m": n.expected_m, "buys": n.buys} for n in survey.next_tapes
        ],
        "struck": [
            {"from": s.frm, "to": s.to, "read_m": s.length.m, "text": s.length.text, "reason": s.reason, "line": s.line}
            for s in survey.struck
        ],
        "notes": list(survey.notes),
        "levels": None if survey.levels is None else levels_json(survey.levels, "points"),
    }


def plan_json(plan: Plan) -> Value:
    """The whole plan; a section that lacks input stands as ``{"needs": [...]}``."""
    return parts_json(plan, *_PARTS)


def parts_json(plan: Plan, *names: str) -> Value:
    """Only the named parts of a plan, in the order named; nothing is worked out for the others. KeyError if unknown."""
    token = SPEAKING.set(Voice(plan.job.unit))
    try:
        return {name: _PARTS[name](plan) for name in names}
    finally:
        SPEAKING.reset(token)


_PARTS: dict[str, Callable[[Plan], Any]] = {
    "schema": lambda _: SCHEMA,
    "job": lambda plan: {
        "name": plan.job.name,
        "unit": plan.job.unit.value,
        "stage": plan.job.stage.value,
        "system": plan.job.system,
        "invented": plan.job.invented,
    },
    "held": lambda plan: [c.code for c in plan.held],
    "checks": lambda plan: [check_json(c) for c in plan.checks],
    "survey": lambda plan: _section(plan.survey),
    "layout": lambda plan: _section(plan.layout),
    "fit": lambda plan: _section(plan.fit),
    "cuts": lambda plan: _section(plan.cuts),
    "order": lambda plan: _section(plan.order),
    "parts": lambda plan: _section(plan.parts),
    "mechanics": lambda plan: _section(plan.mechanics),
    "lead": lambda plan: _section(plan.lead),
    "diagnosis": lambda plan: _section(plan.diagnosis),
    "ends": lambda plan: [end_json(o, plan.system) for o in plan.ends],
    "levels": lambda plan: None if plan.levelled is None else levelled_json(plan.levelled),
    "remedy": lambda plan: None if plan.remedy is None else remedy_json(plan.remedy),
    "taping": lambda plan: None if plan.taping is None else taping_json(plan.taping),
    "ready": lambda plan: None if plan.ready is None else ready_json(plan.ready),
    "placed": lambda plan: None if plan.placed is None else placed_json(plan.placed),
    "difference": lambda plan: None if plan.difference is None else difference_json(plan.difference),
    "assumptions": lambda plan: list(plan.assumptions),
}


def untaped_json(plan: Plan) -> Value:
    """The survey of a pool that nobody has taped: no point and no reading, and what to tape first."""
    assert plan.taping is not None
    planned = taping_json(plan.taping)
    return {
        "schema": SCHEMA,
        "freedom": 0,
        "points": {},
        "tapes": [],
        "suspects": [],
        "next_tapes": [
            {
                "from": x["from"],
                "to": x["to"],
                "expected_m": x["about_m"],
                "buys": "checks other lines" if x["check"] else "ties a point",
            }
            for x in planned["lines"]
        ],
        "struck": [],
        "notes": planned["notes"],
        "levels": None,
        "taping": planned,
        "checks": [check_json(c) for c in plan.checks],
    }


def check_json(c: Check) -> Value:
    """One check with its figure and limit."""
    return {
        "code": c.code,
        "title": c.title,
        "verdict": c.verdict.value,
        "stage": c.stage.value,
        "stops": c.stops,
        "figure": None if c.figure is None else figure_json(c.figure),
        "limit": None if c.limit is None else limit_json(c.limit),
        "consequence": c.consequence,
        "action": c.action,
    }


def cuts_json(cuts: CutList) -> Value:
    """Every piece with its figure, segments and marks."""
    return {"pieces": [_piece(p) for p in cuts.pieces], "notes": [said(n) for n in cuts.notes]}


Section = Survey | Layout | Fit | CutList | Order | Parts | Mechanics | LeadPrediction | Diagnosis | Needs


def _section(section: Section) -> Value:
    match section:
        case Needs():
            return {"needs": list(section.missing)}
        case Survey():
            return survey_json(section)
        case Layout():
            return _layout(section)
        case Fit():
            return fit_json(section)
        case CutList():
            return cuts_json(section)
        case Order():
            return _order(section)
        case Mechanics():
            return mechanics_json(section)
        case LeadPrediction():
            return lead_json(section)
        case Diagnosis():
            return diagnosis_json(section)
        case Parts():
            return {
                "lines": [{"key": p.key, "item": said(p.item), "count": figure_json(p.count)} for p in section.lines]
            }


def _layout(layout: Layout) -> Value:
    figures = ("gauge", "water_width", "water_length", "side_margin", "end_margin", "setback", "travel", "channel")
    return {
        "frame": {"origin_m": list(layout.frame.origin), "heading_rad": layout.frame.heading_rad},
        "housing_edge": None if layout.housing_edge is None else list(layout.housing_edge),
        "drive_side": layout.drive_side,
        "corners_m": layout.corners().tolist(),
        **{name: figure_json(getattr(layout, name)) for name in figures},
        **water_json(layout),
        "clearances": [
            {"obstacle": c.obstacle, "part": c.part, "figure": figure_json(c.figure)} for c in layout.clearances
        ],
        "notes": list(layout.notes),
    }


def _order(order: Order) -> Value:
    return {
        "basis": said(order.basis),
        "lines": [
            {
                "key": line.key,
                "item": said(line.item),
                "supplier": said(line.supplier),
                "count": line.count,
                "figures": [figure_json(f) for f in line.figures],
                "note": "" if line.note is None else said(line.note),
            }
            for line in order.lines
        ],
        "notes": [said(n) for n in order.notes],
    }


def _piece(p: Piece) -> Value:
    return {
        "key": p.key,
        "mark": p.mark,
        "name": said(p.name),
        "side": p.side,
        "count": p.count,
        "basis": p.basis,
        "material": said(p.material),
        "when": p.when,
        "figure": figure_json(p.figure),
        "segments": [
            {
                "start_m": s.start_m,
                "length_m": s.length_m,
                "whole": s.whole,
                "stick_m": s.stick_m,
                "label": said(s.label),
            }
            for s in p.segments
        ],
        "marks": [{"at_m": m.at_m, "kind": m.kind, "label": said(m.label)} for m in p.marks],
        "steps": [said(x) for x in p.steps],
        "cautions": [said(x) for x in p.cautions],
    }
