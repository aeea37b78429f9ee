"""What a job holds for the stages after its layout: the order, the rack, power, drain, control and tasks.

Lengths keep the text they were written with, for an order is a fact and a firm's rack is marked in its own hand. Dates
are text as ISO 8601 writes a day, ``2026-05-04``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from stringline.lengths import Length

FIGURES = (
    "cover_width",
    "cover_length",
    "leading_edge",
    "drum",
    "rope_left",
    "rope_right",
    "housing",
    "lid",
    "fascia",
)
"""Keys of the figures that fix an order's made-to-measure parts."""


@dataclass(frozen=True, slots=True)
class PlacedOrder:
    """An order as it went out: its figures by key (:data:`FIGURES`), the day, and the mark of the plan behind it."""

    figures: Mapping[str, Length]
    date: str | None = None
    mark: str | None = None


@dataclass(frozen=True, slots=True)
class Ordering:
    """``[order]``: what the firm knows of its costs, whether the order waits for the pour, and what went out.

    Costs are in whatever the firm counts in; None where it entered none. ``earlier`` are orders placed before the
    present one, oldest first.
    """

    wrong_order_cost: float | None = None
    day_cost: float | None = None
    days_to_wait: float | None = None
    after_pour: bool = False
    placed: PlacedOrder | None = None
    earlier: tuple[PlacedOrder, ...] = ()


@dataclass(frozen=True, slots=True)
class Rack:
    """``[rack]``: offcuts of track that kept one factory end."""

    offcuts: tuple[Length, ...] = ()


@dataclass(frozen=True, slots=True)
class Power:
    """``[power]``: the motor's supply. None where nobody has said it yet.

    ``run_m`` is the way of the wires from the panel to the motor, one way; ``from_water_m`` how far the motor stands
    from the water's edge; ``conductor`` its size as the trade calls it, ``metal`` copper or aluminium.
    """

    volts: float | None = None
    phases: int | None = None
    breaker_a: float | None = None
    run_m: float | None = None
    conductor: str | None = None
    metal: str | None = None
    from_water_m: float | None = None


@dataclass(frozen=True, slots=True)
class Drain:
    """``[drain]``: water on the cover and in the housing. None where nobody has said it yet.

    ``rain_m`` is the depth of rain in an hour that is reckoned with, ``catchment_m2`` the area that drains into the
    housing besides the lid and ``runoff`` the share of its rain that gets there; ``pipe_m`` the drain pipe's inside
    diameter, ``fall`` its slope (length over length), ``roughness`` Manning's n; ``pump_m3_h`` what the pump on the
    cover moves in an hour.
    """

    rain_m: float | None = None
    catchment_m2: float | None = None
    runoff: float | None = None
    pipe_m: float | None = None
    fall: float | None = None
    roughness: float | None = None
    pump_m3_h: float | None = None


@dataclass(frozen=True, slots=True)
class Control:
    """``[control]``: where the person stands who moves the cover, at a surveyed point, and how high the eyes are."""

    point: str | None = None
    eye_m: float | None = None


@dataclass(frozen=True, slots=True)
class Task:
    """One piece of work: days it takes, what comes before it, its earliest day, the day it was done, and by whom."""

    name: str
    days: float = 1.0
    after: tuple[str, ...] = ()
    earliest: str | None = None
    done: str | None = None
    who: str | None = None
    line: int | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Tasks:
    """``[tasks]``: the work in the order it was listed."""

    listed: tuple[Task, ...] = ()
