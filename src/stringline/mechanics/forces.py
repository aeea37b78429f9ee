"""Sliding, wrapping and turning resistances; friction laws are standard, their coefficients the catalogue's.

Newtons, metres, radians. Everything broadcasts over arrays.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.finding import Refused
from stringline.geometry import Array
from stringline.system.model import Friction, LeadingEdge, Motor, Rope

Real = float | Array
GRAVITY = 9.80665


def capstan(low_n: Real, mu: Real, wrap_rad: Real) -> Array:
    """Pull on the far side of a stationary guide that rope slides round under ``low_n`` (source ``capstan``)."""
    return np.asarray(low_n * np.exp(np.multiply(mu, wrap_rad)))


def over_pulleys(low_n: Real, efficiency: Real, count: int = 1) -> Array:
    """Pull on the far side of ``count`` turning pulleys, each passing on ``efficiency`` of it (source ``sheave``)."""
    return np.asarray(low_n / np.power(efficiency, count))


@dataclass(frozen=True, slots=True)
class Drag:
    """Resistance of one side to sliding: a part at the slider, and a part for every metre of hem in the track."""

    end_n: Real
    per_m: Real

    def at(self, station_m: Real) -> Array:
        """Whole drag of one side with the leading edge at that station."""
        return np.asarray(self.end_n + self.per_m * np.asarray(station_m))


def side_drag(
    friction: Friction, edge: LeadingEdge, gauge_m: float, *, wet: bool = True, side_load_n_m: float | None = None
) -> Drag:
    """Drag of one side from the catalogue.

    ``side_load_n_m`` replaces the catalogue's side load of the hem, which the hanging strip and so the water level set.
    """
    mu = friction.hem_wet if wet else friction.hem_dry
    load = friction.hem_side_load_n_m if side_load_n_m is None else side_load_n_m
    half_edge = edge.mass_per_m * gauge_m / 2.0 * GRAVITY
    return Drag(friction.seal_n + friction.slider * half_edge, mu * load)


def design_factor(rope: Rope, peak_n: float) -> float:
    """Break load × knot efficiency over the peak pull (source ``design-factor``). Raises Refused without a pull."""
    if not peak_n > 0.0:
        raise Refused("mechanics.no-pull")
    return rope.break_load_n * rope.knot_efficiency / peak_n


def shaft_power_w(torque_nm: Real, omega_rad_s: Real) -> Array:
    """Power at the drum or reel shaft."""
    return np.asarray(np.multiply(torque_nm, omega_rad_s))


def current_a(motor: Motor, torque_nm: Real) -> Array:
    """Motor current at a shaft torque: a straight line from no load to full load (source ``motor-line``)."""
    idle = motor.no_load_share * motor.full_load_a
    return np.asarray(idle + (motor.full_load_a - idle) * np.asarray(torque_nm) / motor.rated_torque_nm)


def torque_from_current_nm(motor: Motor, current: Real) -> Array:
    """Shaft torque that goes with a logged current, the same straight line read backwards."""
    idle = motor.no_load_share * motor.full_load_a
    return np.asarray((np.asarray(current) - idle) * motor.rated_torque_nm / (motor.full_load_a - idle))
