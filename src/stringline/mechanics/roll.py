"""The cover on its drum: a sheet of even thickness winds into a spiral.

All functions take floats or arrays that broadcast, metres in and metres out. The area of a roll's side view equals the
area of the sheet's edge, π(R² − R₀²) = t·s, which gives every relation here (source ``spiral``).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.system.model import Drum, Fabric

Real = float | Array


def radius_m(core_m: Real, thickness_m: Real, wound_m: Real) -> Array:
    """Outer radius of a roll on a core of radius ``core_m`` holding ``wound_m`` of sheet."""
    return np.sqrt(np.square(core_m) + np.multiply(thickness_m, wound_m) / math.pi)


def turns(core_m: Real, thickness_m: Real, wound_m: Real) -> Array:
    """Turns on the roll: its build-up over the sheet's thickness."""
    # (R − R₀)/t loses digits for a thin sheet; the same written without the difference does not.
    r = radius_m(core_m, thickness_m, wound_m)
    return np.asarray(np.divide(wound_m, math.pi * (r + core_m)))


def radius_after(core_m: Real, thickness_m: Real, turned: Real) -> Array:
    """Outer radius after ``turned`` turns."""
    return np.asarray(core_m + np.multiply(thickness_m, turned))


def length_for_turns(core_m: Real, thickness_m: Real, turned: Real) -> Array:
    """Sheet taken up by that many turns."""
    return np.asarray(
        np.multiply(math.pi * np.asarray(turned), 2.0 * np.asarray(core_m) + np.multiply(thickness_m, turned))
    )


def length_on(core_m: Real, thickness_m: Real, outer_m: Real) -> Array:
    """Sheet on a roll measured from core to outside."""
    return np.asarray(math.pi * (np.square(outer_m) - np.square(core_m)) / thickness_m)


def thickness_from_roll(core_m: float, outer_m: float, wound_m: float) -> float:
    """Effective thickness of a sheet from a measured roll: core radius, outer radius, length on it.

    Raises ValueError unless the roll is larger than its core and holds some sheet.
    """
    if not outer_m > core_m >= 0.0:
        raise ValueError("the measured roll must be larger than its core")
    if not wound_m > 0.0:
        raise ValueError("the length on the roll must be more than nothing")
    return math.pi * (outer_m**2 - core_m**2) / wound_m


def thickness_sigma(
    core_m: float, outer_m: float, wound_m: float, sigma_radius_m: float, sigma_length_m: float
) -> float:
    """σ of :func:`thickness_from_roll` from independent σ on outer radius and length (core taken as exact)."""
    t = thickness_from_roll(core_m, outer_m, wound_m)
    by_radius = 2.0 * math.pi * outer_m / wound_m * sigma_radius_m
    by_length = t / wound_m * sigma_length_m
    return math.hypot(by_radius, by_length)


@dataclass(frozen=True, slots=True)
class Roll:
    """The cover wound on its drum in one position.

    The hems carry the pull, so they decide how many turns go on. The middle, being thinner, takes up less in the same
    turns: ``middle_slack_m`` is what it winds up loosely.
    """

    wound_m: float
    turns: float
    hem_radius_m: float
    middle_radius_m: float
    middle_slack_m: float


def effective_thickness_m(fabric: Fabric) -> float:
    """Sheet thickness as it builds up: catalogue thickness × packing."""
    return fabric.thickness_m * fabric.packing


def effective_hem_m(fabric: Fabric) -> float:
    """Hem thickness as it builds up: catalogue thickness × packing."""
    return fabric.hem_thickness_m * fabric.packing


def roll_of(drum: Drum, fabric: Fabric, wound_m: float) -> Roll:
    """The roll with ``wound_m`` of cover on the drum. Raises ValueError for a negative length."""
    if wound_m < 0.0:
        raise ValueError("a drum cannot hold less than nothing")
    core, hem, sheet = drum.outer_radius_m, effective_hem_m(fabric), effective_thickness_m(fabric)
    n = float(turns(core, hem, wound_m))
    taken = float(length_for_turns(core, sheet, n))
    return Roll(
        wound_m=wound_m,
        turns=n,
        hem_radius_m=float(radius_m(core, hem, wound_m)),
        middle_radius_m=float(radius_after(core, sheet, n)),
        middle_slack_m=max(0.0, wound_m - taken),
    )


def clearance_m(roll_radius_m: float, inside_depth_m: float, inside_height_m: float) -> float:
    """Room between the roll and the nearest wall of a housing with the drum in its middle; negative where it rubs."""
    return min(inside_depth_m, inside_height_m) / 2.0 - roll_radius_m
