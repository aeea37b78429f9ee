"""How far the lead scatters when every part is made and set within its tolerance, and whose fault that is.

Every departure is drawn from a normal law of its own and the machine run out both ways for each draw. A probability
counted in n draws has σ = √(p(1 − p)/n); one of which none was seen may still be 3 in n.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import NormalDist

import numpy as np

from stringline.finding import Code
from stringline.geometry import Array
from stringline.lead.shares import SLICES, VarianceShares
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.machine import Machine
from stringline.mechanics.travel import LeadRun, lead_run


@dataclass(frozen=True, slots=True)
class Tolerance:
    """One departure that scatters: a field of :class:`Deviations`, its middle, σ and lower end, and what narrows it."""

    field: str
    label: Code
    sigma: float
    advice: Code
    mean: float = 0.0
    low: float = -math.inf


def usual(machine: Machine) -> tuple[Tolerance, ...]:
    """Tolerances that practice keeps (no published source; a caller may give its own)."""
    end, per = machine.drag.end_n, machine.drag.per_m
    end, per = float(np.asarray(end)), float(np.asarray(per))
    return (
        Tolerance("start_m", "lead.rope-lengths", 0.006, "lead.cut-ropes-together"),
        Tolerance("early_turns", "lead.stacking", 0.05, "lead.wind-by-hand"),
        Tolerance("reel_radius_m", "lead.barrels", 0.0001, "lead.pair-barrels"),
        Tolerance("rope_diameter_m", "lead.rope-thickness", 0.00005, "lead.one-coil"),
        Tolerance("stretch_drive", "lead.stretch-drive", 0.05, "lead.pull-out-ropes"),
        Tolerance("stretch_idle", "lead.stretch-idle", 0.05, "lead.pull-out-ropes"),
        Tolerance("drag_drive_n", "lead.slider-drive", 0.2 * end, "lead.dress-joints"),
        Tolerance("drag_idle_n", "lead.slider-idle", 0.2 * end, "lead.dress-joints"),
        Tolerance("drag_drive_n_m", "lead.hem-drive", 0.2 * per, "lead.align-track"),
        Tolerance("drag_idle_n_m", "lead.hem-idle", 0.2 * per, "lead.align-track"),
        Tolerance("square_m", "lead.out-of-square", 0.006, "lead.measure-cover"),
        Tolerance("hem_drive_m", "lead.hem-thickness", 5e-6, "lead.one-batch"),
        Tolerance("drag_scale", "lead.friction", 0.2, "lead.log-current", mean=1.0, low=0.2),
        Tolerance("brake_scale", "lead.brakes", 0.2, "lead.set-brakes", mean=1.0, low=0.2),
    )


@dataclass(frozen=True)
class Spread:
    """Scatter of the run. Arrays over stations are (k,), bands (2, k) from 2½ to 97½ % of a first chunk of samples."""

    station_m: Array
    samples: int
    closing_mean_m: Array
    closing_sd_m: Array
    closing_band_m: Array
    opening_mean_m: Array
    opening_sd_m: Array
    opening_band_m: Array
    worst_95_m: float  # highest |lead| of a run: 95 in 100 runs stay below it
    over: int  # samples whose lead passes the limit somewhere
    bind: int  # samples that swing past the sliders' limit or want more torque than the motor's rating
    tolerances: tuple[Tolerance, ...]
    shares: Array  # (inputs,), of the variance of the lead where it scatters most
    at_m: float  # the station where that is
    direction: str  # and the direction: closing | opening

    @property
    def p_over(self) -> float:
        """Probability that the lead passes the limit."""
        return self.over / self.samples

    @property
    def p_bind(self) -> float:
        """Probability of binding."""
        return self.bind / self.samples


@dataclass(frozen=True, slots=True)
class Bounds:
    """What counts as too far."""

    lead_m: float
    swing_rad: float
    torque_nm: float


def spread(
    machine: Machine,
    tolerances: Sequence[Tolerance],
    bounds: Bounds,
    *,
    rng: np.random.Generator,
    samples: int = 8192,
    stations: int = 60,
    chunk: int = 8192,
    around: Deviations | None = None,
) -> Spread:
    """Run ``samples`` machines whose parts scatter, in chunks so that memory stays small.

    ``around`` shifts every sample by known departures (single numbers). Raises ValueError for no samples.
    """
    if samples < 1:
        raise ValueError("at least one sample is needed")
    total = _Totals(len(tolerances), stations)
    done = 0
    while done < samples:
        n = min(chunk, samples - done)
        z = rng.standard_normal((len(tolerances), n))
        run = lead_run(machine, _drawn(tolerances, z, around), stations, slack=False)
        total.add(run, z, machine, bounds)
        done += n
    return total.close(tuple(tolerances), run.station_m)


def halved(tolerances: Sequence[Tolerance], field: str) -> tuple[Tolerance, ...]:
    """The same tolerances with one kept twice as tightly."""
    return tuple(replace(t, sigma=t.sigma / 2.0) if t.field == field else t for t in tolerances)


def _drawn(tolerances: Sequence[Tolerance], z: Array, around: Deviations | None) -> Deviations:
    """Departures for standard normal numbers, (inputs, n)."""
    base = around or Deviations()
    values = {}
    for t, row in zip(tolerances, z, strict=True):
        # A scale stands round 1 of its own accord, so only what the known departures add to that is added.
        shift = float(np.asarray(getattr(base, t.field))) - float(np.asarray(getattr(Deviations(), t.field)))
        drawn = t.mean + t.sigma * row
        values[t.field] = shift + (drawn if math.isinf(t.low) else np.maximum(drawn, t.low))
    return replace(base, **values)


class _Totals:
    """Running sums of a spread."""

    def __init__(self, inputs: int, stations: int) -> None:
        law = NormalDist()
        self.edges = np.array([law.inv_cdf(i / SLICES) for i in range(1, SLICES)])
        self.shares = VarianceShares(inputs)
        self.sums = np.zeros((4, stations))
        self.n = self.over = self.bind = 0
        self.worst: list[Array] = []
        self.bands: tuple[Array, Array] | None = None
        self.at = (0, 0)

    def add(self, run: LeadRun, z: Array, machine: Machine, bounds: Bounds) -> None:
        """Take in a chunk."""
        shut, back = run.closing_m, run.opening_m
        for i, a in enumerate((shut, back)):
            self.sums[2 * i] += a.sum(axis=1)
            self.sums[2 * i + 1] += np.einsum("kn,kn->k", a, a)
        worst = np.maximum(np.abs(shut).max(axis=0), np.abs(back).max(axis=0))
        torque = np.maximum(run.closing_torque_nm.max(axis=0), run.opening_torque_nm.max(axis=0))
        far = worst > machine.gauge_m * math.tan(bounds.swing_rad)
        self.n += worst.size
        self.over += int((worst > bounds.lead_m).sum())
        self.bind += int((far | (torque > bounds.torque_nm)).sum())
        self.worst.append(worst)
        if self.bands is None:
            at = [2.5, 97.5]
            self.bands = (np.percentile(shut, at, axis=1), np.percentile(back, at, axis=1))
            scatter = np.stack([shut.std(axis=1), back.std(axis=1)])
            self.at = divmod(int(scatter.argmax()), scatter.shape[1])
        way, j = self.at
        # The lead itself, with its sign: its absolute value would hide every share in the interplay of the others.
        self.shares.add(np.searchsorted(self.edges, z.T), (shut, back)[way][j])

    def close(self, tolerances: tuple[Tolerance, ...], s: Array) -> Spread:
        """Add up."""
        mean = self.sums[[0, 2]] / self.n
        sd = np.sqrt(np.maximum(0.0, self.sums[[1, 3]] / self.n - np.square(mean)))
        bands = self.bands
        if bands is None:
            raise ValueError("no samples were taken in")
        return Spread(
            station_m=s,
            samples=self.n,
            closing_mean_m=mean[0],
            closing_sd_m=sd[0],
            closing_band_m=bands[0],
            opening_mean_m=mean[1],
            opening_sd_m=sd[1],
            opening_band_m=bands[1],
            worst_95_m=float(np.percentile(np.concatenate(self.worst), 95.0)),
            over=self.over,
            bind=self.bind,
            tolerances=tolerances,
            shares=self.shares.shares(),
            at_m=float(s[self.at[1]]),
            direction=("closing", "opening")[self.at[0]],
        )
