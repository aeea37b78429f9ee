"""Lead along the whole travel, both ways, for many samples at once.

A state needs the rope that each reel has taken in and the hem that each side has paid out, counted unstretched. Rope
goes onto a reel with the stretch it has at that moment and keeps it there, so a pull that is the same all the way
leaves a lag that is the same all the way, although the free rope gets shorter; what makes the lag grow is drag that
grows. The same holds for hems on the drum (source ``lead-history``). The run is therefore marched from station to
station by the trapezoid rule, each step one closed form of :mod:`stringline.mechanics.lead` over all samples.

Arrays have stations first, samples second.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringline.geometry import Array
from stringline.mechanics import reel, rope
from stringline.mechanics.deviations import Deviations, Real
from stringline.mechanics.lead import Pair, closing_state, opening_state
from stringline.mechanics.machine import Machine, twist_share

Signs = NDArray[np.int8]


@dataclass(frozen=True)
class LeadRun:
    """Leads over the travel as a person says them: + where the drive side is ahead in the direction of travel.

    So closing, + is the drive side farther from the housing; opening, + is the drive side nearer to it. Shapes (k,) for
    single departures, (k, n) for n samples. ``slack`` is +1 where the drive side's hem (closing) or rope (opening)
    hangs slack, −1 for the idle side's.
    """

    station_m: Array  # (k,), from open to closed
    closing_m: Array
    opening_m: Array
    closing_slack: Signs
    opening_slack: Signs
    closing_torque_nm: Array
    opening_torque_nm: Array


@dataclass(frozen=True)
class _Course:
    """What stays the same during a march: the machine's numbers at each station, and the samples' departures."""

    machine: Machine
    dev: Deviations
    s: Array  # (k,)
    reel_radius: Array  # (k,)
    drum_radius: Array  # (k,)
    drag: tuple[Array, Array]  # (k, n) each, drive and idle, at the slider and along the hem, all told
    along: tuple[Array, Array]  # (k, n) each, the part of it that is spread along the hem

    @classmethod
    def of(cls, machine: Machine, dev: Deviations, s: Array) -> _Course:
        """Lay the drags out over stations and samples."""
        col = s[:, None]
        bump: Real = 0.0
        if np.any(np.asarray(dev.pinch_n) != 0.0):
            bump = np.exp(-0.5 * np.square((col - dev.pinch_at_m) / dev.pinch_width_m)) * dev.pinch_n
        share = np.asarray(dev.pinch_drive)
        scale = np.asarray(dev.drag_scale)
        base_end, base_along = machine.drag.end_n * scale, machine.drag.per_m * scale
        along_d = np.asarray((base_along + dev.drag_drive_n_m) * col)
        along_i = np.asarray((base_along + dev.drag_idle_n_m) * col)
        end_d = base_end + dev.drag_drive_n + bump * share
        end_i = base_end + dev.drag_idle_n + bump * (1.0 - share)
        return cls(
            machine,
            dev,
            s,
            machine.reel_radius_m(s),
            machine.drum_radius_m(s),
            (along_d + end_d, along_i + end_i),
            (along_d, along_i),
        )

    def reel_difference_m(self) -> Array:
        """Rope that the drive-side reel has wound in excess of the idle one, by their shapes alone, (k, n)."""
        m, dev = self.machine, self.dev
        turned = np.asarray(m.reel_turns(self.s))[:, None]
        early = np.asarray(dev.early_turns, dtype=float)
        out = np.zeros((self.s.size, 1))
        if np.any(early != 0.0):
            for sign in (1.0, -1.0):
                e = np.maximum(sign * early, 0.0)
                # Giving way e turns sooner is a reel that is e turns further on.
                more = reel.length_at(m.laid, turned + e) - reel.length_at(m.laid, m.dead_turns + e)
                out = out + sign * more
        wound = turned - m.dead_turns
        layer = (np.asarray(m.reel_radius_m(self.s))[:, None] - m.laid.layer_radius_m[0]) / m.laid.diameter_m
        grows = 2.0 * np.pi * _running_integral(0.5 + layer, wound)
        return np.asarray(out + 2.0 * np.pi * wound * dev.reel_radius_m + grows * dev.rope_diameter_m)

    def hem_difference_m(self) -> Array:
        """Hem paid out at each station, drive less idle, by the rolls' shapes alone, (k, n)."""
        m, dev = self.machine, self.dev
        turned = np.asarray(m.drum_turns(self.s))[:, None]
        bare = float(m.drum_turns(m.closed_m))
        return np.asarray(dev.square_m - np.pi * dev.hem_drive_m * (np.square(turned) - bare**2))


def lead_run(machine: Machine, dev: Deviations, stations: int | Array = 60, *, settle: bool = True) -> LeadRun:
    """March one cycle: closing, opening and, with ``settle``, closing again on hems as the opening wound them.

    ``stations`` is how many even ones, or the stations themselves, rising from open to closed.
    """
    s = machine.stations(stations) if isinstance(stations, int) else np.asarray(stations, dtype=float)
    course = _Course.of(machine, dev, s)
    hem = course.hem_difference_m()
    taken, shut, shut_slack = _close(course, hem)
    paid, back, back_slack = _open(course, taken, hem)
    if settle:
        taken, shut, shut_slack = _close(course, paid)
    close_nm, open_nm = _torques(course)
    shape = shut.shape if dev.samples is not None else (s.size,)

    def give(a: Array) -> Array:
        return np.broadcast_to(a, shut.shape).reshape(shape)

    def sign(a: Signs) -> Signs:
        return a.reshape(shape)

    return LeadRun(s, give(shut), give(-back), sign(shut_slack), sign(back_slack), give(close_nm), give(open_nm))


