"""Run the engineering in order. A section that lacks input says what it needs instead of failing."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from stringline.cutting.result import CutList, Order, Parts
from stringline.faults import Faults
from stringline.fit.result import Fit
from stringline.job.model import Job
from stringline.judging import Check, Stage
from stringline.layout.result import Layout
from stringline.mechanics.result import Mechanics
from stringline.running.result import Diagnosis, LeadPrediction
from stringline.survey.result import Survey
from stringline.system.model import System

if TYPE_CHECKING:
    from stringline.cutting.difference import Difference
    from stringline.cutting.placed import Placed
    from stringline.cutting.ready import Readiness
    from stringline.fit.correction import Remedy
    from stringline.layout.options import Option
    from stringline.sections.levelled import Levelled
    from stringline.sections.sticks import Sticks
    from stringline.sections.untaped import Taping


@dataclass(frozen=True, slots=True)
class Needs:
    """Stands where a section would be: what is missing, and what to write or measure to have it.

    ``blocked`` says that the input is there and that nothing can be made of it.
    """

    section: str
    missing: tuple[str, ...]
    blocked: bool = False


@dataclass(frozen=True)
class Plan:
    """Everything that follows from a job; every screen, page and file is a view of it."""

    job: Job
    system: System | None
    survey: Survey | Needs
    layout: Layout | Needs
    fit: Fit | Needs
    cuts: CutList | Needs
    order: Order | Needs
    parts: Parts | Needs
    mechanics: Mechanics | Needs
    lead: LeadPrediction | Needs
    diagnosis: Diagnosis | Needs
    checks: tuple[Check, ...]
    assumptions: tuple[str, ...] = ()
    levelled: Levelled | None = None  # None where no rod was read
    remedy: Remedy | None = None  # None before the pour
    taping: Taping | None = None  # what to tape, where nothing has been taped yet
    ready: Readiness | None = None  # how likely the ordered parts are to fit; None without a layout
    placed: Placed | None = None  # the order that went out, as the job says
    difference: Difference | None = None  # designed, ordered, built; None before anything is ordered or built

    @cached_property
    def sticks(self) -> Sticks | None:
        """Which stick each part of the tracks comes from; worked out when it is asked for, None without a layout."""
        if self.system is None or isinstance(self.layout, Needs):
            return None
        from stringline.sections.sticks import sticks_of

        return sticks_of(self.job, self.system, self.layout, self.fit if isinstance(self.fit, Fit) else None)

    @cached_property
    def ends(self) -> tuple[Option, ...]:
        """Every end that the housing could stand at, the one taken first; worked out when it is asked for."""
        if isinstance(self.survey, Needs):
            return ()
        from stringline.sections.ends import ends_compared

        return ends_compared(self.job, self.system, self.survey)

    @cached_property
    def order_if_retaped(self) -> Order | None:
        """The order once contradicted readings are taped again as the others expect; None where none is."""
        if isinstance(self.survey, Needs) or isinstance(self.order, Needs):
            return None
        from stringline.sections.retaped import order_if_retaped

        return order_if_retaped(self.job, self.system, self.survey)

    @property
    def held(self) -> tuple[Check, ...]:
        """Checks that stop the job's present stage or an earlier one."""
        return tuple(c for c in self.checks if c.stops and c.stage.rank <= self.job.stage.rank)

    @property
    def needs(self) -> tuple[Needs, ...]:
        """Sections that lack input, in the order of work."""
        sections = (
            self.survey,
            self.layout,
            self.fit,
            self.cuts,
            self.order,
            self.parts,
            self.mechanics,
            self.lead,
            self.diagnosis,
        )
        return tuple(s for s in sections if isinstance(s, Needs))


