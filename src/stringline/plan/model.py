"""A plan: everything that follows from a job, in one immutable value."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from stringline.cutting.result import CutList, Order, Parts
from stringline.finding import Code
from stringline.form.result import Fit
from stringline.job.model import Job
from stringline.judging import Check
from stringline.layout.result import Layout
from stringline.lead.result import Diagnosis, LeadPrediction
from stringline.mechanics.result import Mechanics
from stringline.survey.result import Survey
from stringline.system.model import System

if TYPE_CHECKING:
    from stringline.form.correction import Remedy
    from stringline.layout.options import Option
    from stringline.ordering.advice import Readiness
    from stringline.ordering.difference import Difference
    from stringline.ordering.placed import Placed
    from stringline.sections.sticks import Sticks
    from stringline.sections.untaped import Taping
    from stringline.survey.levels.falls import Levelled


@dataclass(frozen=True, slots=True)
class Needs:
    """Stands where a section would be: what is missing, and what to write or measure to have it.

    ``blocked`` says that the input is there and that nothing can be made of it.
    """

    section: str
    missing: tuple[Code, ...]
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
    assumptions: tuple[Code, ...] = ()
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
