"""What to do about as-built tracks that are out of form."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stringline.job.model import Job
from stringline.layout.result import Layout
from stringline.lengths import Unit
from stringline.quantities import length, small
from stringline.system.model import System

if TYPE_CHECKING:
    from stringline.form.correction import Correction, Remedy


def remedy_of(job: Job, layout: Layout | None, system: System | None) -> Remedy | None:
    """The least correction of the tracks as built; None before the pour."""
    if job.as_built is None or layout is None or system is None or not job.as_built.gauge:
        return None
    from stringline.form.correction import remedy

    return remedy(job.as_built, layout, system, job.unit)


def way_words(way: Correction, unit: Unit, side: str | None = None) -> str:
    """The moves of one correction in a sentence, of one side alone where ``side`` says so; "" where it has none."""
    moves = [m for m in way.moves if side in (None, m.side)]
    if not moves:
        return ""
    parts = [
        f"{m.side} track at {length(m.station_m, unit)}: {small(abs(m.figure.value), unit)} to the "
        f"{'right' if m.figure.value > 0 else 'left'} ({m.means})"
        for m in moves
    ]
    return f"Least correction: {'; '.join(parts)}."
