"""Checks on how the cover rolls, pulls and tracks, against the catalogue's limits."""

from __future__ import annotations

from stringline.finding import Code, finding, nested
from stringline.job.readings import Run
from stringline.judging import Check, Limit, Verdict, judge
from stringline.lead.result import Diagnosis, LeadPrediction
from stringline.mechanics.result import Mechanics
from stringline.plan.checks.codes import check
from stringline.system.model import System
from stringline.worked import Figure, Origin


def mechanics_checks(found: Mechanics, system: System) -> tuple[Check, ...]:
    """Roll, reels, rope, motor, drum and sliders."""
    reel = Limit(low=system.limits.reel_freeboard_m, source="catalogue")
    rope = Limit(low=system.rope.min_design_factor, source="design-factor")
    sag = Limit(high=system.limits.drum_sag_ratio, source="catalogue")
    clear, one, jam = Limit(low=0.0, source="spiral"), Limit(low=1.0), Limit(low=1.0, source="sticking-drawer")
    return (
        _judged("roll-clearance", found.clearance_open, clear, _nearest(found, "housing-small")),
        _judged("reel-freeboard", found.reel_freeboard, reel, _nearest(found, "reel-full")),
        _judged("rope-strength", found.design_factor, rope),
        _judged("motor-torque", found.motor_margin, one),
        _judged("drum-sag", found.drum_sag_ratio, sag),
        _judged("slider-jam", found.jam_margin, jam),
    )


def lead_checks(
    expected: LeadPrediction, run: Run | None, diagnosis: Diagnosis | None, system: System
) -> tuple[Check, ...]:
    """The lead to expect, and the lead that was measured (NOT_MEASURED before the run-in)."""
    limit = Limit(high=system.limits.lead_m, source="catalogue")
    measured = _highest(run, system.tolerances.lead_tape_m)
    advice = None if diagnosis is None or diagnosis.first is None else diagnosis.verdict
    return (
        _judged("lead-expected", expected.worst, limit, _effort(expected)),
        check("lead-measured", Verdict.NOT_MEASURED, limit=limit)
        if measured is None
        else _judged("lead-measured", measured, limit, advice),
    )


def _judged(code: str, figure: Figure, limit: Limit, detail: Code | None = None) -> Check:
    verdict = judge(figure.value, figure.sigma, limit)
    return check(code, verdict, figure=figure, limit=limit, detail=None if verdict is Verdict.PASS else detail)


def _nearest(found: Mechanics, code: str) -> Code | None:
    """Advice naming the nearest part that works; None where none is known."""
    for r in found.refusals:
        if r.code == code and r.nearest is not None:
            return finding("mechanics.order-nearest", nearest=r.nearest, part=r.part)
    return None


def _effort(expected: LeadPrediction) -> Code | None:
    """Which tolerance to work on; None where none stands out."""
    effort = expected.effort
    if effort is None:
        return None
    return finding("check.effort", tolerance=nested(effort.label), advice=nested(effort.advice))


def _highest(run: Run | None, sigma_m: float) -> Figure | None:
    """Highest lead that was measured in the present run, either way; None where none was."""
    leads = [] if run is None else [v for r in run.leads for v in (r.closing_m, r.opening_m) if v is not None]
    if not leads:
        return None
    return Figure.single("check.highest-lead", max(map(abs, leads)), Origin.MEASURED, sigma=sigma_m)
