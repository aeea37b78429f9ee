"""Readings of one or more runs, laid out as one list for the diagnosis, and the machine run out to meet them.

An action taken between two runs is a departure taken away, so that readings before and after it are weighed together.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace

import numpy as np
from numpy.typing import NDArray

from stringline.finding import Refused, finding
from stringline.geometry import Array
from stringline.job.readings import RunReading
from stringline.lead.tolerances import Tolerance
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.forces import current_a
from stringline.mechanics.machine import Machine
from stringline.mechanics.travel import LeadRun, lead_run
from stringline.system.model import Motor

CLOSING, OPENING, CURRENT = 0, 1, 2
NAMES = ("closing", "opening", "current")
STATIONS = 26
PAST_END_M = 0.25  # a station this far past the travel laid out is a built travel that differs, no slip
SHARED_M = 0.003  # σ of what the machine leaves out, alike over SHARED_OVER_M of travel (practice)
SHARED_OVER_M = 4.0
ZERO_M = 0.002  # σ of the zero that one run's leads share (practice)
BAD_M = 0.05  # σ of a lead that was read, written or signed falsely (practice)
_PER_SIDE_FLOOR = (
    "drag_drive_n",
    "drag_idle_n",
    "drag_drive_n_m",
    "drag_idle_n_m",
    "pinch_n",
    "stretch_drive",
    "stretch_idle",
)


@dataclass(frozen=True)
class Trial:
    """One run: what was read, and what had been changed before it, as departures taken away since the first run."""

    readings: tuple[RunReading, ...]
    adjusted: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class Sheet:
    """Every reading of every trial, (r,) each, and the stations that they are marched at."""

    machine: Machine
    motor: Motor
    trials: tuple[Trial, ...]
    stations: Array  # (k,)
    row: NDArray[np.intp]  # (r,) index into stations
    what: NDArray[np.intp]  # (r,) CLOSING, OPENING or CURRENT
    trial: NDArray[np.intp]  # (r,)
    value: Array  # (r,) metres or amperes
    sigma: Array  # (r,) of each alone
    cov: Array  # (r, r) of readings less what the machine says
    whiten: Array  # (r, r); what it makes of those has σ 1 and no correlation

    def doubting(self, reading: int) -> Sheet:
        """The same sheet with one reading given next to no weight."""
        cov = self.cov.copy()
        cov[reading, reading] += BAD_M**2
        return replace(self, cov=cov, whiten=_whitening(cov))

    def scattering(self, tolerances: Sequence[Tolerance], part: float) -> Sheet:
        """The same sheet for a machine whose every part scatters by ``part`` of its tolerance's σ, as a sound one does.

        Each tolerance moves the readings together, by the machine's own answer to it.
        """
        fields = [t for t in tolerances if t.mean == 0.0]
        size = len(fields)  # the sample behind the last has nothing moved
        dev = Deviations(**{t.field: np.where(np.arange(size + 1) == i, t.sigma, 0.0) for i, t in enumerate(fields)})
        out = self.expected(dev)
        moved = (out[:, :-1] - out[:, -1:]) * part
        cov = self.cov + moved @ moved.T
        return replace(self, cov=cov, whiten=_whitening(cov))

    @property
    def count(self) -> int:
        """Number of readings."""
        return self.value.size

    def runs(self, dev: Deviations) -> list[LeadRun]:
        """Each trial run out for all samples."""
        return [lead_run(self.machine, _adjusted(dev, t.adjusted), self.stations, slack=False) for t in self.trials]

    def expected(self, dev: Deviations) -> Array:
        """What each reading would be for every sample, (r, n)."""
        return self.pick(self.runs(dev))

    def pick(self, runs: Sequence[LeadRun]) -> Array:
        """Readings out of whole runs, (r, n)."""
        n = runs[0].closing_m.shape[1]
        out = np.empty((self.count, n))
        for t, run in enumerate(runs):
            for what, table in enumerate((run.closing_m, run.opening_m, None)):
                here = (self.trial == t) & (self.what == what)
                if not here.any():
                    continue
                rows = self.row[here]
                out[here] = current_a(self.motor, run.closing_torque_nm[rows]) if table is None else table[rows]
        return out


def sheet(
    machine: Machine,
    motor: Motor,
    trials: Sequence[Trial],
    lead_sigma_m: float,
    current_sigma_a: float,
) -> Sheet:
    """Lay out the readings. A station a little past the travel is taken at its end: what was built is never to the inch
    what was laid out. Raises Refused for a station farther out, or for nothing to go by.
    """
    entries: list[tuple[float, int, int, float, float]] = []
    for t, trial in enumerate(trials):
        for r in trial.readings:
            station = min(max(r.station_m, machine.open_m), machine.closed_m)
            if abs(station - r.station_m) > PAST_END_M:
                raise Refused(finding("lead.off-the-travel", station_m=r.station_m))
            for what, value in enumerate((r.closing_m, r.opening_m, r.current_a)):
                if value is not None:
                    sigma = current_sigma_a if what == CURRENT else lead_sigma_m
                    entries.append((station, what, t, value, sigma))
    if not any(e[1] != CURRENT for e in entries):
        raise Refused("lead.needs-a-lead")
    at = np.array([e[0] for e in entries])
    which, of_trial, own = (np.array([e[k] for e in entries]) for k in (1, 2, 4))
    cov = covariance(at, which, of_trial, own)
    even = machine.stations(STATIONS)
    # A reading replaces the even station next to it, so that the march stays short.
    near = np.abs(even[:, None] - at).min(axis=1) < (even[1] - even[0]) / 3.0
    keep = ~near
    keep[[0, -1]] = True
    stations = np.unique(np.concatenate([even[keep], at]))
    return Sheet(
        machine,
        motor,
        tuple(trials),
        stations,
        np.searchsorted(stations, at),
        which,
        of_trial,
        np.array([e[3] for e in entries]),
        own,
        cov,
        _whitening(cov),
    )


def covariance(at: Array, what: NDArray[np.intp], trial: NDArray[np.intp], sigma: Array) -> Array:
    """Covariance of readings less what the machine says, (r, r).

    Readings of one quantity in one run share a zero, and what the machine leaves out (uneven layers, friction that
    scatters from place to place), which is alike over some metres of travel (practice).
    """
    same = (what[:, None] == what) & (trial[:, None] == trial)
    lead = what[:, None] != CURRENT
    near = np.exp(-np.abs(at[:, None] - at) / SHARED_OVER_M)
    shared = np.where(lead, ZERO_M**2 + SHARED_M**2 * near, np.square(sigma)[:, None])
    return np.asarray(np.diag(np.square(sigma)) + np.where(same, shared, 0.0))


def _whitening(cov: Array) -> Array:
    """Inverse of the covariance's lower triangular root."""
    return np.asarray(np.linalg.inv(np.linalg.cholesky(cov)))


def _adjusted(dev: Deviations, taken: Mapping[str, float]) -> Deviations:
    """Departures less what has been taken away; what can only rub or stretch more never falls below nought by it."""
    if not taken:
        return dev
    values = {f.name: getattr(dev, f.name) for f in fields(dev)}
    for name, amount in taken.items():
        left = np.asarray(values[name]) - amount
        values[name] = (
            np.where(np.asarray(values[name]) > 0.0, np.maximum(left, 0.0), values[name])
            if name in _PER_SIDE_FLOOR
            else left
        )
    return Deviations(**values)
