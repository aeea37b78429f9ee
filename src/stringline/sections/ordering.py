"""May it be ordered, was it ordered, and what did the pour change: the sections of a plan about its order."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stringline.cutting.result import CutList, Piece
from stringline.form.result import Fit
from stringline.job.model import Job
from stringline.layout.result import Layout
from stringline.survey.result import Survey
from stringline.system.model import System

if TYPE_CHECKING:
    from stringline.ordering.advice import Readiness
    from stringline.ordering.difference import Difference
    from stringline.ordering.placed import Placed


def readiness_of(job: Job, system: System | None, survey: Survey, layout: Layout | None) -> Readiness | None:
    """How likely the parts fit if they are ordered from this survey; None without a layout or a catalogue."""
    if system is None or layout is None:
        return None
    from stringline.ordering.advice import readiness

    return readiness(job, system, survey, layout)


def placed_of(job: Job) -> Placed | None:
    """The order that the job says went out; None where it says none."""
    from stringline.ordering.placed import placed_order

    return placed_order(job)


def difference_of(
    job: Job, system: System | None, layout: Layout | None, fit: Fit | None, cuts: CutList | None
) -> Difference | None:
    """Designed, ordered and built side by side; None where nothing was built or ordered yet, or nothing can be cut."""
    if system is None or layout is None or cuts is None or (job.as_built is None and placed_of(job) is None):
        return None
    from stringline.ordering.difference import difference

    return difference(job, system, layout, fit, cuts)


def settled(cuts: CutList, found: Difference | None) -> CutList:
    """The cut list with the first step of leading edge and drum as the difference page says it.

    Both come cut to the order: whether they are cut again depends on what was ordered, not only on what was built.
    """
    if found is None:
        return cuts
    said = {line.key: line for line in found.lines if line.needed is not None}

    def settle(piece: Piece) -> Piece:
        line = said.get(piece.key)
        if piece.key not in ("leading-edge", "drum") or line is None or not piece.steps:
            return piece
        return replace(piece, steps=(f"As ordered against as built: {line.says}", *piece.steps[1:]))

    return replace(cuts, pieces=tuple(settle(p) for p in cuts.pieces))
