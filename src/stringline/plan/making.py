"""From a job to its plan, room by room from the ground up."""

from __future__ import annotations

from dataclasses import replace

from stringline.cutting.result import CutList, Order, Parts
from stringline.faults import Faults
from stringline.finding import Code, Refused, finding
from stringline.form.result import Fit
from stringline.job.model import Job
from stringline.judging import Stage
from stringline.layout.result import Layout
from stringline.lead.result import Diagnosis, LeadPrediction
from stringline.mechanics.result import Mechanics
from stringline.plan.checking import checks_of
from stringline.plan.model import Needs, Plan
from stringline.survey.adjust.tape import READING_SIGMA_M
from stringline.survey.result import Survey
from stringline.system.model import System


def plan(job: Job, system: System | None, others: tuple[System, ...] = ()) -> Plan:
    """Compute everything that the job's input allows.

    ``system`` is None where the job names no catalogue. Raises :class:`stringline.faults.Faults` only for readings that
    cannot be adjusted (loose points, mirror images), for nothing stands without them. A pool that nobody has taped yet
    but that somebody has sketched gets a plan of what to tape. ``others`` are catalogues whose reels and housings could
    be had instead where the system's own are too small.
    """
    from stringline.sections.ordering import difference_of, placed_of, readiness_of, settled
    from stringline.sections.remedies import remedy_of
    from stringline.sections.untaped import is_untaped
    from stringline.survey.levels.falls import levelled
    from stringline.survey.run import survey as adjust_survey

    if is_untaped(job):
        return _untaped(job, system)
    survey = adjust_survey(job.survey, job.unit)
    layout = _layout(job, system, survey)
    laid = layout if isinstance(layout, Layout) else None
    fit = _fit(job, system, survey, layout)
    fitted = fit if isinstance(fit, Fit) else None
    cuts, order, parts = _made(job, system, layout, fitted)
    listed = cuts if isinstance(cuts, CutList) else None
    difference = difference_of(job, system, laid, fitted, listed)
    mechanics, lead, diagnosis = _moving(job, system, layout, others)
    unjudged = Plan(
        job,
        system,
        survey=survey,
        layout=layout,
        fit=fit,
        cuts=cuts if listed is None else settled(listed, difference),
        order=order,
        parts=parts,
        mechanics=mechanics,
        lead=lead,
        diagnosis=diagnosis,
        checks=(),
        assumptions=_assumptions(job, system),
        levelled=levelled(job.survey, survey, None if laid is None else laid.frame.heading_rad),
        remedy=remedy_of(job, laid, system),
        ready=readiness_of(job, system, survey, laid),
        placed=placed_of(job),
        difference=difference,
    )
    return replace(unjudged, checks=checks_of(unjudged))


def _made(
    job: Job, system: System | None, layout: Layout | Needs, fit: Fit | None
) -> tuple[CutList | Needs, Order | Needs, Parts | Needs]:
    """What is cut, ordered and counted."""
    if isinstance(layout, Needs) or system is None:
        return _after(layout, "cuts"), _after(layout, "order"), _after(layout, "parts")
    from stringline.cutting.parts import parts as count_parts
    from stringline.cutting.pieces import cut_list
    from stringline.ordering.order import order as make_order

    try:
        cuts = cut_list(job, system, layout, fit)
        return cuts, make_order(job, system, layout, fit=fit), count_parts(job, system, layout, cuts)
    except ValueError as why:
        # Nothing is left to cut, or a run takes more sticks than anybody would join: said, not crashed on.
        said = (_why(why),)
        return Needs("cuts", said), Needs("order", said), Needs("parts", said)