def _close(c: _Course, hem: Array) -> tuple[Array, Array, Signs]:
    """March the closing: rope taken in (unstretched, drive less idle), lead and slack, each (k, n)."""
    m, dev, s = c.machine, c.dev, c.s
    k = s.size
    pull = m.guide / m.pulley_efficiency * m.jam_closing  # at the reel for one newton at the slider
    soft = Pair(1.0 + np.asarray(dev.stretch_drive), 1.0 + np.asarray(dev.stretch_idle))
    strain = pull / m.rope_ea_n
    plain = m.jam_closing * rope.compliance_m_n(m.rope_out_m(s), m.rope_back_m, m.rope_ea_n, 1.0 / m.pulley_efficiency)
    twist = twist_share(m, c.reel_radius) * pull
    hem_soft = m.hem_free_m(s) / m.hem_ea_n
    shared = m.drum_brake_nm * m.guide / c.drum_radius
    shapes = c.reel_difference_m()
    n = dev.samples or 1
    taken, lead, slack = np.empty((k, n)), np.empty((k, n)), np.empty((k, n), dtype=np.int8)
    at = np.broadcast_to(np.asarray(dev.start_m, dtype=float), (n,))
    before: float | Array = 0.0
    for j in range(k):
        half = 0.0 if j == 0 else (s[j] - s[j - 1]) / 2.0
        at = at + (shapes[j] - (shapes[j - 1] if j else 0.0)) - half * before
        ropes = Pair((plain[j] + half * strain) * soft.drive, (plain[j] + half * strain) * soft.idle + twist[j])
        own = Pair(hem_soft[j] * c.along[0][j] / 2.0, hem_soft[j] * c.along[1][j] / 2.0)
        drag = Pair(c.drag[0][j], c.drag[1][j])
        st = closing_state(at, hem[j], ropes, Pair(hem_soft[j], hem_soft[j]), drag, own, shared[j] * dev.brake_scale)
        before = strain * (soft.drive * (st.drive_n + drag.drive) - soft.idle * (st.idle_n + drag.idle))
        at = at - half * before
        taken[j], lead[j], slack[j] = at, st.lead_m, st.slack
    return taken, lead, slack


def _open(c: _Course, taken: Array, hem: Array) -> tuple[Array, Array, Signs]:
    """March the opening from the closed end: hem paid out (unstretched, drive less idle), lead and slack, (k, n)."""
    m, dev, s = c.machine, c.dev, c.s
    k, n = taken.shape
    soft = Pair(1.0 + np.asarray(dev.stretch_drive), 1.0 + np.asarray(dev.stretch_idle))
    plain = rope.compliance_m_n(m.rope_out_m(s), m.rope_back_m, m.rope_ea_n, m.pulley_efficiency)
    twist = twist_share(m, c.drum_radius) * m.guide
    hem_soft = m.hem_free_m(s) / m.hem_ea_n
    strain = m.guide / m.hem_ea_n
    shared = m.reel_brake_nm * m.guide / (m.pulley_efficiency * c.reel_radius)
    paid, lead, slack = np.empty((k, n)), np.empty((k, n)), np.empty((k, n), dtype=np.int8)
    at = np.broadcast_to(hem[-1], (n,))
    before: float | Array = 0.0
    for j in range(k - 1, -1, -1):
        half = 0.0 if j == k - 1 else (s[j + 1] - s[j]) / 2.0
        shape = 0.0 if j == k - 1 else hem[j] - hem[j + 1]
        at = at + shape + half * before
        drag = Pair(c.drag[0][j], c.drag[1][j])
        along = Pair(c.along[0][j], c.along[1][j])
        # All the drag pulls at the drum; of what is spread along the hem, half stretches it on the way there.
        whole = half * strain
        own = Pair(
            hem_soft[j] * (drag.drive - along.drive / 2.0) + whole * drag.drive,
            hem_soft[j] * (drag.idle - along.idle / 2.0) + (whole + twist[j]) * drag.idle,
        )
        hems = Pair(hem_soft[j] + whole, hem_soft[j] + whole + twist[j])
        ropes = Pair(plain[j] * soft.drive, plain[j] * soft.idle)
        st = opening_state(taken[j], at, ropes, hems, own, shared[j] * dev.brake_scale, m.jam_opening)
        before = strain * (m.jam_opening * (st.drive_n - st.idle_n) + drag.difference)
        at = at + half * before
        paid[j], lead[j], slack[j] = at, st.lead_m, st.slack
    return paid, lead, slack


def _torques(c: _Course) -> tuple[Array, Array]:
    """Torque at the shaft, closing and opening, (k, n)."""
    m, brake = c.machine, np.asarray(c.dev.brake_scale)
    both = c.drag[0] + c.drag[1]
    shared = (m.drum_brake_nm * m.guide / c.drum_radius)[:, None] * brake
    shut = m.jam_closing * (shared + both) * (m.guide / m.pulley_efficiency) * c.reel_radius[:, None]
    ropes = (m.reel_brake_nm * m.guide / (m.pulley_efficiency * c.reel_radius))[:, None] * brake
    back = (m.jam_opening * ropes + both) * m.guide * c.drum_radius[:, None]
    return np.asarray(shut), np.asarray(back)


def _running_integral(y: Array, x: Array) -> Array:
    """Trapezoid integral from the first station up to each, (k, 1)."""
    step = np.diff(x, axis=0) * (y[1:] + y[:-1]) / 2.0
    return np.concatenate([np.zeros((1, 1)), np.cumsum(step, axis=0)])
