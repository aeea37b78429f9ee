"""The drum as a tube: section, sag between its bearings and twist from end to end.

Elementary theory of a straight, thin-walled or thick-walled round tube within its elastic range: sag and twist are
proportional to their loads. SI: metres, newtons, pascals, radians; all scalars.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from stringline.mechanics.forces import GRAVITY
from stringline.system.model import Drum


@dataclass(frozen=True, slots=True)
class Section:
    """A round tube's section: area m², second moment I m⁴, polar second moment J m⁴."""

    area_m2: float
    inertia_m4: float
    polar_m4: float


def tube(outer_radius_m: float, wall_m: float) -> Section:
    """Section of a round tube: A = π(R² − r²), I = π(R⁴ − r⁴)/4, J = 2I, with r = R − wall.

    Checked against handbook tables of pipes and hollow sections. Raises ValueError unless 0 < wall ≤ R.

    >>> s = tube(0.0635, 0.003)
    >>> round(s.area_m2 * 1e6), round(s.inertia_m4 * 1e12)
    (1169, 2247503)
    """
    if not 0.0 < wall_m <= outer_radius_m:
        raise ValueError("a tube's wall lies between nothing and its radius")
    inner = outer_radius_m - wall_m
    area = math.pi * (outer_radius_m**2 - inner**2)
    inertia = math.pi / 4.0 * (outer_radius_m**4 - inner**4)
    return Section(area, inertia, 2.0 * inertia)


def sag_m(load_n_m: float, span_m: float, modulus_pa: float, inertia_m4: float) -> float:
    """Sag in the middle of a beam on two bearings under an even load, f = 5wL⁴/(384EI).

    ``load_n_m`` w, ``span_m`` L, ``modulus_pa`` E. For sags so small that slopes may be taken for angles. Source
    ``beam-sag``.

    >>> round(sag_m(60.0, 5.5, 70e9, 2.25e-6) * 1000, 2)
    4.54
    """
    return 5.0 * load_n_m * span_m**4 / (384.0 * modulus_pa * inertia_m4)


def twist_rad(torque_nm: float, span_m: float, shear_modulus_pa: float, polar_m4: float) -> float:
    """Twist from end to end of a round shaft, φ = TL/(GJ) (source ``torsion``).

    >>> round(twist_rad(20.0, 5.5, 26e9, 4.5e-6), 5)
    0.00094
    """
    return torque_nm * span_m / (shear_modulus_pa * polar_m4)


def shaft_compliance_rad(drum: Drum, span_m: float) -> float:
    """Twist of the drum from end to end for one newton-metre, rad/(N·m)."""
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
        """Weight and pull together, at a right angle to each other."""
        return math.hypot(self.down_n_m, self.pull_n_m)


def drum_load(drum: Drum, span_m: float, wound_m: float, width_m: float, mass_kg_m2: float, pull_n: float) -> DrumLoad:
    """Even load on the drum holding ``wound_m`` of cover ``width_m`` wide and pulled by ``pull_n`` all told.

    The pull comes in near the ends, through the hems; spread evenly it bends the drum more, so this errs on the safe
    side.
    """
    weight = tube(drum.outer_radius_m, drum.wall_m).area_m2 * drum.density_kg_m3 * GRAVITY
    fabric = wound_m * width_m * mass_kg_m2 * GRAVITY / span_m
    return DrumLoad(weight, fabric, pull_n / span_m)
