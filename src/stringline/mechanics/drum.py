"""The drum as a tube: section, sag between its bearings and twist from end to end."""

from __future__ import annotations

import math
from dataclasses import dataclass

from stringline.mechanics.forces import GRAVITY
from stringline.system.model import Drum


@dataclass(frozen=True, slots=True)
class Section:
    """A round tube's section, SI: area m², second moment m⁴, polar second moment m⁴, section modulus m³."""

    area_m2: float
    inertia_m4: float
    polar_m4: float
    modulus_m3: float
    gyration_m: float


def tube(outer_radius_m: float, wall_m: float) -> Section:
    """Section of a round tube. Raises ValueError for a wall that is not between nothing and the radius."""
    if not 0.0 < wall_m <= outer_radius_m:
        raise ValueError("a tube's wall lies between nothing and its radius")
    inner = outer_radius_m - wall_m
    area = math.pi * (outer_radius_m**2 - inner**2)
    inertia = math.pi / 4.0 * (outer_radius_m**4 - inner**4)
    return Section(area, inertia, 2.0 * inertia, inertia / outer_radius_m, math.sqrt(inertia / area))


def sag_m(load_n_m: float, span_m: float, modulus_pa: float, inertia_m4: float) -> float:
    """Sag in the middle of a simply supported beam under an even load, 5wL⁴/(384EI) (source ``beam-sag``)."""
    return 5.0 * load_n_m * span_m**4 / (384.0 * modulus_pa * inertia_m4)


def twist_rad(torque_nm: float, span_m: float, shear_modulus_pa: float, polar_m4: float) -> float:
    """Twist from end to end of a shaft, TL/(GJ) (source ``torsion``)."""
    return torque_nm * span_m / (shear_modulus_pa * polar_m4)


def shaft_compliance_rad(drum: Drum, span_m: float) -> float:
    """Twist of the drum from end to end for one newton-metre."""
    return twist_rad(1.0, span_m, drum.shear_modulus_pa, tube(drum.outer_radius_m, drum.wall_m).polar_m4)


@dataclass(frozen=True, slots=True)
class DrumLoad:
    """What lies on and pulls at the drum, newtons a metre: weight straight down, pull level."""

    tube_n_m: float
    fabric_n_m: float
    pull_n_m: float

    @property
    def down_n_m(self) -> float:
        """Weight a metre."""
        return self.tube_n_m + self.fabric_n_m

    @property
    def resultant_n_m(self) -> float:
        """Weight and pull together."""
        return math.hypot(self.down_n_m, self.pull_n_m)


def drum_load(drum: Drum, span_m: float, wound_m: float, width_m: float, mass_kg_m2: float, pull_n: float) -> DrumLoad:
    """Even load on the drum holding ``wound_m`` of cover ``width_m`` wide and pulled by ``pull_n`` all told.

    The pull comes in near the ends, through the hems; spread evenly it bends the drum more, so this errs on the safe
    side.
    """
    weight = tube(drum.outer_radius_m, drum.wall_m).area_m2 * drum.density_kg_m3 * GRAVITY
    fabric = wound_m * width_m * mass_kg_m2 * GRAVITY / span_m
    return DrumLoad(weight, fabric, pull_n / span_m)
