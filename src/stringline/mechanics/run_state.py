"""Pull, torque, speed, current and time over the travel, both ways, with both sides alike; and drag from currents.

The run is steady: no inertia, no wind, nobody on the cover. From the brake that gives way, pull goes along rope or hem
to the shaft that is turned: round guides (T·e^(μβ)), through the slider (jam factor), round the far-end pulley (T/η).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.mechanics.forces import current_a, over_pulley, shaft_power_w, torque_from_current_nm
from stringline.mechanics.machine import Machine
from stringline.mechanics.regression import linear_fit
from stringline.system.model import Motor


@dataclass(frozen=True)
class RunState:
    """One run, closing or opening; every array has the shape of ``station_m``, which rises from open to closed.

    ``slider_n`` is the rope's pull at the slider, ``reel_n`` at the reel, ``hem_n`` the hem's at the slider and
    ``drum_n`` at the drum, each of one side. ``torque_nm`` is what the motor's shaft gives, ``elapsed_s`` counts from
    the run's start.
    """

    direction: str  # "closing" | "opening"
    station_m: Array
    drag_n: Array
    slider_n: Array
    reel_n: Array
    hem_n: Array
    drum_n: Array
    torque_nm: Array
    speed_m_s: Array
    power_w: Array
    current_a: Array
    elapsed_s: Array

    @property
    def run_time_s(self) -> float:
        """Whole run."""
        return float(self.elapsed_s.max())


def closing(machine: Machine, motor: Motor, stations: int = 60) -> RunState:
    """The reels pull the cover shut against the drum's brake.

    Hem: half the drum's brake over the roll's radius, times the guide. Slider: jam·(hem + drag). Reel: slider·guide/η.
    Torque: 2·reel·(reel's radius). Arrays have shape (stations,).
    """
    m, s = machine, machine.stations(stations)
    drag = m.drag.at(s)
    drum_n = m.drum_brake_nm / (2.0 * m.drum_radius_m(s))
    hem_n = drum_n * m.guide
    slider_n = m.jam_closing * (hem_n + drag)
    reel_n = over_pulley(slider_n * m.guide, m.pulley_efficiency)
    radius = m.reel_radius_m(s)
    return _state("closing", m, motor, s, (drag, slider_n, reel_n, hem_n, drum_n), 2.0 * reel_n * radius, radius)


def opening(machine: Machine, motor: Motor, stations: int = 60) -> RunState:
    """The drum winds the cover in against the reels' brake.

    Slider: half the reels' brake over their radius, times guide/η. Hem: jam·slider + drag. Drum: hem·guide. Torque:
    2·drum·(roll's radius). Arrays have shape (stations,), stations from open to closed all the same.
    """
    m, s = machine, machine.stations(stations)
    drag = m.drag.at(s)
    reel_n = m.reel_brake_nm / (2.0 * m.reel_radius_m(s))
    slider_n = over_pulley(reel_n * m.guide, m.pulley_efficiency)
    hem_n = m.jam_opening * slider_n + drag
    drum_n = hem_n * m.guide
    radius = m.drum_radius_m(s)
    return _state("opening", m, motor, s, (drag, slider_n, reel_n, hem_n, drum_n), 2.0 * drum_n * radius, radius)


@dataclass(frozen=True, slots=True)
class Calibration:
    """Drag of one side as the currents give it, mean of both sides, with σ: at the slider, and a metre of hem."""

    end_n: float
    end_sigma_n: float
    per_m_n: float
    per_m_sigma_n: float


def drag_from_currents(machine: Machine, motor: Motor, station_m: Array, current: Array) -> Calibration:
    """Drag at the slider and drag a metre from closing currents logged at three stations or more, shape (n,) each.

    :func:`closing` read backwards: the motor's straight line turns current into torque, the reel's radius torque into
    pull at the slider, and what the drum's brake takes is deducted; what is left is fitted with end + per·s. σ comes
    from the scatter of the currents about that line. Raises ValueError for fewer than three readings, or for all at
    one station.
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
    return Calibration(float(fit.estimate[0]), float(sd[0]), float(fit.estimate[1]), float(sd[1]))


def _state(
    direction: str,
    machine: Machine,
    motor: Motor,
    s: Array,
    pulls: tuple[Array, Array, Array, Array, Array],
    torque: Array,
    radius: Array,
) -> RunState:
    """Fill in what follows from torque and radius."""
    drag, slider_n, reel_n, hem_n, drum_n = pulls
    speed = machine.omega_rad_s * radius
    slow = 1.0 / speed
    # Trapezoid on 1/v; layers make v step, which the spacing of the stations resolves to under a second.
    run = np.concatenate([[0.0], np.cumsum(np.diff(s) * (slow[1:] + slow[:-1]) / 2.0)])
    elapsed = run if direction == "closing" else run[-1] - run
    return RunState(
        direction,
        s,
        drag,
        slider_n,
        reel_n,
        hem_n,
        drum_n,
        torque,
        speed,
        shaft_power_w(torque, machine.omega_rad_s) / motor.gear_efficiency,
        current_a(motor, torque),
        elapsed,
    )
