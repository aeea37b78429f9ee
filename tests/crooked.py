"""A second machine to run covers crooked with: nothing linearised, nothing in closed form.

Rope and hem are followed as material: how much unstretched length lies where. Pulls come from exact strains, drag from
each side's own station, the brake from each side's own radius; the one unknown of every step is found by false
position. The program under test shares only the machine's numbers and the reel's layers with it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from stringline.mechanics import reel
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.machine import Machine

Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Crooked:
    """x_drive − x_idle at each station, shape (k, n), closing and opening, and the closing torque."""

    station_m: Array
    closing_m: Array
    opening_m: Array
    torque_nm: Array


class Bench:
    """One machine with the departures of n samples."""

    def __init__(self, machine: Machine, dev: Deviations) -> None:
        self.m = machine
        n = dev.samples or 1

        def full(v: object) -> Array:
            return np.broadcast_to(np.asarray(v, dtype=float), (n,)).copy()

        self.n = n
        self.early = (np.maximum(full(dev.early_turns), 0), np.maximum(-full(dev.early_turns), 0))
        self.extra_radius = (full(dev.reel_radius_m) / 2, -full(dev.reel_radius_m) / 2)
        self.ea = (machine.rope_ea_n / (1 + full(dev.stretch_drive)), machine.rope_ea_n / (1 + full(dev.stretch_idle)))
        scale = full(dev.drag_scale)
        self.end = (machine.drag.end_n * scale + dev.drag_drive_n, machine.drag.end_n * scale + dev.drag_idle_n)
        self.per = (machine.drag.per_m * scale + dev.drag_drive_n_m, machine.drag.per_m * scale + dev.drag_idle_n_m)
        share = full(dev.pinch_drive)
        self.pinch = (full(dev.pinch_n) * share, full(dev.pinch_n) * (1 - share))
        self.pinch_at, self.pinch_width = full(dev.pinch_at_m), full(dev.pinch_width_m)
        self.brake = full(dev.brake_scale)
        self.thick = (machine.hem_m + full(dev.hem_drive_m) / 2, machine.hem_m - full(dev.hem_drive_m) / 2)
        self.start, self.square = full(dev.start_m), full(dev.square_m)

    def reel_length(self, side: int, turned: Array) -> Array:
        e = self.early[side]
        layers = reel.length_at(self.m.laid, turned + e) - reel.length_at(self.m.laid, e)
        return np.asarray(layers + 2 * np.pi * turned * self.extra_radius[side])

    def reel_radius(self, side: int, turned: Array) -> Array:
        return np.asarray(reel.radius_at(self.m.laid, turned + self.early[side]) + self.extra_radius[side])

    def roll_length(self, side: int, turned: Array) -> Array:
        return np.asarray(2 * np.pi * self.m.core_m * turned + np.pi * self.thick[side] * turned**2)

    def slider_drag(self, side: int, x: Array) -> Array:
        """Drag at the slider alone, without what is spread along the hem."""
        bump = np.exp(-0.5 * ((x - self.pinch_at) / self.pinch_width) ** 2)
        return np.asarray(self.end[side] + self.pinch[side] * bump)

    def hem_length(self, side: int, material: Array, pull: Array) -> Array:
        """Stretched length of a hem whose pull grows from ``pull`` at one end by the drag along it."""
        k, f = self.m.hem_ea_n, self.per[side]
        return np.asarray((k + pull) / f * np.expm1(f * material / k))

    def rope_x(self, side: int, material: Array, pull: Array, back_pull: float) -> Array:
        """Station of the slider whose rope has that much material off the reel."""
        back = self.m.rope_back_m / (1 + back_pull * pull / self.ea[side])
        return np.asarray(self.m.pulley_m - (1 + pull / self.ea[side]) * (material - back))

    def run(self, stations: int = 60) -> Crooked:
        s = self.m.stations(stations)
        turned = np.asarray(self.m.drum_turns(s))[:, None] * np.ones(self.n)
        bare = turned[-1]
        hem = (
            self.square
            - (self.roll_length(0, turned) - self.roll_length(0, bare))
            + (self.roll_length(1, turned) - self.roll_length(1, bare))
        )
        rope, _, _ = self.close(s, hem)
        hem, back = self.open(s, rope)
        _, shut, torque = self.close(s, hem)
        return Crooked(s, shut, back, torque)

    def close(self, s: Array, hem: Array) -> tuple[Array, Array, Array]:
        m = self.m
        turned = np.full(self.n, m.dead_turns)
        free = m.pulley_m - s[0] + m.rope_back_m
        material = [free - self.start / 2, free + self.start / 2]
        strain = [np.zeros(self.n), np.zeros(self.n)]
        rope, lead, torque = [], [], []
        for j, at in enumerate(s):
            turn, material, strain, delta, ropes = self.close_step(float(at), hem[j], turned, material, strain, j == 0)
            turned = turned + turn
            lead.append(delta)
            rope.append(material[1] - material[0])
            pull_reel = m.guide / m.pulley_efficiency
            reels = [ropes[i] * pull_reel * self.reel_radius(i, turned) for i in (0, 1)]
            torque.append(reels[0] + reels[1])
        return np.array(rope), np.array(lead), np.array(torque)

    def close_step(
        self, at: float, hem: Array, turned: Array, material: list[Array], strain: list[Array], first: bool
    ) -> tuple[Array, list[Array], list[Array], Array, list[Array]]:
        """Wind the reels on until the edge stands at ``at``: turn, rope off the reels, strain, lead, slider pulls."""
        m = self.m
        pull_reel = m.guide / m.pulley_efficiency
        n_drum = np.asarray(m.drum_turns(at)) * np.ones(self.n)
        radius = [m.core_m + self.thick[0] * n_drum, m.core_m + self.thick[1] * n_drum]
        both = m.drum_brake_nm * self.brake * m.guide
        low, high = -both / radius[1], both / radius[0]
        delta = np.zeros(self.n)
        turn, own = np.zeros(self.n), material

        def sides(q: Array, delta: Array) -> tuple[list[Array], list[Array]]:
            hems = [
                (both + q * radius[1]) / (radius[0] + radius[1]),
                (both - q * radius[0]) / (radius[0] + radius[1]),
            ]
            xs = [at + delta / 2, at - delta / 2]
            ropes = [m.jam_closing * (hems[i] + self.slider_drag(i, xs[i]) + self.per[i] * xs[i]) for i in (0, 1)]
            return hems, ropes

        def rope_lead(q: Array, delta: Array) -> tuple[Array, Array, list[Array], list[Array]]:
            _, ropes = sides(q, delta)
            turn = np.zeros(self.n)
            for _ in range(4):
                eps = [ropes[i] * pull_reel / self.ea[i] for i in (0, 1)]
                own = []
                for i in (0, 1):
                    wound = self.reel_length(i, turned + turn) - self.reel_length(i, turned)
                    mean = eps[i] if first else (eps[i] + strain[i]) / 2
                    own.append(material[i] - wound / (1 + mean))
                lost = m.shaft_rad_nm * self.reel_radius(1, turned + turn) ** 2 * ropes[1] * pull_reel
                x = [
                    self.rope_x(0, own[0], ropes[0], 1 / m.pulley_efficiency),
                    self.rope_x(1, own[1] + lost, ropes[1], 1 / m.pulley_efficiency),
                ]
                mean_x = (x[0] + x[1]) / 2
                turn = turn + (at - mean_x) / (2 * np.pi * self.reel_radius(0, turned + turn))
            return x[0] - x[1], turn, own, eps

        def hem_lead(q: Array, delta: Array) -> Array:
            hems, _ = sides(q, delta)
            v = np.full(self.n, at + m.hem_behind_m)
            for _ in range(3):
                a = self.hem_length(0, v + hem / 2, hems[0])
                b = self.hem_length(1, v - hem / 2, hems[1])
                v = v + (at + m.hem_behind_m - (a + b) / 2)
            return a - b

        q = np.zeros(self.n)
        for _ in range(2):
            q = shared_pull(lambda q, delta=delta: rope_lead(q, delta)[0] - hem_lead(q, delta), low, high)  # type: ignore[misc]
            for _ in range(3):
                delta, turn, own, eps = rope_lead(q, delta)
        return turn, own, eps, delta, sides(q, delta)[1]

    def open(self, s: Array, rope: Array) -> tuple[Array, Array]:
        m = self.m
        k = len(s)
        turned = np.asarray(m.drum_turns(s[-1])) * np.ones(self.n)
        free = s[-1] + m.hem_behind_m
        material = [free + self.square / 2, free - self.square / 2]
        strain = [np.zeros(self.n), np.zeros(self.n)]
        hem, lead = np.empty((k, self.n)), np.empty((k, self.n))
        for j in range(k - 1, -1, -1):
            turn, material, strain, lead[j] = self.open_step(float(s[j]), rope[j], turned, material, strain, j == k - 1)
            turned = turned + turn
            hem[j] = material[0] - material[1]
        return hem, lead

    def open_step(
        self, at: float, rope: Array, turned: Array, material: list[Array], strain: list[Array], first: bool
    ) -> tuple[Array, list[Array], list[Array], Array]:
        """Wind the drum on until the edge stands at ``at``: turn, hem off the drum, strain, lead."""
        m = self.m
        n_reel = np.asarray(m.reel_turns(at)) * np.ones(self.n)
        radius = [self.reel_radius(0, n_reel), self.reel_radius(1, n_reel)]
        both = m.reel_brake_nm * self.brake * m.guide / m.pulley_efficiency
        low, high = -both / radius[1], both / radius[0]
        delta = np.zeros(self.n)

        def sides(q: Array, delta: Array) -> tuple[list[Array], list[Array]]:
            ropes = [
                (both + q * radius[1]) / (radius[0] + radius[1]),
                (both - q * radius[0]) / (radius[0] + radius[1]),
            ]
            xs = [at + delta / 2, at - delta / 2]
            hems = [m.jam_opening * ropes[i] + self.slider_drag(i, xs[i]) for i in (0, 1)]
            return hems, ropes

        def hem_lead(q: Array, delta: Array) -> tuple[Array, Array, list[Array], list[Array]]:
            hems, _ = sides(q, delta)
            xs = [at + delta / 2, at - delta / 2]
            turn = np.zeros(self.n)
            for _ in range(4):
                drum = [m.guide * (hems[i] + self.per[i] * xs[i]) for i in (0, 1)]
                eps = [drum[i] / m.hem_ea_n for i in (0, 1)]
                own = []
                for i in (0, 1):
                    wound = self.roll_length(i, turned + turn) - self.roll_length(i, turned)
                    mean = eps[i] if first else (eps[i] + strain[i]) / 2
                    own.append(material[i] - wound / (1 + mean))
                outer = m.core_m + self.thick[1] * (turned + turn)
                lost = m.shaft_rad_nm * outer**2 * drum[1]
                a = self.hem_length(0, own[0], hems[0])
                b = self.hem_length(1, own[1] + lost, hems[1])
                turn = turn - (at + m.hem_behind_m - (a + b) / 2) / (2 * np.pi * outer)
            return a - b, turn, own, eps

        def rope_lead(q: Array, delta: Array) -> Array:
            _, ropes = sides(q, delta)
            u = np.full(self.n, m.pulley_m - at + m.rope_back_m)
            for _ in range(3):
                a = self.rope_x(0, u - rope / 2, ropes[0], m.pulley_efficiency)
                b = self.rope_x(1, u + rope / 2, ropes[1], m.pulley_efficiency)
                u = u + ((a + b) / 2 - at)
            return a - b

        q = np.zeros(self.n)
        for _ in range(2):
            q = shared_pull(lambda q, delta=delta: rope_lead(q, delta) - hem_lead(q, delta)[0], low, high)  # type: ignore[misc]
            for _ in range(3):
                delta, turn, own, eps = hem_lead(q, delta)
        return turn, own, eps, delta


def shared_pull(gap: Callable[[Array], Array], low: Array, high: Array) -> Array:
    """Where a falling gap is nought, by the Illinois rule on all samples at once; an end where it has one sign
    throughout.
    """
    lo, hi = low.copy(), high.copy()
    at_lo, at_hi = gap(lo), gap(hi)
    end = np.where(at_lo <= 0, low, high)
    q = end.copy()
    inside = (at_lo > 0) & (at_hi < 0)
    side = np.zeros_like(q)
    for _ in range(40):
        width = np.where(inside, at_lo - at_hi, 1.0)
        q = np.where(inside, (at_lo * hi - at_hi * lo) / width, q)
        now = gap(q)
        if np.abs(np.where(inside, now, 0.0)).max() < 1e-9:
            break
        up = now > 0
        lo, hi = np.where(up, q, lo), np.where(up, hi, q)
        # An end that stays twice has its gap halved, or it would never move.
        at_hi = np.where(up, np.where(side > 0, at_hi / 2, at_hi), now)
        at_lo = np.where(up, now, np.where(side < 0, at_lo / 2, at_lo))
        side = np.where(up, 1.0, -1.0)
    return np.asarray(np.where(inside, q, end))


def crooked(machine: Machine, dev: Deviations, stations: int = 60) -> Crooked:
    """Run the second machine."""
    return Bench(machine, dev).run(stations)
