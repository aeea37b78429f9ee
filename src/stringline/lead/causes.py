"""What makes a leading edge run crooked: the causes, how likely each is before a reading, and what is done about it.

A cause is a departure (:mod:`stringline.mechanics.deviations`) with a sign, so that its amount is never negative.
Chances and sizes are practice, without a published source: they order causes that the readings leave open, and never
outvote a clear reading.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from stringline.finding import Finding, finding
from stringline.worked import Kind


@dataclass(frozen=True, slots=True)
class Family:
    """One family of causes. ``most`` is the largest amount worth believing, in the field's unit."""

    key: str
    field: str  # of Deviations; {side} stands for the side
    title: str  # code of what it is
    action: str  # code of what is done about it
    chance: float  # before any reading, both sides together
    most: float
    kind: Kind
    sides: tuple[str, ...] = ("drive", "idle")


FAMILIES: tuple[Family, ...] = (
    Family("rope-length", "start_m", "lead.rope-too-long", "lead.take-up-rope", 0.24, 0.10, Kind.LENGTH),
    Family("reel-stacking", "early_turns", "lead.reel-stacks-soon", "lead.rewind-reel", 0.12, 1.0, Kind.TURNS),
    Family("reel-size", "reel_radius_m", "lead.reel-winds-more", "lead.pair-reels", 0.08, 0.002, Kind.LENGTH),
    Family("rope-stretch", "stretch_{side}", "lead.rope-stretches", "lead.replace-rope", 0.03, 0.5, Kind.RATIO),
    Family("hem-drag", "drag_{side}_n_m", "lead.hem-drags", "lead.clean-track", 0.10, 40.0, Kind.STIFFNESS),
    Family("slider-drag", "drag_{side}_n", "lead.slider-drags", "lead.look-at-slider", 0.08, 600.0, Kind.FORCE),
    Family("tight-spot", "pinch_n", "lead.track-is-tight", "lead.open-track", 0.12, 2500.0, Kind.FORCE),
    Family("square", "square_m", "lead.cover-longer", "lead.take-up-cover", 0.10, 0.08, Kind.LENGTH),
    Family("hem-roll", "hem_drive_m", "lead.hem-winds-thick", "lead.rewind-hem", 0.08, 0.0003, Kind.LENGTH),
    Family("both-drag", "both", "lead.both-drag", "lead.measure-gauge", 0.05, 30.0, Kind.STIFFNESS, ("both",)),
)
BY_KEY = {f.key: f for f in FAMILIES}

# Signed fields: + when the named side is this one.
_PLUS_SIDE = {
    "start_m": "idle",  # the longer rope lets its side fall behind
    "early_turns": "drive",
    "reel_radius_m": "drive",
    "square_m": "drive",
    "hem_drive_m": "drive",
}
_OTHER = {"drive": "idle", "idle": "drive", "both": "both"}
# What the amount is called among a finding's values, so that it is written in its unit.
_AMOUNT = {
    Kind.LENGTH: "amount_m",
    Kind.TURNS: "turns",
    Kind.RATIO: "amount_share",
    Kind.STIFFNESS: "amount_n_m",
    Kind.FORCE: "amount_n",
}


@dataclass(frozen=True, slots=True)
class Cause:
    """A cause on one side and, for a tight spot, at one station.

    ``fields`` gives each departure for an amount of one.
    """

    family: Family
    side: str
    chance: float
    fields: tuple[tuple[str, float], ...]
    at_m: float | None = None

    @property
    def name(self) -> tuple[str, str]:
        """Family and side: what a person would call one cause."""
        return (self.family.key, self.side)

    @property
    def title(self) -> Finding:
        """What it is."""
        return finding(self.family.title, side=self.side)


def fields_of(key: str, side: str) -> tuple[tuple[str, float], ...]:
    """Departures that an amount of one of this cause makes; KeyError for a cause that is not known.

    A longer rope on the idle side is + in ``start_m``, on the drive side −:

    >>> fields_of("rope-length", "idle"), fields_of("rope-length", "drive")
    ((('start_m', 1.0),), (('start_m', -1.0),))
    """
    family = BY_KEY[key]
    if family.field == "both":
        return (("drag_drive_n_m", 1.0), ("drag_idle_n_m", 1.0))
    plus = _PLUS_SIDE.get(family.field)
    return ((family.field.format(side=side), 1.0 if plus in (None, side) else -1.0),)


def every_cause(spots_m: Iterable[float]) -> tuple[Cause, ...]:
    """Every cause on every side, tight spots at every one of these stations; chances before any reading add up to 1.

    >>> len(every_cause([2.0, 5.0])), round(sum(c.chance for c in every_cause([2.0, 5.0])), 9)
    (21, 1.0)
    """
    spots = tuple(spots_m)
    found = []
    for f in FAMILIES:
        for side in f.sides:
            chance = f.chance / len(f.sides)
            if f.key == "tight-spot":
                found += [Cause(f, side, chance / len(spots), fields_of(f.key, side), at) for at in spots]
            else:
                found.append(Cause(f, side, chance, fields_of(f.key, side)))
    return tuple(found)


def action(key: str, side: str, amount: float, at_m: float | None = None) -> Finding:
    """What to do about so much of a cause; ``amount`` in the SI unit of its family's kind.

    >>> print(action("rope-length", "idle", 0.06))
    lead.take-up-rope(side=idle, other=drive, amount_m=0.06)
    """
    family = BY_KEY[key]
    values = {"side": side, "other": _OTHER[side], _AMOUNT[family.kind]: amount}
    return finding(family.action, **values) if at_m is None else finding("lead.open-track-at", at_m=at_m, **values)
