"""The cover on its drum: a sheet of even thickness winds into a spiral.

The area of a roll's side view equals the area of the sheet's edge, π(R² − R₀²) = t·s, and every relation here follows
from it: R outer radius, R₀ core, t thickness, s length of sheet on the roll, n = (R − R₀)/t turns (source ``spiral``).
It leaves out the spiral's own slant, (t/2πR₀)²/2 of the length at most and a few parts in a hundred thousand for a
cover, and the air between turns, which a catalogue's *packing* stands for.

Metres in, metres out. Arguments are floats or arrays of shapes that broadcast.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.system.model import Drum, Fabric

Real = float | Array


def radius_m(core_m: Real, thickness_m: Real, wound_m: Real) -> Array:
    """Outer radius of a roll, R = √(R₀² + t·s/π), for s ≥ −πR₀²/t.

    >>> round(float(radius_m(0.0635, 0.00275, 11.7)), 4)
    0.1195
    """
    return np.sqrt(np.square(core_m) + np.multiply(thickness_m, wound_m) / math.pi)


def turns(core_m: Real, thickness_m: Real, wound_m: Real) -> Array:
    """Turns on the roll, n = (R − R₀)/t = s/(π(R + R₀)); the latter keeps its digits for a thin sheet.

    >>> round(float(turns(0.0635, 0.00275, 11.7)), 2)
    20.35
    """
    r = radius_m(core_m, thickness_m, wound_m)
    return np.asarray(np.divide(wound_m, math.pi * (r + core_m)))


def radius_after(core_m: Real, thickness_m: Real, turned: Real) -> Array:
    """Outer radius after ``turned`` turns, R = R₀ + t·n."""
    return np.asarray(core_m + np.multiply(thickness_m, turned))


def length_for_turns(core_m: Real, thickness_m: Real, turned: Real) -> Array:
    """Sheet taken up by that many turns, s = πn(2R₀ + tn); the inverse of :func:`turns`.

    >>> round(float(length_for_turns(0.0635, 0.00275, turns(0.0635, 0.00275, 11.7))), 9)
    11.7
    """
    return np.asarray(
        np.multiply(math.pi * np.asarray(turned), 2.0 * np.asarray(core_m) + np.multiply(thickness_m, turned))
    )


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
    """The roll with ``wound_m`` of cover on the drum; hems taken to lie on themselves. Raises ValueError below 0."""
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
    """Room between the roll and the nearest wall of a housing with the drum in its middle; negative where it rubs.

    >>> round(clearance_m(0.12, 0.45, 0.5), 3)
    0.105
    """
    return min(inside_depth_m, inside_height_m) / 2.0 - roll_radius_m