def _moving(
    job: Job, system: System | None, layout: Layout | Needs, others: tuple[System, ...]
) -> tuple[Mechanics | Needs, LeadPrediction | Needs, Diagnosis | Needs]:
    """How the cover rolls, the lead to expect, and why it runs crooked."""
    if isinstance(layout, Needs) or system is None:
        return _after(layout, "mechanics"), _after(layout, "lead"), _after(layout, "diagnosis")
    from stringline.lead.predict import predict_lead
    from stringline.mechanics.assemble import mechanics

    try:
        reels = [(f"the reel of '{o.name}'", o.reel) for o in others]
        housings = [(f"the housing of '{o.name}'", o.housing) for o in others]
        moving = mechanics(system, layout, reels=reels, housings=housings, unit=job.unit)
        lead = predict_lead(system, layout, run=job.run)
    except ValueError as why:
        # The catalogue's parts cannot move this cover at all: said where the sections would stand.
        said = (_why(why),)
        return Needs("mechanics", said), Needs("lead", said), Needs("diagnosis", said)
    return moving, lead, _diagnosis(job, system, layout)


def _diagnosis(job: Job, system: System, layout: Layout) -> Diagnosis | Needs:
    if job.run is None or not job.run.leads:
        return Needs("diagnosis", ("plan.leads",) if job.stage.rank >= Stage.RUN_IN.rank else ())
    from stringline.lead.assemble import diagnose_job

    try:
        return diagnose_job(job, system, layout)
    except ValueError as why:
        return Needs("diagnosis", (_why(why),))


def _why(refused: ValueError) -> Code:
    """What stands in the way, as the room that refused says it."""
    return refused.why if isinstance(refused, Refused) else str(refused)


def _untaped(job: Job, system: System | None) -> Plan:
    """The plan of a pool that has only been sketched: what to tape, and nothing else."""
    from stringline.plan.checks.survey import untaped_check
    from stringline.sections.untaped import taping

    def later(section: str) -> Needs:
        return Needs(section, ("plan.survey-first",))

    return Plan(
        job,
        system,
        survey=Needs("survey", ("plan.readings",)),
        layout=later("layout"),
        fit=later("fit"),
        cuts=later("cuts"),
        order=later("order"),
        parts=later("parts"),
        mechanics=later("mechanics"),
        lead=later("lead"),
        diagnosis=later("diagnosis"),
        checks=(untaped_check(),),
        taping=taping(job),
    )


def _layout(job: Job, system: System | None, survey: Survey) -> Layout | Needs:
    missing: list[Code] = []
    if system is None:
        missing.append("plan.catalogue")
    if job.pool is None:
        missing.append("plan.water")
    if job.cover is None:
        missing.append("plan.cover")
    if missing:
        return Needs("layout", tuple(missing))
    from stringline.layout.place import lay_out

    assert system is not None
    assert job.pool is not None
    assert job.cover is not None
    try:
        return lay_out(survey, job.pool, job.cover, system, job.unit)
    except Faults as faults:
        return Needs("layout", tuple(f"{f.wrong}; {f.right}" for f in faults.faults), blocked=True)


def _fit(job: Job, system: System | None, survey: Survey, layout: Layout | Needs) -> Fit | Needs:
    if isinstance(layout, Needs) or job.pool is None:
        return _after(layout, "fit")
    from stringline.form.tracks import fit_from_as_built, fit_from_survey

    if job.as_built is not None and system is not None:
        return fit_from_as_built(job.as_built, layout, system.tolerances.as_built_tape_m, job.unit)
    return fit_from_survey(survey, job.pool, layout)


def _after(layout: Layout | Needs, section: str) -> Needs:
    return Needs(section, ("plan.layout-first",) if isinstance(layout, Needs) else ())


def _assumptions(job: Job, system: System | None) -> tuple[Code, ...]:
    found: list[Code] = []
    if job.survey.sigma_m is not None:
        found.append(finding("plan.tapes-as-stated", sigma_m=job.survey.sigma_m))
    else:
        found.append(finding("plan.tapes-of-class", tape_class=job.survey.tape_class, reading_m=READING_SIGMA_M))
    found.append("plan.tapes-pulled-level")
    if system is not None and job.cover is not None:
        found.append(finding("plan.track-suits-mount", track=system.track.name, mount=job.cover.mount))
    if system is not None and system.invented:
        found.append(finding("plan.catalogue-invented", catalogue=system.name))
    return tuple(found)
