"""The diagnosis of one job, from its run, its catalogue and its layout."""

from __future__ import annotations

from stringline.job.model import Job
from stringline.layout.result import Layout
from stringline.lead.diagnosis import diagnose
from stringline.lead.result import Diagnosis
from stringline.mechanics.machine import machine_of
from stringline.system.model import System


def diagnose_job(job: Job, system: System, layout: Layout) -> Diagnosis:
    """Diagnose what ``job.run`` holds. Raises ValueError as :func:`stringline.lead.diagnosis.diagnose` does."""
    if job.run is None:
        raise ValueError("a diagnosis needs a lead, closing or opening, at one station or more")
    return diagnose(
        machine_of(system, layout),
        system.motor,
        job.run,
        unit=job.unit,
        drive_side=layout.drive_side,
        lead_sigma_m=system.tolerances.lead_tape_m,
        limit_m=system.limits.lead_m,
    )
