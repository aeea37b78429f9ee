"""Invented jobs to look at: raw readings of pools that do not exist."""

from __future__ import annotations

from importlib.resources import files

DEMOS = {
    "tern-cottage": "job.toml",  # a plain pool after the pour, one reading misread
    "heron-yard": "heron-yard.toml",  # L-shaped, one end bowed, a raised wall, a handrail, levels
}
"""Names of the invented jobs and their files."""


def demo_job_text(name: str = "tern-cottage") -> str:
    """The text of an invented job's file. Raises KeyError for an unknown name."""
    return (files("stringline.demo") / DEMOS[name]).read_text("utf-8")
