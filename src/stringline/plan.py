"""Run the engineering in order. A section that lacks input says what it needs instead of failing."""

from __future__ import annotations

from dataclasses import dataclass

from stringline.cutting.result import CutList, Order, Parts
from stringline.fit.result import Fit
from stringline.job.model import Job
from stringline.judging import Check
from stringline.layout.result import Layout
from stringline.survey.result import Survey
from stringline.system.model import System


@dataclass(frozen=True, slots=True)
class Needs:
    """Stands where a section would be: what is missing, and what to write or measure to have it."""

    section: str
    missing: tuple[str, ...]


@dataclass(frozen=True)
class Plan:
    """Everything that follows from a job; every screen, page and file is a view of it."""

    job: Job
    system: System
    survey: Survey | Needs
    layout: Layout | Needs
    fit: Fit | Needs
    cuts: CutList | Needs
    order: Order | Needs
    parts: Parts | Needs
    checks: tuple[Check, ...]
    assumptions: tuple[str, ...] = ()

    @property
    def held(self) -> tuple[Check, ...]:
        """Checks that stop the job's present stage or an earlier one."""
        return tuple(c for c in self.checks if c.stops and c.stage.rank <= self.job.stage.rank)
