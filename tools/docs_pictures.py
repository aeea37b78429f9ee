"""The README's pictures, drawn from the invented demo job by the same code that draws the book."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from stringline.plan import Plan


@cache
def _demo_plan() -> Plan:
    from stringline.demo import demo_job_text
    from stringline.job.read import read_job
    from stringline.plan import plan
    from stringline.system.read import load_system

    job = read_job(demo_job_text(), "demo")
    return plan(job, load_system(job.system))


def pictures() -> dict[str, Callable[[], str]]:
    """Name of each picture under docs/ and the function that draws it."""
    return {}
