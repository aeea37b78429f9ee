"""Every check on a plan, from the survey up to the run."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from stringline.cutting.result import CutList, Order
from stringline.form.result import Fit
from stringline.job.model import Job
from stringline.judging import Check
from stringline.layout.result import Layout
from stringline.lead.result import Diagnosis, LeadPrediction
from stringline.mechanics.result import Mechanics
from stringline.plan.model import Needs, Plan
from stringline.system.model import System

if TYPE_CHECKING:
    from stringline.form.correction import Remedy


def checks_of(plan: Plan) -> tuple[Check, ...]:
    """The checks that the plan's sections allow, in the order of work."""
    found = [*_on_the_ground(plan)]
    if plan.system is not None and isinstance(plan.layout, Layout):
        found += _on_the_cover(plan, plan.system, plan.layout)
        found += _on_the_order(plan, plan.system)
        found += _on_the_run(plan, plan.system)
    return tuple(found)


def _on_the_ground(plan: Plan) -> Iterator[Check]:
    """Survey, a layout that fits nowhere, the housing's floor."""
    from stringline.plan.checks.layout import blocked_check, floor_check
    from stringline.plan.checks.survey import survey_checks

    if not isinstance(plan.survey, Needs):
        yield from survey_checks(plan.survey, plan.job.unit, plan.system)
    if isinstance(plan.layout, Needs) and plan.layout.blocked:
        yield blocked_check(plan.layout.missing)
    levels = plan.levelled
    if plan.system is not None and levels is not None and levels.floor is not None:
        yield floor_check(levels.floor, plan.system)


def _on_the_cover(plan: Plan, system: System, layout: Layout) -> Iterator[Check]:
    """Where it goes, the form of its tracks, and its cuts."""
    from stringline.plan.checks.form import fit_checks
    from stringline.plan.checks.layout import layout_checks

    yield from layout_checks(layout, system)
    if isinstance(plan.fit, Fit):
        yield from fit_checks(plan.fit, system, advice=_moves(plan.remedy, plan.job))
    if isinstance(plan.cuts, CutList):
        from stringline.cutting.basis import Given
        from stringline.cutting.ropes import cut_point
        from stringline.plan.checks.made import cut_checks

        yield from cut_checks(plan.cuts, system, cut_point(Given(plan.job, system, layout)))


def _on_the_order(plan: Plan, system: System) -> Iterator[Check]:
    """May it be ordered, has a placed order changed, and does what was ordered fit what was built?"""
    from stringline.plan.checks.made import order_checks
    from stringline.plan.checks.order import changed_check, ready_check
    from stringline.sections.ordering import waits_for_pour

    if plan.placed is not None and isinstance(plan.order, Order):
        yield changed_check(plan.placed, plan.order, system, plan.job.unit)
    elif plan.ready is not None and plan.job.as_built is None and not isinstance(plan.survey, Needs):
        yield ready_check(plan.ready, plan.survey, system, waits=waits_for_pour(plan.job))
    if plan.job.as_built is not None:
        yield from order_checks(plan.difference, system)


def _on_the_run(plan: Plan, system: System) -> Iterator[Check]:
    """How it rolls and pulls, and the lead, expected and measured."""
    if not isinstance(plan.mechanics, Mechanics):
        return
    from stringline.plan.checks.mechanics import lead_checks, mechanics_checks

    yield from mechanics_checks(plan.mechanics, system)
    if isinstance(plan.lead, LeadPrediction):
        diagnosis = plan.diagnosis if isinstance(plan.diagnosis, Diagnosis) else None
        yield from lead_checks(plan.lead, plan.job.run, diagnosis, system)


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
