"""A pool that nobody has taped yet: where to set the baseline and what to pull, from a rough sketch."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stringline.job.model import Job
from stringline.lengths import FOOT, Unit

if TYPE_CHECKING:
    from stringline.survey.design.taping_plan import TapingPlan

_ASSUMED_M: dict[Unit, float] = {
    Unit.FT_IN: 100 * FOOT,
    Unit.FT: 100 * FOOT,
    Unit.M: 30.0,
    Unit.MM: 30.0,
}
_BARE_M: dict[Unit, float] = {Unit.FT_IN: FOOT, Unit.FT: FOOT, Unit.M: 1.0, Unit.MM: 0.001}
_BARE_WORDS = {Unit.FT_IN: "feet", Unit.FT: "feet", Unit.M: "metres", Unit.MM: "millimetres"}
_STAKES = ("A", "B")


@dataclass(frozen=True)
class Taping:
    """A taping plan with the rough places it was made from (m) and what was taken for granted."""

    plan: TapingPlan
    rough: dict[str, tuple[float, float]]
    tape_m: float
    where: str
    notes: tuple[str, ...]


def is_untaped(job: Job) -> bool:
    """Whether a job holds a sketch to plan from and not one reading."""
    s = job.survey
    return not (s.tapes or s.offsets or s.coordinates) and len(_rough(job)) >= 2


def taping(job: Job, tape_m: float | None = None) -> Taping:
    """Plan the taping of the points in the job's sketch.

    ``tape_m`` is how far the tape reaches (default: what the job says, else 30 m or 100 ft). A and B are the stakes'
    names, so points of the sketch with these names are left out. Raises :class:`stringline.faults.Faults` as
    :func:`stringline.survey.design.taping_plan.taping_plan` does.
    """
    from stringline.survey.design.taping_plan import taping_plan

    spec, rough, notes = job.survey, _rough(job), []
    reach = tape_m if tape_m is not None else spec.tape_length_m
    if reach is None:
        reach = _ASSUMED_M[job.unit]
        said = "100 ft" if job.unit in (Unit.FT_IN, Unit.FT) else "30 m"
        notes.append(f"The tape is taken to reach {said}: write tape_length in [survey] if yours does not.")
    if spec.sketch_bare:
        notes.append(f"The sketch has no unit: its numbers are taken as {_BARE_WORDS[job.unit]}.")
    left_out = [n for n in _STAKES if n in spec.sketch]
    if left_out:
        notes.append(f"{' and '.join(left_out)} of the sketch: left out, for A and B are the stakes placed here.")
    cannot = frozenset(frozenset(pair) for pair in spec.blocked)
    found = taping_plan(rough, reach, tape_class=spec.tape_class, cannot=cannot)
    return Taping(found, rough, reach, found.where(rough, job.unit), (*notes, *found.notes))


def _rough(job: Job) -> dict[str, tuple[float, float]]:
    scale = _BARE_M[job.unit] if job.survey.sketch_bare else 1.0
    return {n: (x * scale, y * scale) for n, (x, y) in job.survey.sketch.items() if n not in _STAKES}
