"""An invented job to look at: raw readings of a pool that does not exist, one of them misread."""

from __future__ import annotations

from importlib.resources import files


def demo_job_text() -> str:
    """The text of the demo's job file."""
    return (files("stringline.demo") / "job.toml").read_text("utf-8")
