"""Drawings of a plan's moving cover: the housing's section, torque and speed, the lead to expect, why it is crooked."""

from __future__ import annotations

from stringline.drawing.canvas import Drawing
from stringline.lead.result import Diagnosis, LeadPrediction
from stringline.mechanics.result import Mechanics
from stringline.plan import Plan
from stringline.sheets.pictures.draw_lead import lead_drawing, run_drawing
from stringline.sheets.pictures.draw_section import Rolls, section_drawing
from stringline.sheets.voice import Voice

Size = tuple[float, float]

_SECTION_SHARE = 0.40  # of a sheet's height
_RUN_SHARE = 0.23  # two panels side by side, under the figures
_CARD_SHARE = 0.30  # two panels side by side, under the boxes to fill in
_CROOKED_SHARE = 0.48


def moving_drawings(plan: Plan, free_mm: Size, voice: Voice) -> dict[str, Drawing]:
    """``section``, ``run``, ``lead`` and ``crooked``, as far as the plan has come, for a sheet's free size."""
    width, height = free_mm
    found: dict[str, Drawing] = {}
    mechanics, system = plan.mechanics, plan.system
    if isinstance(mechanics, Mechanics) and system is not None:
        rolls = Rolls.of(mechanics, system)
        found["section"] = section_drawing(rolls, voice, area_mm=(width, _SECTION_SHARE * height))
        found["run"] = run_drawing(
            mechanics.closing,
            mechanics.opening,
            voice,
            rated_torque_nm=system.motor.rated_torque_nm,
            size_mm=(width, _RUN_SHARE * height),
            across=True,
        )
    expected = lead_expected(plan, voice, (width, _CARD_SHARE * height), across=True)
    if expected is not None:
        found["lead"] = expected
    crooked = lead_explained(plan, voice, (width, _CROOKED_SHARE * height))
    if crooked is not None:
        found["crooked"] = crooked
    return found


def lead_expected(plan: Plan, voice: Voice, size_mm: Size = (170.0, 150.0), *, across: bool = False) -> Drawing | None:
    """The lead to expect with its band and whatever was read; None where the plan has no prediction."""
    lead, run = plan.lead, plan.job.run
    if not isinstance(lead, LeadPrediction):
        return None
    return lead_drawing(
        lead.limit_m,
        voice,
        prediction=lead,
        readings=() if run is None else run.leads,
        size_mm=size_mm,
        across=across,
    )


def lead_explained(plan: Plan, voice: Voice, size_mm: Size = (170.0, 150.0)) -> Drawing | None:
    """Readings against the explanation found and the lead after the first action; None without a diagnosis."""
    found, run, system = plan.diagnosis, plan.job.run, plan.system
    if not isinstance(found, Diagnosis) or run is None or system is None:
        return None
    from stringline.lead.diagnosis import SIGMA_LEAD_M

    return lead_drawing(
        system.limits.lead_m,
        voice,
        readings=run.leads,
        explained=found.explained,
        after=found.after,
        sigma_m=SIGMA_LEAD_M,
        size_mm=size_mm,
    )
