"""What makes a leading edge run crooked: the causes, how likely each is before a reading, and what is done about it.

A cause is a departure with a sign, so that its amount is never negative. Chances and sizes are practice, without a
published source: they order causes that the readings leave open, and never outvote a clear reading.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from stringline.lengths import Unit, format_amount, format_length
from stringline.quantities import amount as quantity
from stringline.worked import Kind


@dataclass(frozen=True, slots=True)
class Kinds:
    """One family of causes. ``most`` is the largest amount worth believing, in the field's unit."""

    key: str
    field: str  # of Deviations; {side} stands for the side
    title: str
    chance: float  # before any reading, both sides together
    most: float
    kind: Kind
    sides: tuple[str, ...] = ("drive", "idle")


FAMILIES: tuple[Kinds, ...] = (
    Kinds("rope-length", "start_m", "The {side}-side rope is too long", 0.24, 0.10, Kind.LENGTH),
    Kinds("reel-stacking", "early_turns", "The {side}-side reel stacks too soon", 0.12, 1.0, Kind.TURNS),
    Kinds("reel-size", "reel_radius_m", "The {side}-side reel winds more a turn", 0.08, 0.002, Kind.LENGTH),
    Kinds("rope-stretch", "stretch_{side}", "The {side}-side rope stretches more", 0.03, 0.5, Kind.RATIO),
    Kinds("hem-drag", "drag_{side}_n_m", "The {side}-side hem drags in its track", 0.10, 40.0, Kind.STIFFNESS),
    Kinds("slider-drag", "drag_{side}_n", "The {side}-side slider drags all the way", 0.08, 600.0, Kind.FORCE),
    Kinds("tight-spot", "pinch_n", "A tight spot in the {side}-side track", 0.12, 2500.0, Kind.FORCE),
    Kinds("square", "square_m", "The cover is longer on the {side} side", 0.10, 0.08, Kind.LENGTH),
    Kinds("hem-roll", "hem_drive_m", "The {side}-side hem winds up thicker", 0.08, 0.0003, Kind.LENGTH),
    Kinds(
        "both-drag",
        "both",
        "Both sides drag: the tracks stand too close or too far",
        0.05,
        30.0,
        Kind.STIFFNESS,
        ("both",),
    ),
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


@dataclass(frozen=True, slots=True)
class Variant:
    """A cause on one side and, for a tight spot, at one station.

    ``fields`` gives each departure for an amount of one.
    """

    family: Kinds
    side: str
    chance: float
    fields: tuple[tuple[str, float], ...]
    at_m: float | None = None

    @property
    def name(self) -> tuple[str, str]:
        """Family and side: what a person would call one cause."""
        return (self.family.key, self.side)

    @property
    def title(self) -> str:
        """In words."""
        return self.family.title.format(side=self.side)


def fields_of(key: str, side: str) -> tuple[tuple[str, float], ...]:
    """Departures that an amount of one of this cause makes; KeyError for a cause that is not known."""
    family = BY_KEY[key]
    if family.field == "both":
        return (("drag_drive_n_m", 1.0), ("drag_idle_n_m", 1.0))
    plus = _PLUS_SIDE.get(family.field)
    return ((family.field.format(side=side), 1.0 if plus in (None, side) else -1.0),)


def variants(spots_m: Iterable[float]) -> tuple[Variant, ...]:
    """Every cause on every side, tight spots at every one of these stations."""
    spots = tuple(spots_m)
    found = []
    for f in FAMILIES:
        for side in f.sides:
            chance = f.chance / len(f.sides)
            if f.key == "tight-spot":
                found += [Variant(f, side, chance / len(spots), fields_of(f.key, side), at) for at in spots]
            else:
                found.append(Variant(f, side, chance, fields_of(f.key, side)))
    return tuple(found)


def amount_text(key: str, amount: float, unit: Unit) -> str:
    """An amount as the shop says it."""
    family = BY_KEY[key]
    if family.kind is Kind.LENGTH:
        if amount < 0.002:
            return f"{amount * 1000:.2f} mm" if unit in (Unit.M, Unit.MM) else f"{amount / 0.0254:.4f} in"
        return format_amount(amount, unit, step=None if unit in (Unit.M, Unit.MM) else 0.0254 / 8)
    if family.kind is Kind.TURNS:
        return f"{amount:.1f} turns"
    if family.kind is Kind.RATIO:
        return f"{amount:.0%}"
    return quantity(amount, family.kind, unit)


def action_text(key: str, side: str, amount: float, unit: Unit, at_m: float | None = None) -> str:
    """What to do about it, in shop terms."""
    much = amount_text(key, amount, unit)
    other = "idle" if side == "drive" else "drive"
    if key == "rope-length":
        return f"Take up {much} on the {side}-side rope."
    if key == "reel-stacking":
        return f"Run the {side}-side reel empty and wind it again turn beside turn: it climbs {much} too soon."
    if key == "reel-size":
        return f"Measure both reel barrels and both ropes; pair them. The {side}-side reel is {much} larger in radius."
    if key == "rope-stretch":
        return (
            f"Replace the {side}-side rope, or both from one coil: it stretches {much} more than the {other}-side rope."
        )
    if key == "hem-drag":
        return f"Clean and align the {side}-side track along its length: it takes {much} more than it should."
    if key == "slider-drag":
        return f"Look at the {side}-side slider, its guide and its rope: something rubs with {much} all the way."
    if key == "tight-spot":
        where = "" if at_m is None else f" about {format_length(at_m, unit, step=None)} from the housing"
        return f"Open the {side}-side track{where}: something holds there with about {much}."
    if key == "square":
        return f"Unlace the leading edge and take up {much} on the {side} side of the cover."
    if key == "hem-roll":
        return f"Look at how the {side}-side hem lies on the drum and wind it again: it builds {much} a turn more."
    return f"Measure the gauge along the tracks: both sides take {much} more than they should."
