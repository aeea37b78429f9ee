"""Every check on a plan, from the survey up to the run."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from typing import TYPE_CHECKING

from stringline.cutting.result import CutList
from stringline.finding import Code
from stringline.form.result import Fit
from stringline.judging import Check, Stage
from stringline.layout.result import Layout
from stringline.lead.result import Diagnosis, LeadPrediction
from stringline.mechanics.result import Mechanics
from stringline.ordering.result import Order
from stringline.plan.checks.form import fit_checks
from stringline.plan.checks.layout import blocked_check, floor_check, layout_checks
from stringline.plan.checks.made import cut_checks, order_checks
from stringline.plan.checks.mechanics import lead_checks, mechanics_checks
from stringline.plan.checks.order import changed_check, ready_check
from stringline.plan.checks.survey import survey_checks, untaped_check
from stringline.plan.model import Needs

if TYPE_CHECKING:
    from stringline.form.correction import Remedy
    from stringline.plan.table import Plan


Group = Callable[["Plan"], Iterator[Check]]


def checks_of(plan: Plan) -> tuple[Check, ...]:
    """The checks that the plan's sections allow, in the order of work."""
    return tuple(c for _, group in GROUPS.values() for c in group(plan))


def due(plan: Plan) -> tuple[Check, ...]:
    """The checks of all groups that the job's stage has reached; no section of a later stage is made for them."""
    last = plan.job.stage.rank
    return tuple(c for earliest, group in GROUPS.values() if earliest.rank <= last for c in group(plan))


def of_groups(plan: Plan, *names: str) -> tuple[Check, ...]:
    """The checks of some groups; those of the others are not made for them."""
    return tuple(c for name in names for c in GROUPS[name][1](plan))


def holding(plan: Plan, stage: Stage | None = None, of: Collection[str] = ()) -> tuple[Check, ...]:
    """Checks that stop ``stage``, the job's present one where none is given, or an earlier one.

    Only those of the groups named in ``of`` where any is. No section of a later stage is made for it.
    """
    last = stage or plan.job.stage
    kept = next((name for name in ("checks", "due") if name in vars(plan)), None)
    if kept is not None and not of and (kept == "checks" or last.rank <= plan.job.stage.rank):
        found: Iterable[Check] = getattr(plan, kept)
    else:
        groups = (GROUPS[name] for name in of or GROUPS)
        found = (c for earliest, group in groups if earliest.rank <= last.rank for c in group(plan))
    return tuple(c for c in found if c.stops and c.stage.rank <= last.rank)


def _on_the_ground(plan: Plan) -> Iterator[Check]:
    """Survey, a layout that fits nowhere, the housing's floor."""
    if not isinstance(plan.survey, Needs):
        yield from survey_checks(plan.survey, plan.system)
    if isinstance(plan.layout, Needs) and plan.layout.blocked:
        yield blocked_check(plan.layout.missing)
    if plan.taping is not None:
        yield untaped_check()


def _on_the_floor(plan: Plan) -> Iterator[Check]:
    """The housing's floor, where a rod was read on it."""
    levels = plan.levelled
    if plan.system is not None and levels is not None and levels.floor is not None:
        yield floor_check(levels.floor, plan.system)


def _on_the_layout(plan: Plan) -> Iterator[Check]:
    """Where the cover goes."""
    if plan.system is not None and isinstance(plan.layout, Layout):
        yield from layout_checks(plan.layout, plan.system)


def _on_the_fit_out(plan: Plan) -> Iterator[Check]:
    """The form of the tracks, and the cuts."""
    layout, system = plan.layout, plan.system
    if system is None or not isinstance(layout, Layout):
        return
    if isinstance(plan.fit, Fit):
        yield from fit_checks(plan.fit, system, advice=_moves(plan.remedy))
    if isinstance(plan.cuts, CutList):
        from stringline.cutting.basis import Given
        from stringline.cutting.ropes import cut_point

        yield from cut_checks(plan.cuts, system, cut_point(Given(plan.job, system, layout)))


def _on_the_order(plan: Plan) -> Iterator[Check]:
    """May it be ordered? Nobody asks once it was, or once the pool is built."""
    system = plan.system
    if system is None or not isinstance(plan.layout, Layout):
        return
    if plan.job.as_built is not None or (plan.placed is not None and isinstance(plan.order, Order)):
        return
    if plan.advice is not None and not isinstance(plan.survey, Needs):
        yield ready_check(plan.advice, plan.survey, system, waits=plan.job.waits_for_pour)


def _on_what_was_ordered(plan: Plan) -> Iterator[Check]:
    """Has a placed order changed, and does what was ordered fit what was built?"""
    system = plan.system
    if system is None or not isinstance(plan.layout, Layout):
        return
    if plan.placed is not None and isinstance(plan.order, Order):
        yield changed_check(plan.placed, plan.order, system)
    if plan.job.as_built is not None:
        yield from order_checks(plan.difference, system)


def _on_the_parts(plan: Plan) -> Iterator[Check]:
    """How it rolls and pulls."""
    if plan.system is not None and isinstance(plan.mechanics, Mechanics):
        yield from mechanics_checks(plan.mechanics, plan.system)


def _on_the_run(plan: Plan) -> Iterator[Check]:
    """The lead, expected and measured."""
    system = plan.system
    if system is not None and isinstance(plan.lead, LeadPrediction):
        diagnosis = plan.diagnosis if isinstance(plan.diagnosis, Diagnosis) else None
        yield from lead_checks(plan.lead, plan.job.run, diagnosis, system)


def _moves(remedy: Remedy | None) -> dict[str, Code | None]:
    """The least correction, by check code."""
    if remedy is None or not remedy.ways:
        return {}
    from stringline.form.correction import way_said

    way = remedy.ways[0]
    both = way_said(way)
    return {
        "fit-straight-left": way_said(way, "left"),
        "fit-straight-right": way_said(way, "right"),
        "fit-parallel": both,
        "fit-gauge": both,
    }


GROUPS: dict[str, tuple[Stage, Group]] = {
    "ground": (Stage.SURVEY, _on_the_ground),
    "floor": (Stage.ROUGH_IN, _on_the_floor),
    "layout": (Stage.LAYOUT, _on_the_layout),
    "fit-out": (Stage.FIT_OUT, _on_the_fit_out),
    "order": (Stage.ORDER, _on_the_order),
    "ordered": (Stage.ORDER, _on_what_was_ordered),
    "parts": (Stage.ORDER, _on_the_parts),
    "run": (Stage.RUN_IN, _on_the_run),
}
"""The checks in the order they are told, each group with the earliest stage that a check of it can hold."""
