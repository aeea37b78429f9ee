"""A job as the text of a fresh file: what :func:`stringline.job.read.read_job` reads back without loss."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from stringline.document.toml_text import toml_key, toml_value
from stringline.job.model import Job
from stringline.job.tree import Tree, tree_of

Remarks = Mapping[tuple[str, ...], str]
"""Remarks by what they stand over: ``()`` the file, ``("survey",)`` a section, ``("survey", "tapes")`` a key."""


def job_toml(job: Job, remarks: Remarks | None = None) -> str:
    """The text of the job's file, a line for each reading; ``remarks`` stand as comments over what they are about.

    Where the coordinates of a job came from a list beside it, the file names that list:
    :func:`stringline.job.coordinates.coordinates_csv` writes it.
    """
    said = remarks or {}
    out = _comment(said.get(()))
    for name, section in tree_of(job).items():
        out += [""] if out else []
        out += [*_comment(said.get((name,))), f"[{name}]"]
        for key, value in section.items():
            if not (name == "run" and key == "earlier"):
                out += [*_comment(said.get((name, key))), f"{toml_key(key)} = {_laid_out(value)}"]
        if name == "run":
            out += _earlier(section.get("earlier", []), said.get(("run", "earlier")))
    return "\n".join(out) + "\n"


def _earlier(runs: list[Tree], remark: str | None) -> list[str]:
    out = []
    for run in runs:
        out += ["", *_comment(remark), "[[run.earlier]]"]
        out += [f"{toml_key(key)} = {_laid_out(value)}" for key, value in run.items()]
    return out


def _laid_out(value: Any) -> str:
    """A list of rows with a line for each, anything else on one line."""
    if isinstance(value, list) and value and all(isinstance(row, list | dict) for row in value):
        return "\n".join(["[", *(f"  {toml_value(row)}," for row in value), "]"])
    return toml_value(value)


def _comment(remark: str | None) -> list[str]:
    return [] if remark is None else [f"# {line}".rstrip() for line in remark.splitlines()]
