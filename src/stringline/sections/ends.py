"""Every end that the housing could stand at, side by side, so that somebody can choose."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stringline.faults import Faults
from stringline.job.model import Job
from stringline.survey.result import Survey
from stringline.system.model import System

if TYPE_CHECKING:
    from stringline.layout.options import Option


def beyond(option: Option, system: System | None) -> tuple[str, ...]:
    """What the catalogue has no parts for at that end, though the cover fits between what stands there."""
    if option.layout is None or system is None:
        return ()
    limits = system.limits
    found = []
    if option.layout.gauge.value > limits.max_width_m:
        found.append("wider than the catalogue allows")
    if option.layout.travel.value > limits.max_length_m:
        found.append("longer than the catalogue allows")
    return tuple(found)


def ends_compared(job: Job, system: System | None, survey: Survey) -> tuple[Option, ...]:
    """The options, the one taken first and those that do not fit last; () where pool, cover or catalogue is missing.

    Also () where an input cannot be used at all, which the layout then says.
    """
    if system is None or job.pool is None or job.cover is None:
        return ()
    from stringline.layout.options import options

    try:
        return options(survey, job.pool, job.cover, system, job.unit)
    except Faults:
        return ()
