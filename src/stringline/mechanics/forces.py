"""Laws between one pull and the next along a rope or a hem, and between torque and current.

Friction laws are standard, their coefficients are the catalogue's. Newtons, metres, radians, amperes; μ, η and factors
have no unit. Arguments are floats or arrays of any shapes that broadcast, and the result has the broadcast shape.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stringline.finding import Refused
from stringline.geometry import Array
from stringline.system.model import Friction, LeadingEdge, Motor, Rope

Real = float | Array
GRAVITY = 9.80665
"""Standard gravity, m/s²."""


def capstan(low_n: Real, mu: Real, wrap_rad: Real) -> Array:
    """Pull behind a guide that stands still, T = T₀·e^(μβ), for the pull ``low_n`` before it.

    ``mu`` ≥ 0, ``wrap_rad`` the angle of contact, more than a turn allowed. Holds for a limp line about to slide; a
    stiff or wet line that grips needs more. Source ``capstan``.

    >>> round(float(capstan(100.0, 0.2, 1.57)), 1)
    136.9
    """
    return np.asarray(low_n * np.exp(np.multiply(mu, wrap_rad)))


def over_pulley(low_n: Real, efficiency: Real) -> Array:
    """Pull behind one turning pulley, T = T₀/η, for the pull ``low_n`` before it.

    0 < ``efficiency`` ≤ 1: about 0.96 on rollers and 0.92 on a plain bearing, at a half turn. Source ``sheave``.

    >>> round(float(over_pulley(100.0, 0.92)), 1)
    108.7
    """
    return np.asarray(np.divide(low_n, efficiency))


def jam_eccentricity_m(guided_m: float, mu: float) -> float:
    """Farthest that the pull may stand off the track before a slider jams, e = ℓ/(2μ); infinite without friction.

    ``guided_m`` ℓ is the length between the slider's two points of contact. The pull is along the track and the
    friction alike at both points. Source ``sticking-drawer``. Raises ValueError for ℓ ≤ 0 or μ < 0.

    >>> jam_eccentricity_m(0.15, 0.25)
    0.3
    """
    if guided_m <= 0.0 or mu < 0.0:
        raise ValueError("a slider has a guided length, and its friction is not negative")
    return math.inf if mu == 0.0 else guided_m / (2.0 * mu)


def jam_margin(guided_m: float, eccentricity_m: float, mu: float) -> float:
    """How many times the present eccentricity it would take to jam, ℓ/(2μe): 1 is jammed, infinite where nothing can.

    >>> round(jam_margin(0.15, 0.02, 0.2), 2)
    18.75
    """
    if eccentricity_m == 0.0:
        return math.inf
    return jam_eccentricity_m(guided_m, mu) / abs(eccentricity_m)


def pull_factor(guided_m: float, eccentricity_m: float, mu: float) -> float:
    """How many times harder than straight an eccentric pull must be, 1/(1 − 2μe/ℓ); infinite once jammed.

    Source ``sticking-drawer``.

    >>> round(pull_factor(0.15, 0.02, 0.2), 4), pull_factor(0.15, 0.4, 0.2)
    (1.0563, inf)
    """
    share = 2.0 * mu * abs(eccentricity_m) / guided_m
    return math.inf if share >= 1.0 else 1.0 / (1.0 - share)


@dataclass(frozen=True, slots=True)
class Drag:
    """Resistance of one side to sliding: a part at the slider, and a part for every metre of hem in the track.

    >>> float(Drag(60.0, 1.6).at(10.0))
    76.0
    """

    end_n: Real
    per_m: Real

    def at(self, station_m: Real) -> Array:
        """Whole drag of one side with the leading edge at that station, end + per·s."""
        return np.asarray(self.end_n + self.per_m * np.asarray(station_m))


def side_drag(
    friction: Friction, edge: LeadingEdge, gauge_m: float, *, wet: bool = True, side_load_n_m: float | None = None
) -> Drag:
    """Drag of one side from the catalogue: seal + μ·(half the leading edge's weight), and μ·(side load) a metre of hem.

    ``side_load_n_m`` replaces the catalogue's side load of the hem, which the hanging strip and so the water level set.
    Left out: the lip of water pushed ahead, wind and ice.
    """
    mu = friction.hem_wet if wet else friction.hem_dry
    load = friction.hem_side_load_n_m if side_load_n_m is None else side_load_n_m
    half_edge = edge.mass_per_m * gauge_m / 2.0 * GRAVITY
    return Drag(friction.seal_n + friction.slider * half_edge, mu * load)


def design_factor(rope: Rope, peak_n: float) -> float:
    """Break load × knot efficiency over the peak pull (source ``design-factor``). Raises Refused without a pull.

    ``peak_n`` is the pull of the steady run: what a stalled motor can pull is more, and not in it.
    """
    if not peak_n > 0.0:
        raise Refused("mechanics.no-pull")
    return rope.break_load_n * rope.knot_efficiency / peak_n


def shaft_power_w(torque_nm: Real, omega_rad_s: Real) -> Array:
    """Power at the drum or reel shaft, P = T·ω."""
    return np.asarray(np.multiply(torque_nm, omega_rad_s))


def current_a(motor: Motor, torque_nm: Real) -> Array:
    """Motor current at a shaft torque: a straight line from the no-load to the full-load current.

    I = I₀ + (I₁ − I₀)·T/T₁ with I₀ = ``no_load_share``·I₁ at T = 0 and I₁ at the rated torque T₁. For a motor that
    runs; it says nothing of starting or of one that is stalled. Practice, source ``motor-line``.
    """
    idle = motor.no_load_share * motor.full_load_a
    return np.asarray(idle + (motor.full_load_a - idle) * np.asarray(torque_nm) / motor.rated_torque_nm)


def torque_from_current_nm(motor: Motor, current: Real) -> Array:
    """Shaft torque that goes with a logged current, :func:`current_a` read backwards; negative below no load."""
    idle = motor.no_load_share * motor.full_load_a
    return np.asarray((np.asarray(current) - idle) * motor.rated_torque_nm / (motor.full_load_a - idle))
