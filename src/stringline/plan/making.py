"""How each section of a plan is made from what it needs: one function a section, the heavy rooms opened when asked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stringline.cutting.result import CutList, Parts
from stringline.faults import Faults
from stringline.finding import Code, Refused, finding
from stringline.form.result import Fit
from stringline.job.model import Job
from stringline.judging import Stage
from stringline.layout.result import Layout
from stringline.lead.result import Diagnosis, LeadPrediction
from stringline.mechanics.result import Mechanics
from stringline.ordering.result import Advice, Difference, Order, Placed
from stringline.plan.model import Needs
from stringline.survey.adjust.tape import READING_SIGMA_M
from stringline.survey.result import Survey
from stringline.system.model import System
from stringline.worked import Figure

if TYPE_CHECKING:
    from stringline.cutting.sticks import Sticks
    from stringline.form.correction import Remedy
    from stringline.layout.options import Option
    from stringline.survey.design.untaped import Taping
    from stringline.survey.levels.falls import Levelled

_SURVEY_FIRST: tuple[Code, ...] = ("plan.survey-first",)


def survey_of(job: Job) -> Survey | Needs:
    """The adjusted readings. Raises :class:`stringline.faults.Faults` for readings that nothing can be made of."""
    from stringline.survey.design.untaped import is_untaped
    from stringline.survey.run import survey

    if is_untaped(job):
        return Needs("survey", ("plan.readings",))
    return survey(job.survey)


def taping_of(job: Job) -> Taping | None:
    """What to tape, where a pool has been sketched and nothing taped yet."""
    from stringline.survey.design.untaped import is_untaped, taping

    return taping(job) if is_untaped(job) else None


def layout_of(job: Job, system: System | None, survey: Survey | Needs) -> Layout | Needs:
    """Where the cover goes."""
    if isinstance(survey, Needs):
        return Needs("layout", _SURVEY_FIRST)
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
        return lay_out(survey, job.pool, job.cover, system)
    except Faults as faults:
        why = tuple(finding("faults.short", wrong=f.wrong, right=f.right) for f in faults.faults)
        return Needs("layout", why, blocked=True)


def ends_of(job: Job, system: System | None, survey: Survey | Needs) -> tuple[Option, ...]:
    """Every end that the housing could stand at, the one taken first; () where the layout lacks or refuses an input."""
    if isinstance(survey, Needs) or system is None or job.pool is None or job.cover is None:
        return ()
    from stringline.layout.options import options

    try:
        return options(survey, job.pool, job.cover, system)
    except Faults:
        return ()


def levelled_of(job: Job, survey: Survey | Needs, layout: Layout | Needs) -> Levelled | None:
    """What the rod says; None where none was read."""
    if isinstance(survey, Needs):
        return None
    from stringline.survey.levels.falls import levelled

    return levelled(job.survey, survey, None if isinstance(layout, Needs) else layout.frame.heading_rad)


def remedy_of(job: Job, system: System | None, layout: Layout | Needs) -> Remedy | None:
    """The least correction of the tracks as built; None before the pour."""
    if job.as_built is None or isinstance(layout, Needs) or system is None or not job.as_built.gauge:
        return None
    from stringline.form.correction import remedy

    return remedy(job.as_built, layout, system)


def fit_of(job: Job, system: System | None, survey: Survey | Needs, layout: Layout | Needs) -> Fit | Needs:
    """Form of the tracks: as built where that was measured, else of the edges they follow."""
    if isinstance(survey, Needs) or isinstance(layout, Needs) or job.pool is None:
        return _after(layout, "fit")
    from stringline.form.tracks import fit_from_as_built, fit_from_survey

    if job.as_built is not None and system is not None:
        return fit_from_as_built(job.as_built, layout, system.tolerances.as_built_tape_m)
    return fit_from_survey(survey, job.pool, layout)


def cut_of(job: Job, system: System | None, layout: Layout | Needs, fit: Fit | Needs) -> CutList | Needs:
    """The pieces, before anything that was ordered has its say."""
    if isinstance(layout, Needs) or system is None:
        return _after(layout, "cuts")
    from stringline.cutting.pieces import cut_list

    try:
        return cut_list(job, system, layout, fit if isinstance(fit, Fit) else None)
    except ValueError as why:
        # Nothing is left to cut, or a run takes more sticks than anybody would join: said, not crashed on.
        return Needs("cuts", (_why(why),))


def cuts_of(cut: CutList | Needs, difference: Difference | None) -> CutList | Needs:
    """The pieces, each saying what to do with what was ordered for it."""
    if isinstance(cut, Needs):
        return cut
    from stringline.ordering.difference import settled

    return settled(cut, difference)


def order_of(
    job: Job, system: System | None, layout: Layout | Needs, fit: Fit | Needs, cut: CutList | Needs
) -> Order | Needs:
    """What to order; what cannot be cut cannot be ordered for."""
    if isinstance(layout, Needs) or isinstance(cut, Needs) or system is None:
        return Needs("order", cut.missing) if isinstance(cut, Needs) else _after(layout, "order")
    from stringline.ordering.order import order

    try:
        return order(job, system, layout, fit=fit if isinstance(fit, Fit) else None)
    except ValueError as why:
        return Needs("order", (_why(why),))


def parts_of(job: Job, system: System | None, layout: Layout | Needs, cut: CutList | Needs) -> Parts | Needs:
    """Small parts, counted from the pieces."""
    if isinstance(layout, Needs) or isinstance(cut, Needs) or system is None:
        return Needs("parts", cut.missing) if isinstance(cut, Needs) else _after(layout, "parts")
    from stringline.cutting.pieces import parts

    try:
        return parts(job, system, layout, cut)
    except ValueError as why:
        return Needs("parts", (_why(why),))


def sticks_of(job: Job, system: System | None, layout: Layout | Needs, fit: Fit | Needs) -> Sticks | None:
    """Which stick each part of the tracks comes from; None without a layout."""
    if system is None or isinstance(layout, Needs):
        return None
    from stringline.cutting.sticks import sticks_of

    return sticks_of(job, system, layout, fit if isinstance(fit, Fit) else None)


def advice_of(job: Job, system: System | None, survey: Survey | Needs, layout: Layout | Needs) -> Advice | None:
    """How likely the parts fit if they are ordered today; None without a layout or a catalogue."""
    if isinstance(survey, Needs) or isinstance(layout, Needs) or system is None:
        return None
    from stringline.ordering.advice import advise

    return advise(job, system, survey, layout)


def placed_of(job: Job) -> Placed | None:
    """The order that the job says went out; None where it says none."""
    from stringline.ordering.placed import placed_order

    return placed_order(job)


def difference_of(
    job: Job,
    system: System | None,
    layout: Layout | Needs,
    fit: Fit | Needs,
    cut: CutList | Needs,
    placed: Placed | None,
) -> Difference | None:
    """Designed, ordered and built side by side; None before anything is ordered or built, or where nothing is cut."""
    if isinstance(layout, Needs) or isinstance(cut, Needs) or system is None:
        return None
    if job.as_built is None and placed is None:
        return None
    from stringline.ordering.difference import difference

    return difference(job, system, layout, fit if isinstance(fit, Fit) else None, cut)


def if_retaped_of(job: Job, system: System | None, survey: Survey | Needs, order: Order | Needs) -> Order | None:
    """The order once contradicted readings are taped again as the others expect; None where none is."""
    if isinstance(survey, Needs) or isinstance(order, Needs):
        return None
    from stringline.ordering.retaped import order_if_retaped

    return order_if_retaped(job, system, survey)


def mechanics_of(system: System | None, layout: Layout | Needs, others: tuple[System, ...]) -> Mechanics | Needs:
    """How the cover rolls and pulls."""
    if isinstance(layout, Needs) or system is None:
        return _after(layout, "mechanics")
    from stringline.mechanics.assemble import mechanics

    reels, housings = [(o.name, o.reel) for o in others], [(o.name, o.housing) for o in others]
    try:
        return mechanics(system, layout, reels=reels, housings=housings)
    except ValueError as why:
        # The catalogue's parts cannot move this cover at all: said where the section would stand.
        return Needs("mechanics", (_why(why),))


def lead_of(
    job: Job, system: System | None, layout: Layout | Needs, mechanics: Mechanics | Needs
) -> LeadPrediction | Needs:
    """The lead to expect."""
    if isinstance(layout, Needs) or isinstance(mechanics, Needs) or system is None:
        return Needs("lead", mechanics.missing) if isinstance(mechanics, Needs) else _after(layout, "lead")
    from stringline.lead.predict import predict_lead

    try:
        return predict_lead(system, layout, run=job.run)
    except ValueError as why:
        return Needs("lead", (_why(why),))


def tightened_of(
    job: Job, system: System | None, layout: Layout | Needs, lead: LeadPrediction | Needs
) -> Figure | None:
    """How often the lead passes its limit once the tolerance worth effort is kept twice as tightly."""
    if isinstance(layout, Needs) or isinstance(lead, Needs) or system is None:
        return None
    from stringline.lead.predict import if_tightened

    return if_tightened(system, layout, lead, run=job.run)


def diagnosis_of(
    job: Job, system: System | None, layout: Layout | Needs, mechanics: Mechanics | Needs
) -> Diagnosis | Needs:
    """Why the cover runs crooked."""
    if isinstance(layout, Needs) or isinstance(mechanics, Needs) or system is None:
        return Needs("diagnosis", mechanics.missing) if isinstance(mechanics, Needs) else _after(layout, "diagnosis")
    if job.run is None or not job.run.leads:
        return Needs("diagnosis", ("plan.leads",) if job.stage.rank >= Stage.RUN_IN.rank else ())
    from stringline.lead.diagnosis import diagnose_job

    try:
        return diagnose_job(job, system, layout)
    except ValueError as why:
        return Needs("diagnosis", (_why(why),))


def assumptions_of(job: Job, system: System | None, survey: Survey | Needs) -> tuple[Code, ...]:
    """What is taken for granted."""
    if isinstance(survey, Needs):
        return ()
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


def _why(refused: ValueError) -> Code:
    """What stands in the way, as the room that refused says it."""
    return refused.why if isinstance(refused, Refused) else str(refused)


def _after(layout: Layout | Needs, section: str) -> Needs:
    """Waits for what the layout waits for: the survey where there is none yet, else the layout itself."""
    if not isinstance(layout, Needs):
        return Needs(section, ())
    return Needs(section, layout.missing if layout.missing == _SURVEY_FIRST else ("plan.layout-first",))
