"""A pool that nobody has taped yet: where to set the baseline and what to pull, from a rough sketch."""

from __future__ import annotations

from dataclasses import dataclass

from stringline.finding import Code, finding
from stringline.job.model import Job
from stringline.lengths import FOOT, Unit
from stringline.survey.design.taping_plan import TapingPlan, taping_plan

REACH_FEET_M, REACH_METRIC_M = 100 * FOOT, 30.0
"""How far a tape goes where the job does not say: 100 ft, or 30 m for a crew in metres (practice)."""

_BARE_M: dict[Unit, float] = {Unit.FT_IN: FOOT, Unit.FT: FOOT, Unit.M: 1.0, Unit.MM: 0.001}
_STAKES = ("A", "B")


@dataclass(frozen=True)
class Taping:
    """A taping plan with the rough places it was made from (m) and what was taken for granted."""

    plan: TapingPlan
    rough: dict[str, tuple[float, float]]
    tape_m: float
    where: Code
    notes: tuple[Code, ...]


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
    spec, rough = job.survey, _rough(job)
    notes: list[Code] = []
    reach = tape_m if tape_m is not None else spec.tape_length_m
    if reach is None:
        feet = job.unit in (Unit.FT_IN, Unit.FT)
        reach = REACH_FEET_M if feet else REACH_METRIC_M
        notes.append("taping.reach-feet" if feet else "taping.reach-metric")
    if spec.sketch_bare:
        notes.append(finding("taping.sketch-bare", unit=job.unit))
    left_out = tuple(n for n in _STAKES if n in spec.sketch)
    if left_out:
        notes.append(finding("taping.left-out", points=left_out))
    cannot = frozenset(frozenset(pair) for pair in spec.blocked)
    found = taping_plan(rough, reach, tape_class=spec.tape_class, cannot=cannot)
    return Taping(found, rough, reach, found.where(rough), (*notes, *found.notes))


def _rough(job: Job) -> dict[str, tuple[float, float]]:
    scale = _BARE_M[job.unit] if job.survey.sketch_bare else 1.0
    return {n: (x * scale, y * scale) for n, (x, y) in job.survey.sketch.items() if n not in _STAKES}
