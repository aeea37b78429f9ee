"""The firm's rack: offcuts of track that kept one factory end, to be used for a last piece."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from stringline.finding import Code, finding
from stringline.job.lists import RackPiece, labelled
from stringline.job.model import Job
from stringline.lengths import LengthError, parse

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


def rack_after(
    rack: Sequence[RackPiece], used: Iterable[str], back: Mapping[str, Sequence[float]]
) -> tuple[tuple[RackPiece, ...], tuple[RackPiece, ...]]:
    """The rack without the pieces whose labels are ``used`` and with what comes back; and what came back, labelled.

    ``back`` are lengths in metres by profile. A label is never given twice, not even one on a piece just cut up.

    >>> after, fresh = rack_after([RackPiece("R7", 2.0, "2 m"), RackPiece("A", 1.0, "1 m")], ["R7"], {"p": [0.7, 1.5]})
    >>> [p.label for p in after], [p.length_m for p in fresh]
    (['A', 'R8', 'R9'], [1.5, 0.7])
    """
    gone = set(used)
    named = any(p.profile for p in rack) or len(back) > 1
    new = [
        RackPiece("", m, None, profile if named else "")
        for profile, lengths in back.items()
        for m in sorted(lengths, reverse=True)
    ]
    fresh = labelled([*rack, *new])[len(rack) :]
    return (*(p for p in rack if p.label not in gone), *fresh), fresh
