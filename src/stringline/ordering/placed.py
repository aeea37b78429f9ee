"""The order that was placed: what a job's ``[order]`` section says was asked for, and what a plan would ask for today.

An order is a fact once it is placed. The job keeps its figures as they were sent, with the mark of the plan they came
from; a later reading changes the plan, never these.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import Any

from stringline.finding import Code, finding, nested
from stringline.job.model import Job
from stringline.lengths import format_length
from stringline.ordering.result import Order, Placed
from stringline.worked import Figure, Origin


@dataclass(frozen=True, slots=True)
class Place:
    """Where a figure stands in an order: its line's key, its number among that line's figures; and its name."""

    line: str
    at: int
    name: Code


FIGURES: dict[str, Place] = {
    "cover_width": Place("cover", 0, "ordering.cover-width"),
    "cover_length": Place("cover", 1, "ordering.cover-length"),
    "leading_edge": Place("leading-edge", 0, "ordering.leading-edge"),
    "drum": Place("drum", 0, "ordering.drum"),
    "rope_left": Place("rope", 0, "ordering.rope-left"),
    "rope_right": Place("rope", 1, "ordering.rope-right"),
    "housing": Place("housing", 0, "ordering.housing"),
    "lid": Place("lid-panel", 1, "ordering.lid"),
    "fascia": Place("fascia", 0, "ordering.fascia"),
}
"""The figures of an order that fix made-to-measure parts, by the key that ``[order] figures`` knows them by."""


def figures_of(order: Order) -> dict[str, Figure]:
    """The figures of an order that fix made-to-measure parts, by key."""
    lines = {line.key: line for line in order.lines}
    return {
        key: lines[place.line].figures[place.at]
        for key, place in FIGURES.items()
        if place.line in lines and place.at < len(lines[place.line].figures)
    }


def mark_of(order: Order) -> str:
    """A short mark that changes with any figure or count of the order (to a tenth of a millimetre).

    >>> from stringline.ordering.result import OrderLine
    >>> def drums(length_m: float, count: int = 1) -> Order:
    ...     figure = Figure.single("ordering.drum", length_m, Origin.CHOSEN)
    ...     return Order("", (OrderLine("drum", "ordering.drum", "", count, (figure,)),))
    >>> mark_of(drums(5.6)) == mark_of(drums(5.60001)), mark_of(drums(5.6)) == mark_of(drums(5.6, 2))
    (True, False)
    """
    parts = [f"{line.key}:{line.count}:{','.join(f'{f.value:.4f}' for f in line.figures)}" for line in order.lines]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:6]


def moved(today: Order, placed: Placed) -> dict[str, float]:
    """Today's figures less those that went out, in metres, of each figure that both have."""
    now = figures_of(today)
    return {k: float(now[k].value - f.value) for k, f in placed.figures.items() if k in now}


def record(order: Order, job: Job, date: str) -> dict[str, Any]:
    """What to write into the job's ``[order]`` when the order goes out."""
    made = {key: format_length(f.value, job.unit) for key, f in figures_of(order).items()}
    return {"date": date, "mark": mark_of(order), "figures": made}


def placed_order(job: Job) -> Placed | None:
    """The order that the job says was placed; None where it says none."""
    sent = None if job.order is None else job.order.placed
    if sent is None:
        return None
    figures = {
        key: Figure.single(finding("ordering.as-ordered", part=nested(FIGURES[key].name)), length.m, Origin.CHOSEN)
        for key, length in sent.figures.items()
    }
    return Placed(figures, sent.date or "", sent.mark or "")