def plan(job: Job, system: System | None, others: tuple[System, ...] = ()) -> Plan:
    """Compute everything that the job's input allows.

    ``system`` is None where the job names no catalogue. Raises :class:`stringline.faults.Faults` only for readings that
    cannot be adjusted (loose points, mirror images), for nothing stands without them. A pool that nobody has taped yet
    but that somebody has sketched gets a plan of what to tape. ``others`` are catalogues whose reels and housings could
    be had instead where the system's own are too small.
    """
    from stringline.sections.levelled import levelled
    from stringline.sections.ordering import difference_of, placed_of, readiness_of, settled
    from stringline.sections.remedies import remedy_of
    from stringline.sections.untaped import is_untaped
    from stringline.survey.run import survey as adjust_survey

    if is_untaped(job):
        return _untaped(job, system)

    survey = adjust_survey(job.survey, job.unit)
    layout = _layout(job, system, survey)
    fit = _fit(job, system, survey, layout)
    cuts: CutList | Needs = _after(layout, "cuts")
    order: Order | Needs = _after(layout, "order")
    parts: Parts | Needs = _after(layout, "parts")
    if isinstance(layout, Layout) and system is not None:
        from stringline.cutting.order import order as make_order
        from stringline.cutting.parts import parts as count_parts
        from stringline.cutting.pieces import cut_list

        known_fit = fit if isinstance(fit, Fit) else None
        try:
            cuts = cut_list(job, system, layout, known_fit)
            order = make_order(job, system, layout, fit=known_fit)
            parts = count_parts(job, system, layout, cuts)
        except ValueError as why:
            # Nothing is left to cut, or a run takes more sticks than anybody would join: said, not crashed on.
            cuts, order, parts = (Needs(s, (str(why),)) for s in ("cuts", "order", "parts"))
    rolling = _rolling(job, system, layout, others)
    known = layout if isinstance(layout, Layout) else None
    levels, remedy = levelled(job, survey, known), remedy_of(job, known, system)
    laid_cuts = cuts if isinstance(cuts, CutList) else None
    ready, placed = readiness_of(job, system, survey, known), placed_of(job)
    difference = difference_of(job, system, known, fit if isinstance(fit, Fit) else None, laid_cuts)
    cuts = cuts if laid_cuts is None else settled(laid_cuts, difference)
    ordered = _Ordered(ready, placed, difference, order if isinstance(order, Order) else None)
    checks = _checks(job, system, survey, layout, fit, cuts, rolling, levels, remedy, ordered)
    made = (survey, layout, fit, cuts, order, parts)
    moves = (rolling.mechanics, rolling.lead, rolling.diagnosis)
    taken = _assumptions(job, system)
    return Plan(job, system, *made, *moves, checks, taken, levels, remedy, None, ready, placed, difference)


