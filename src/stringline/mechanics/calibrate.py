"""Friction from the current that a motor drew: what the catalogue guesses, the run-in measures."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.mechanics.forces import torque_from_current_nm
from stringline.mechanics.machine import Machine
from stringline.mechanics.regression import linear_fit
from stringline.system.model import Motor


@dataclass(frozen=True, slots=True)
class Calibration:
    """Drag of one side as the currents give it, mean of both sides, with σ."""

    end_n: float
    end_sigma_n: float
    per_m_n: float
    per_m_sigma_n: float
    residual_a: float


def drag_from_currents(machine: Machine, motor: Motor, station_m: Array, current: Array) -> Calibration:
    """Drag at the slider and drag a metre from closing currents logged at three stations or more.

    The straight line of the motor's current is turned into torque, the torque into pull at the slider, and what the
    brake takes is deducted; what is left is a straight line in station. Raises ValueError for fewer than three
    readings.
    """
    s = np.asarray(station_m, dtype=float)
    if s.size < 3:
        raise ValueError("drag needs currents at three stations or more")
    m = machine
    per_amp = float(np.diff(torque_from_current_nm(motor, np.array([0.0, 1.0])))[0])
    lever = 2.0 * m.reel_radius_m(s) * m.guide / m.pulley_efficiency * m.jam_closing
    brake = m.drum_brake_nm / (2.0 * m.drum_radius_m(s)) * m.guide
    drag = torque_from_current_nm(motor, current) / lever - brake
    # An ampere weighs more newtons on a small radius: rows are weighed so that currents, not pulls, count alike.
    weight = per_amp / lever
    fit = linear_fit(np.stack([np.ones_like(s), s], axis=1) / weight[:, None], drag / weight)
    sd = fit.sd
    return Calibration(float(fit.estimate[0]), float(sd[0]), float(fit.estimate[1]), float(sd[1]), fit.residual_sd)
