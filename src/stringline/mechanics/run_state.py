"""Pull, torque, speed, current and time over the whole travel, both ways, with both sides alike."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.mechanics.forces import current_a, over_pulleys, shaft_power_w
from stringline.mechanics.machine import Machine
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
    """The reels pull the cover shut against the drum's brake."""
    m, s = machine, machine.stations(stations)
    drag = m.drag.at(s)
    drum_n = m.drum_brake_nm / (2.0 * m.drum_radius_m(s))
    hem_n = drum_n * m.guide
    slider_n = m.jam_closing * (hem_n + drag)
    reel_n = over_pulleys(slider_n * m.guide, m.pulley_efficiency)
    radius = m.reel_radius_m(s)
    return _state("closing", m, motor, s, (drag, slider_n, reel_n, hem_n, drum_n), 2.0 * reel_n * radius, radius)


def opening(machine: Machine, motor: Motor, stations: int = 60) -> RunState:
    """The drum winds the cover in against the reels' brake."""
    m, s = machine, machine.stations(stations)
    drag = m.drag.at(s)
    reel_n = m.reel_brake_nm / (2.0 * m.reel_radius_m(s))
    slider_n = over_pulleys(reel_n * m.guide, m.pulley_efficiency)
    hem_n = m.jam_opening * slider_n + drag
    drum_n = hem_n * m.guide
    radius = m.drum_radius_m(s)
    return _state("opening", m, motor, s, (drag, slider_n, reel_n, hem_n, drum_n), 2.0 * drum_n * radius, radius)


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
