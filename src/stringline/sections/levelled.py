"""What rod readings say once the layout names a direction: falls along and across the pool, and the housing's floor."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stringline.job.model import HousingFloor, Job
from stringline.layout.result import Layout
from stringline.survey.result import Survey

if TYPE_CHECKING:
    from stringline.survey.levels.heights import Levels
    from stringline.worked import Figure


@dataclass(frozen=True)
class Levelled:
    """Levels of the points round the pool and the floor's least fall to its drain; None where it was not levelled.

    ``frame`` says what *along* means: "cover" (from the housing over the water) or "points" (where they reach
    farthest).
    """

    levels: Levels
    frame: str
    floor: Figure | None
    notes: tuple[str, ...] = ()


def levelled(job: Job, survey: Survey, layout: Layout | None) -> Levelled | None:
    """Report the rod readings of a job; None where there are none.

    Points of the housing's floor lie below the others and so take no part in falls and flatness.
    """
    if survey.levels is None:
        return None
    from stringline.survey.levels.heights import levels_of

    spec = job.survey.floor
    at = {p.name: (p.x_m, p.y_m) for p in survey.points}
    heading = None if layout is None else layout.frame.heading_rad
    found = levels_of(job.survey.levels, at, heading, () if spec is None else spec.names)
    frame = "points" if layout is None else "cover"
    if spec is None:
        return Levelled(found, frame, None)
    floor, notes = _floor(spec, found, at)
    return Levelled(found, frame, floor, notes)


def _floor(
    spec: HousingFloor, levels: Levels, at: dict[str, tuple[float, float]]
) -> tuple[Figure | None, tuple[str, ...]]:
    """Least fall to the drain, from the runs that were measured or follow from the survey."""
    from stringline.survey.levels.heights import floor_fall

    worst: Figure | None = None
    lost = []
    for name, run in spec.points:
        if run is not None:
            places = {spec.drain: (0.0, 0.0), name: (run, 0.0)}
        elif name in at and spec.drain in at:
            places = at
        else:
            lost.append(name)
            continue
        try:
            found = floor_fall(levels.heights, [name], spec.drain, places)
        except ValueError:
            lost.append(name)
            continue
        if worst is None or found.value < worst.value:
            worst = found
    if not lost:
        return worst, ()
    note = f"How far {', '.join(lost)} lies from the drain is not known: tape it and write it behind the name."
    return worst, (note,)
