"""Lead along the whole travel, both ways, for many samples at once.

A state needs the rope that each reel has taken in and the hem that each side has paid out, counted unstretched. Rope
goes onto a reel with the stretch it has at that moment and keeps it there, so a pull that is the same all the way
leaves a lag that is the same all the way, although the free rope gets shorter; what makes the lag grow is drag that
grows. The same holds for hems on the drum (source ``lead-history``). The run is therefore marched from station to
station by the trapezoid rule, each step one closed form of :mod:`stringline.mechanics.lead_state` over all samples.

Arrays have stations first, samples second.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringline.geometry import Array
from stringline.mechanics import reel
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.lead_state import Pair, closing_state, opening_state
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
    end: Pair  # (n,) drag at the slider
    per_m: Pair  # (n,) drag for every metre of hem in the track
    pinched: bool  # whether any sample has a tight spot

    @classmethod
    def of(cls, machine: Machine, dev: Deviations, s: Array) -> _Course:
        """Lay the drags out over stations and samples."""
        scale = np.asarray(dev.drag_scale)
        end, per = machine.drag.end_n * scale, machine.drag.per_m * scale
        return cls(
            machine,
            dev,
            s,
            machine.reel_radius_m(s),
            machine.drum_radius_m(s),
            Pair(np.asarray(end + dev.drag_drive_n), np.asarray(end + dev.drag_idle_n)),
            Pair(np.asarray(per + dev.drag_drive_n_m), np.asarray(per + dev.drag_idle_n_m)),
            bool(np.any(np.asarray(dev.pinch_n) != 0.0)),
        )

    def along(self, j: int) -> Pair:
        """Drag spread along the hems at station j, (n,)."""
        return Pair(self.per_m.drive * self.s[j], self.per_m.idle * self.s[j])

    def drag(self, j: int, lead_m: Array | float) -> Pair:
        """All drag at station j, (n,); a tight spot is met by each side at its own station, half the lead apart."""
        a = self.along(j)
        drive, idle = a.drive + np.asarray(self.end.drive), a.idle + np.asarray(self.end.idle)
        if not self.pinched:
            return Pair(drive, idle)
        share = np.asarray(self.dev.pinch_drive)
        ahead = np.asarray(lead_m) / 2.0
        return Pair(drive + share * self.spot(self.s[j] + ahead), idle + (1.0 - share) * self.spot(self.s[j] - ahead))

    def spot(self, x: Array) -> Array:
        """Drag of the tight spot on a slider at x."""
        d = self.dev
        return np.asarray(np.exp(-0.5 * np.square((x - d.pinch_at_m) / d.pinch_width_m)) * d.pinch_n)

    def reel_difference_m(self) -> Array:
        """Rope that the drive-side reel has wound in excess of the idle one, by their shapes alone, (k, n)."""
        m, dev = self.machine, self.dev
        turned = np.asarray(m.reel_turns(self.s))[:, None]
        early = np.asarray(dev.early_turns, dtype=float)
        out = np.zeros((self.s.size, 1))
        if np.any(early != 0.0):
            # Giving way e turns sooner is a reel that is e turns further on.
            ahead = m.dead_turns + np.abs(early)
            plain = reel.length_at(m.laid, turned) - reel.length_at(m.laid, m.dead_turns)
            more = reel.length_at(m.laid, turned + np.abs(early)) - reel.length_at(m.laid, ahead)
            out = np.sign(early) * (more - plain)
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


def lead_run(
    machine: Machine, dev: Deviations, stations: int | Array = 60, *, settle: bool = True, slack: bool = True
) -> LeadRun:
    """March one cycle: closing, opening and, with ``settle``, closing again on hems as the opening wound them.

    ``stations`` is how many even ones, or the stations themselves, rising from open to closed. Without ``slack`` the
    slack sides are not worked out and stand as nought, which saves time over many samples.
    """
    s = machine.stations(stations) if isinstance(stations, int) else np.asarray(stations, dtype=float)
    course = _Course.of(machine, dev, s)
    shapes, hem = course.reel_difference_m(), course.hem_difference_m()
    taken, shut, shut_slack = _close(course, shapes, hem, slack)
    paid, back, back_slack = _open(course, taken, hem, slack)
    if settle:
        taken, shut, shut_slack = _close(course, shapes, paid, slack)
    close_nm, open_nm = _torques(course)
    shape = shut.shape if dev.samples is not None else (s.size,)

    def give(a: Array) -> Array:
        return np.broadcast_to(a, shut.shape).reshape(shape)

    def sign(a: Signs) -> Signs:
        return np.broadcast_to(a, shut.shape).reshape(shape)

    return LeadRun(s, give(shut), give(-back), sign(shut_slack), sign(back_slack), give(close_nm), give(open_nm))


def _close(c: _Course, shapes: Array, hem: Array, want_slack: bool) -> tuple[Array, Array, Signs]:
    """March the closing: rope taken in (unstretched, drive less idle), lead and slack, each (k, n)."""
    m, dev, s = c.machine, c.dev, c.s
    k, n = s.size, dev.samples or 1
    pull = m.guide / m.pulley_efficiency * m.jam_closing  # at the reel for one newton at the slider
    soft = Pair(1.0 + np.asarray(dev.stretch_drive), 1.0 + np.asarray(dev.stretch_idle))
    mean, uneven = soft.mean, soft.difference
    even = not np.any(uneven)
    strain = pull / m.rope_ea_n
    plain = m.jam_closing * m.rope_give_m_n(s, 1.0 / m.pulley_efficiency)
    twist = twist_share(m, c.reel_radius) * pull
    hem_soft = m.hem_free_m(s) / m.hem_ea_n
    shared = m.drum_brake_nm * m.guide / c.drum_radius
    taken, lead = np.empty((k, n)), np.empty((k, n))
    slack = np.zeros((k, n) if want_slack else (1, 1), dtype=np.int8)
    at = np.broadcast_to(np.asarray(dev.start_m, dtype=float), (n,))
    before: float | Array = 0.0
    for j in range(k):
        half = 0.0 if j == 0 else (s[j] - s[j - 1]) / 2.0
        at = at + (shapes[j] - (shapes[j - 1] if j else 0.0)) - half * before
        along, hems, all_n = c.along(j), Pair(hem_soft[j], hem_soft[j]), shared[j] * dev.brake_scale
        ropes = Pair((plain[j] + half * strain) * soft.drive, (plain[j] + half * strain) * soft.idle + twist[j])
        own = Pair(hem_soft[j] / 2.0 * along.drive, hem_soft[j] / 2.0 * along.idle)
        drag = c.drag(j, lead[j - 1] if j else 0.0)
        st = closing_state(at, hem[j], ropes, hems, drag, own, all_n)
        if c.pinched:  # where a tight spot is met depends on the lead, which depends on it: once more
            drag = c.drag(j, st.lead_m)
            st = closing_state(at, hem[j], ropes, hems, drag, own, all_n)
        before = strain * mean * (st.difference_n + drag.difference)
        if not even:
            before = before + strain * uneven * (st.shared_n / 2.0 + drag.mean)
        at = at - half * before
        taken[j], lead[j] = at, st.lead_m
        if want_slack:
            slack[j] = st.slack
    return taken, lead, slack


def _open(c: _Course, taken: Array, hem: Array, want_slack: bool) -> tuple[Array, Array, Signs]:
    """March the opening from the closed end: hem paid out (unstretched, drive less idle), lead and slack, (k, n)."""
    m, dev, s = c.machine, c.dev, c.s
    k, n = taken.shape
    soft = Pair(1.0 + np.asarray(dev.stretch_drive), 1.0 + np.asarray(dev.stretch_idle))
    plain = m.rope_give_m_n(s, m.pulley_efficiency)
    twist = twist_share(m, c.drum_radius) * m.guide
    hem_soft = m.hem_free_m(s) / m.hem_ea_n
    strain = m.guide / m.hem_ea_n
    shared = m.reel_brake_nm * m.guide / (m.pulley_efficiency * c.reel_radius)
    paid, lead = np.empty((k, n)), np.empty((k, n))
    slack = np.zeros((k, n) if want_slack else (1, 1), dtype=np.int8)
    at = np.broadcast_to(hem[-1], (n,))
    before: float | Array = 0.0
    for j in range(k - 1, -1, -1):
        half = 0.0 if j == k - 1 else (s[j + 1] - s[j]) / 2.0
        at = at + half * before + (0.0 if j == k - 1 else hem[j] - hem[j + 1])
        along, all_n = c.along(j), shared[j] * dev.brake_scale
        # All the drag pulls at the drum; of what is spread along the hem, half stretches it on the way there.
        whole, spread = hem_soft[j] + half * strain, hem_soft[j] / 2.0
        hems = Pair(whole, whole + twist[j])
        ropes = Pair(plain[j] * soft.drive, plain[j] * soft.idle)
        drag = c.drag(j, lead[j + 1] if j < k - 1 else 0.0)
        st = opening_state(taken[j], at, ropes, hems, _stretched(hems, drag, along, spread), all_n, m.jam_opening)
        if c.pinched:
            drag = c.drag(j, st.lead_m)
            st = opening_state(taken[j], at, ropes, hems, _stretched(hems, drag, along, spread), all_n, m.jam_opening)
        before = strain * (m.jam_opening * st.difference_n + drag.difference)
        at = at + half * before
        paid[j], lead[j] = at, st.lead_m
        if want_slack:
            slack[j] = st.slack
    return paid, lead, slack


def _stretched(hems: Pair, drag: Pair, along: Pair, spread: float) -> Pair:
    """Stretch of each hem from all drag on its side, less what the drag along it does not stretch."""
    return Pair(hems.drive * drag.drive - spread * along.drive, hems.idle * drag.idle - spread * along.idle)


def _torques(c: _Course) -> tuple[Array, Array]:
    """Torque at the shaft, closing and opening, (k, n)."""
    m, dev = c.machine, c.dev
    # Linear in brake, drag at the ends and drag a metre, and in nothing else that samples differ in: one product.
    ends, per_m = np.asarray(c.end.drive) + c.end.idle, np.asarray(c.per_m.drive) + c.per_m.idle
    differ = np.stack(np.broadcast_arrays(np.atleast_1d(dev.brake_scale), ends, per_m))
    hems = m.drum_brake_nm * m.guide / c.drum_radius
    at_reel = m.jam_closing * (m.guide / m.pulley_efficiency) * c.reel_radius
    shut = np.stack([at_reel * hems, at_reel, at_reel * c.s], axis=1) @ differ
    ropes = m.jam_opening * m.reel_brake_nm * m.guide / (m.pulley_efficiency * c.reel_radius)
    at_drum = m.guide * c.drum_radius
    back = np.stack([at_drum * ropes, at_drum, at_drum * c.s], axis=1) @ differ
    if c.pinched:
        spot = c.spot(c.s[:, None])
        shut, back = shut + at_reel[:, None] * spot, back + at_drum[:, None] * spot
    return shut, back


def _running_integral(y: Array, x: Array) -> Array:
    """Trapezoid integral from the first station up to each, (k, 1)."""
    step = np.diff(x, axis=0) * (y[1:] + y[:-1]) / 2.0
    return np.concatenate([np.zeros((1, 1)), np.cumsum(step, axis=0)])
