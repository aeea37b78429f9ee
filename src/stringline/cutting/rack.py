"""The firm's rack: offcuts of track that kept one factory end, to be used for a last piece."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from stringline.finding import Code, finding
from stringline.job.model import Job
from stringline.lengths import LengthError, Unit, format_length, parse

MOST = 2000


@dataclass(frozen=True, slots=True)
class Offcut:
    """One piece on the rack. ``text`` is its length as it was written on it."""

    length_m: float
    text: str


def rack_of(job: Job) -> tuple[tuple[Offcut, ...], tuple[Code, ...]]:
    """Offcuts that ``[rack] offcuts = ["7' 3\\"", "4' 1\\""]`` lists, and a note for each that cannot be read."""
    section = job.other.get("rack")
    if section is None:
        return (), ()
    listed: Any = section.get("offcuts", []) if isinstance(section, Mapping) else None
    if not isinstance(listed, list | tuple):
        return (), ("cutting.rack-no-list",)
    found: list[Offcut] = []
    notes: list[Code] = []
    for n, item in enumerate(listed[:MOST], 1):
        try:
            length = parse(item, job.unit)
        except LengthError as why:
            notes.append(finding("cutting.offcut-unreadable", place=n, why=why.why))
            continue
        if length.m > 0:
            found.append(Offcut(length.m, length.text))
    if len(listed) > MOST:
        notes.append(finding("cutting.rack-too-long", most=MOST))
    return tuple(found), tuple(notes)


def rack_after(rack: tuple[float, ...], used: tuple[int, ...], back: tuple[float, ...], unit: Unit) -> tuple[str, ...]:
    """What the rack holds afterwards, longest first, as a job file would list it. ``used`` are places in ``rack``."""
    left = [r for i, r in enumerate(rack) if i not in set(used)]
    return tuple(format_length(r, unit) for r in sorted([*left, *back], reverse=True))
