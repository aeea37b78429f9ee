"""A plan: everything that follows from a job, as one table of sections in the order of work.

Each line says what a section is called, how it is made, and what it is made from. It is made when it is first asked for
and kept, so that a verb pays only for what it shows.
"""

from __future__ import annotations

from typing import Any

from stringline.job.model import Job
from stringline.plan import making
from stringline.plan.checking import checks_of, due, holding
from stringline.plan.model import Needs, Section, sections_of
from stringline.system.model import System


class Plan:
    """Everything that follows from a job; every screen, page and file is a view of it. It cannot be changed.

    ``system`` is None where the job names no catalogue; ``others`` are catalogues whose reels and housings could be had
    instead where its own are too small. ``given`` stands in for sections that need not be made.
    """

    job: Job
    system: System | None
    others: tuple[System, ...]

    survey = Section(making.survey_of, "job")
    taping = Section(making.taping_of, "job")
    layout = Section(making.layout_of, "job", "system", "survey")
    ends = Section(making.ends_of, "job", "system", "survey")
    levelled = Section(making.levelled_of, "job", "survey", "layout")
    fit = Section(making.fit_of, "job", "system", "survey", "layout")
    remedy = Section(making.remedy_of, "job", "system", "layout")
    cut = Section(making.cut_of, "job", "system", "layout", "fit")
    order = Section(making.order_of, "job", "system", "layout", "fit", "cut")
    parts = Section(making.parts_of, "job", "system", "layout", "cut")
    sticks = Section(making.sticks_of, "job", "system", "layout", "fit")
    advice = Section(making.advice_of, "job", "system", "survey", "layout")
    placed = Section(making.placed_of, "job")
    difference = Section(making.difference_of, "job", "system", "layout", "fit", "cut", "placed")
    cuts = Section(making.cuts_of, "cut", "difference")
    order_if_retaped = Section(making.if_retaped_of, "job", "system", "survey", "order")
    mechanics = Section(making.mechanics_of, "system", "layout", "others")
    lead = Section(making.lead_of, "job", "system", "layout", "mechanics")
    tightened = Section(making.tightened_of, "job", "system", "layout", "lead")
    diagnosis = Section(making.diagnosis_of, "job", "system", "layout", "mechanics")
    assumptions = Section(making.assumptions_of, "job", "system", "survey")
    checks = Section(checks_of, "itself")
    due = Section(due, "itself")
    held = Section(holding, "itself")

    def __init__(self, job: Job, system: System | None, others: tuple[System, ...] = (), **given: Any) -> None:
        unknown = given.keys() - sections_of(Plan).keys()
        if unknown:
            raise TypeError(f"a plan has no section {', '.join(sorted(unknown))}")
        vars(self).update(job=job, system=system, others=others, **given)

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"a plan cannot be changed: {name}")

    @property
    def itself(self) -> Plan:
        """The plan, for a section that looks at all of it."""
        return self

    def changed(self, **given: Any) -> Plan:
        """The same plan with some of its sections, its job or its system replaced; what was made stays made."""
        return Plan(**{**vars(self), **given})

    def sections(self) -> dict[str, Any]:
        """Every section by name; makes those that were not asked for yet."""
        return {name: getattr(self, name) for name in sections_of(Plan)}

    @property
    def needs(self) -> tuple[Needs, ...]:
        """Sections that lack input, in the order of work."""
        order = ("survey", "layout", "fit", "cuts", "order", "parts", "mechanics", "lead", "diagnosis")
        return tuple(s for s in (getattr(self, name) for name in order) if isinstance(s, Needs))


def plan(job: Job, system: System | None, others: tuple[System, ...] = ()) -> Plan:
    """The plan of a job.

    Raises :class:`stringline.faults.Faults` only for readings that cannot be adjusted (loose points, mirror images),
    for nothing stands without them: so the survey is made at once, all else when it is asked for. A pool that nobody
    has taped yet but that somebody has sketched gets a plan of what to tape.
    """
    made = Plan(job, system, others)
    _ = made.survey
    return made