def _untaped(job: Job, system: System | None) -> Plan:
    """The plan of a pool that has only been sketched: what to tape, and nothing else."""
    from stringline.checks.survey import untaped_check
    from stringline.sections.untaped import taping

    def later(section: str) -> Needs:
        return Needs(section, ("the survey first",))

    return Plan(
        job,
        system,
        survey=Needs("survey", ("the readings of the taping plan: write each one into tapes",)),
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


@dataclass(frozen=True, slots=True)
class _Rolling:
    """The three sections that say how the cover moves."""

    mechanics: Mechanics | Needs
    lead: LeadPrediction | Needs
    diagnosis: Diagnosis | Needs


@dataclass(frozen=True, slots=True)
class _Ordered:
    """What the checks on the order lean on."""

    ready: Readiness | None
    placed: Placed | None
    difference: Difference | None
    today: Order | None


def _rolling(job: Job, system: System | None, layout: Layout | Needs, others: tuple[System, ...]) -> _Rolling:
    if isinstance(layout, Needs) or system is None:
        needs = (_after(layout, s) for s in ("mechanics", "lead", "diagnosis"))
        return _Rolling(*needs)
    from stringline.mechanics.whole import mechanics
    from stringline.running.predict import predict_lead

    try:
        reels = [(f"the reel of '{o.name}'", o.reel) for o in others]
        housings = [(f"the housing of '{o.name}'", o.housing) for o in others]
        moving = mechanics(system, layout, reels=reels, housings=housings, unit=job.unit)
        lead = predict_lead(system, layout, run=job.run)
    except ValueError as why:
        # The catalogue's parts cannot move this cover at all: said where the sections would stand.
        return _Rolling(*(Needs(s, (str(why),)) for s in ("mechanics", "lead", "diagnosis")))
    return _Rolling(moving, lead, _diagnosis(job, system, layout))


def _diagnosis(job: Job, system: System, layout: Layout) -> Diagnosis | Needs:
    if job.run is None or not job.run.leads:
        missing = "leads measured while the cover runs: write [run] leads = [[station, closing, opening, current], …]"
        return Needs("diagnosis", (missing,) if job.stage.rank >= Stage.RUN_IN.rank else ())
    from stringline.running.whole import diagnose_job

    try:
        return diagnose_job(job, system, layout)
    except ValueError as why:
        return Needs("diagnosis", (str(why),))


def _layout(job: Job, system: System | None, survey: Survey) -> Layout | Needs:
    missing = []
    if system is None:
        missing.append('a hardware catalogue: write system = "…" in [job] (`stringline systems` lists them)')
    if job.pool is None:
        missing.append("the water's edge: write [pool] with water = [names of the surveyed points, in order]")
    if job.cover is None:
        missing.append("the cover's choices: write [cover] with mount, housing, drive_side and margins")
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
    from stringline.fit.form import fit_from_as_built, fit_from_survey

    if job.as_built is not None and system is not None:
        return fit_from_as_built(job.as_built, layout, system.tolerances.as_built_tape_m)
    return fit_from_survey(survey, job.pool, layout)


def _after(layout: Layout | Needs, section: str) -> Needs:
    return Needs(section, ("the layout first",) if isinstance(layout, Needs) else ())


def _checks(
    job: Job,
    system: System | None,
    survey: Survey,
    layout: Layout | Needs,
    fit: Fit | Needs,
    cuts: CutList | Needs,
    rolling: _Rolling,
    levels: Levelled | None,
    remedy: Remedy | None,
    ordered: _Ordered,
) -> tuple[Check, ...]:
    from stringline.checks.fit import fit_checks
    from stringline.checks.layout import blocked_check, floor_check, layout_checks
    from stringline.checks.survey import survey_checks

    found = list(survey_checks(survey, job.unit, system))
    if isinstance(layout, Needs) and layout.blocked:
        found.append(blocked_check(layout.missing))
    if system is not None and levels is not None and levels.floor is not None:
        found.append(floor_check(levels.floor, system))
    if system is None or isinstance(layout, Needs):
        return tuple(found)
    from stringline.checks.made import cut_checks, order_checks

    found += layout_checks(layout, system)
    if isinstance(fit, Fit):
        found += fit_checks(fit, system, advice=_moves(remedy, job))
    if isinstance(cuts, CutList):
        from stringline.cutting.ropes import cut_point
        from stringline.cutting.taken import Given

        found += cut_checks(cuts, system, cut_point(Given(job, system, layout)))
    from stringline.checks.order import changed_check, ready_check
    from stringline.sections.ordering import waits_for_pour

    if ordered.placed is not None and ordered.today is not None:
        found.append(changed_check(ordered.placed, ordered.today, system, job.unit))
    elif ordered.ready is not None and job.as_built is None:
        found.append(ready_check(ordered.ready, survey, system, waits=waits_for_pour(job)))
    if job.as_built is not None:
        found += order_checks(ordered.difference, system)
    if isinstance(rolling.mechanics, Mechanics):
        from stringline.checks.mechanics import lead_checks, mechanics_checks

        found += mechanics_checks(rolling.mechanics, system)
        if isinstance(rolling.lead, LeadPrediction):
            diagnosis = rolling.diagnosis if isinstance(rolling.diagnosis, Diagnosis) else None
            found += lead_checks(rolling.lead, job.run, diagnosis, system)
    return tuple(found)


def _moves(remedy: Remedy | None, job: Job) -> dict[str, str]:
    """The least correction in words, by check code."""
    if remedy is None or not remedy.ways:
        return {}
    from stringline.sections.remedies import way_words

    def words(side: str | None) -> str:
        return way_words(remedy.ways[0], job.unit, side)

    return {
        "fit-straight-left": words("left"),
        "fit-straight-right": words("right"),
        "fit-parallel": words(None),
        "fit-gauge": words(None),
    }


def _assumptions(job: Job, system: System | None) -> tuple[str, ...]:
    found = []
    if job.survey.sigma_m is not None:
        found.append(
            f"Every tape without its own σ is taken to have σ = {job.survey.sigma_m * 1000:.1f} mm, as the job says."
        )
    else:
        found.append(
            f"Tapes are taken to be class {job.survey.tape_class}: σ is half the class's error limit, combined with "
            "2 mm for reading and pointing."
        )
    found.append("Tapes were pulled level and straight, near the temperature and pull they are marked for.")
    if system is not None and system.invented:
        found.append(f"The catalogue '{system.name}' is invented: no part of it is anybody's product.")
    return tuple(found)
