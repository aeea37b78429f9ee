"""The order that was placed: what a job's ``[order]`` section says was asked for, and what a plan would ask for today.

An order is a fact once it is placed. The job keeps its figures as they were sent, with the mark of the plan they came
from; a later reading changes the plan, never these.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from stringline.cutting.result import Order
from stringline.job.model import Job
from stringline.lengths import LengthError, Unit, format_length, parse
from stringline.worked import Figure, Origin

FIGURES: dict[str, tuple[str, int]] = {
    "cover_width": ("cover", 0),
    "cover_length": ("cover", 1),
    "leading_edge": ("leading-edge", 0),
    "drum": ("drum", 0),
    "rope_left": ("rope", 0),
    "rope_right": ("rope", 1),
    "housing": ("housing", 0),
    "lid": ("lid-panel", 1),
    "fascia": ("fascia", 0),
}


@dataclass(frozen=True, slots=True)
class Placed:
    """Figures as they were ordered, by key; ``date`` and ``mark`` as written, "" where they were not."""

    figures: Mapping[str, Figure]
    date: str = ""
    mark: str = ""
    notes: tuple[str, ...] = ()


def figures_of(order: Order) -> dict[str, Figure]:
    """The figures of an order that fix made-to-measure parts, by key."""
    lines = {line.key: line for line in order.lines}
    return {
        key: lines[line].figures[i]
        for key, (line, i) in FIGURES.items()
        if line in lines and i < len(lines[line].figures)
    }


def mark_of(order: Order) -> str:
    """A short mark that changes with any figure or count of the order (to a tenth of a millimetre)."""
    parts = [f"{line.key}:{line.count}:{','.join(f'{f.value:.4f}' for f in line.figures)}" for line in order.lines]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:6]


def record(order: Order, unit: Unit, date: str) -> dict[str, Any]:
    """What to write into the job's ``[order]`` when the order goes out."""
    made = {key: format_length(f.value, unit) for key, f in figures_of(order).items()}
    return {"date": date, "mark": mark_of(order), "figures": made}


def placed_order(job: Job) -> Placed | None:
    """The order that the job says was placed; None where it says none. What cannot be read is noted and left out."""
    section = job.other.get("order")
    if not isinstance(section, Mapping) or "figures" not in section:
        return None
    written = section["figures"]
    if not isinstance(written, Mapping):
        return Placed({}, notes=("[order] figures is not a table of lengths.",))
    found: dict[str, Figure] = {}
    notes: list[str] = []
    for key, text in written.items():
        if key not in FIGURES:
            notes.append(f"[order] figures.{key} is not a figure of an order: it may be {', '.join(FIGURES)}.")
            continue
        try:
            value = parse(text, job.unit).m
        except LengthError as why:
            notes.append(f"[order] figures.{key}: {why.wrong}; {why.right}.")
            continue
        found[key] = Figure.single(f"{key.replace('_', ' ')}, as ordered", value, Origin.CHOSEN)
    return Placed(found, str(section.get("date", "")), str(section.get("mark", "")), tuple(notes))
