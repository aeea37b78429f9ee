"""How the cover rolls, the lead to expect and why it is crooked, as JSON-able values."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from stringline.as_json.figure_json import figure_json
from stringline.lead.result import CauseFound, Diagnosis, LeadPrediction, Lesson
from stringline.mechanics.result import Mechanics
from stringline.mechanics.run_state import RunState
from stringline.worked import Figure

Value = dict[str, Any]


def mechanics_json(m: Mechanics) -> Value:
    """Every figure by its name, both runs as curves over the stations, and what cannot work."""
    named = {f.name: getattr(m, f.name) for f in fields(m)}
    return {
        "figures": {name: figure_json(f) for name, f in named.items() if isinstance(f, Figure)},
        "closing": _run(m.closing),
        "opening": _run(m.opening),
        "refusals": [{"code": r.code, "part": r.part, "why": r.why, "nearest": r.nearest} for r in m.refusals],
        "notes": list(m.notes),
    }


def lead_json(lead: LeadPrediction) -> Value:
    """Lead to expect by station, both ways: as drawn, mean and the band that holds 95 runs in 100."""
    return {
        "station_m": lead.station_m.tolist(),
        "closing": {
            "drawn_m": lead.nominal.closing_m.tolist(),
            "mean_m": lead.closing_mean_m.tolist(),
            "low_m": lead.closing_band_m[0].tolist(),
            "high_m": lead.closing_band_m[1].tolist(),
        },
        "opening": {
            "drawn_m": lead.nominal.opening_m.tolist(),
            "mean_m": lead.opening_mean_m.tolist(),
            "low_m": lead.opening_band_m[0].tolist(),
            "high_m": lead.opening_band_m[1].tolist(),
        },
        "limit_m": lead.limit_m,
        "worst": figure_json(lead.worst),
        "p_over": figure_json(lead.p_over),
        "p_bind": figure_json(lead.p_bind),
        "shares": [{"field": s.field, "label": s.label, "share": s.share, "advice": s.advice} for s in lead.shares],
        "samples": lead.samples,
        "notes": list(lead.notes),
    }


def diagnosis_json(d: Diagnosis) -> Value:
    """Verdict, causes, what cannot be told apart, what to measure next, and what earlier actions did."""
    return {
        "verdict": d.verdict,
        "sure": d.sure,
        "fits": d.fits,
        "causes": [_cause(c) for c in d.causes],
        "rivals": list(d.rivals),
        "after": None
        if d.after is None
        else {
            "station_m": d.after.station_m.tolist(),
            "closing_m": d.after.closing_m.tolist(),
            "opening_m": d.after.opening_m.tolist(),
            "sigma_m": d.after.sigma_m.tolist(),
            "worst": figure_json(d.after.worst),
        },
        "next_reading": None
        if d.next_reading is None
        else {
            "what": d.next_reading.what,
            "station_m": d.next_reading.station_m,
            "text": d.next_reading.text,
            "bits": d.next_reading.bits,
            "doubt_bits": d.next_reading.doubt_bits,
        },
        "misfit": figure_json(d.misfit),
        "lessons": [_lesson(x) for x in d.lessons],
        "readings": d.readings,
        "notes": list(d.notes),
    }


def _run(r: RunState) -> Value:
    return {f.name: getattr(r, f.name).tolist() for f in fields(r) if f.name != "direction"}


def _cause(c: CauseFound) -> Value:
    return {
        "key": c.key,
        "side": c.side,
        "title": c.title,
        "probability": c.probability,
        "main": c.main,
        "amount": figure_json(c.amount),
        "action": c.action,
        "why": c.why,
        "effect_m": c.effect_m,
        "station_m": c.station_m,
    }


def _lesson(x: Lesson) -> Value:
    return {
        "action": x.action,
        "verdict": x.verdict,
        "station_m": x.station_m.tolist(),
        "direction": list(x.direction),
        "predicted_m": x.predicted_m.tolist(),
        "measured_m": x.measured_m.tolist(),
        "sigma_m": x.sigma_m.tolist(),
    }
