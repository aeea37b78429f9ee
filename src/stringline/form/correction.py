"""The least that brings tracks back within their limits: how much, where, by what means, and what it does to parts.

The moves are those of least sum (a linear programme): every station of both tracks may move sideways, so that each
track is straight, both have one direction and the gauge holds, each within its limit less twice its σ (guarded as the
checks are). Where parts already ordered can take up another gauge, a second way is tried: keep whatever even gauge
needs least moving, and let the parts take it up; the gauge is then even, but not the one laid out.

With x and y the moves to the right of left and right track at station s, a line u = c + k·s for each with one k, and g
the even change of gauge, the programme is: least Σ|x| + Σ|y| such that |left + x − (c₁ + k·s)| ≤ z/2,
|right + y − (c₂ + k·s)| ≤ z/2 and |right + y − left − x − g| ≤ h. Here z is the lesser of the limits on straightness
and parallelism and h the one on gauge, each less 2σ of its figure (√3 times a reading's is taken for a zone's),
but never less than half the limit. Between the stations nothing is known, so nothing is promised. Own formulation.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stringline.finding import Code, Finding, finding
from stringline.form.built import built_sigma
from stringline.form.effects import Effect, effects_of
from stringline.form.result import Fit
from stringline.form.tracks import fit_from_as_built
from stringline.geometry import Array
from stringline.job.readings import AsBuilt
from stringline.judging import Limit, Verdict, judge
from stringline.layout.result import Layout
from stringline.limits import GUARD
from stringline.system.model import System, Wedge
from stringline.system.takes_up import takes_up
from stringline.worked import Figure, Origin, Term

_NOTHING_M = 0.0005  # a move below this is not worth making
_MM = 1000.0


@dataclass(frozen=True, slots=True)
class Move:
    """Move one track sideways at one station: + to the right. ``means`` says whether by wedge, shim or re-setting."""

    side: str
    station_m: float
    figure: Figure
    means: Finding


@dataclass(frozen=True, slots=True)
class Correction:
    """One way to put the tracks right. ``after`` is the form they then have, ``effects`` what parts must take up."""

    title: Code
    moves: tuple[Move, ...]
    after: Fit
    effects: tuple[Effect, ...]
    gauge: Figure  # the even gauge that it leads to

    @property
    def total_m(self) -> float:
        """Sum of all moves, m: what is made least."""
        return math.fsum(abs(m.figure.value) for m in self.moves)


@dataclass(frozen=True, slots=True)
class Remedy:
    """What to do about as-built tracks. ``out``: codes of the limits not safely kept; () needs no correction.

    ``as_is`` is what ordered parts must take up if nothing is moved; ``ways`` are in the order of the moving they need.
    """

    out: tuple[Code, ...]
    as_is: tuple[Effect, ...]
    ways: tuple[Correction, ...]
    notes: tuple[Code, ...]


def way_said(way: Correction, side: str | None = None) -> Finding | None:
    """The moves of one correction, of one side alone where ``side`` says so; None where it has none."""
    moves = [
        finding(
            "form.move",
            side=m.side,
            station_m=m.station_m,
            by_m=abs(m.figure.value),
            to="right" if m.figure.value > 0 else "left",
            means=m.means,
        )
        for m in way.moves
        if side in (None, m.side)
    ]
    return finding("form.least-correction", moves=moves) if moves else None


def remedy(as_built: AsBuilt, layout: Layout, system: System) -> Remedy:
    """Find the least correction of as-built tracks; needs gauges at two stations or more to have any to offer."""
    usual = system.tolerances.as_built_tape_m
    before = fit_from_as_built(as_built, layout, usual)
    out = _out(before, system)
    as_is = effects_of(before, system)
    notes = _square_note(before, system)
    if not out or len(as_built.gauge) < 2:
        if out:
            notes.append("form.three-stations")
        return Remedy(out, as_is, (), tuple(notes))
    track = _Tracks.of(as_built, layout, usual)
    ways: list[Correction] = []
    for title, low, high in (
        ("form.back-to-layout", 0.0, 0.0),
        ("form.least-even-gauge", *_taken_up(system)),
    ):
        solved = _solve(track, system, low, high)
        if solved is None:
            continue
        x, y, gauge = solved
        made = _correction(title, track, x, y, gauge, as_built, layout, system)
        if not ways or made.total_m < ways[0].total_m - _NOTHING_M:
            ways.append(made)
    if not ways:
        notes.append("form.no-moving-does")
    return Remedy(out, as_is, tuple(sorted(ways, key=lambda w: w.total_m)), tuple(notes))


@dataclass(frozen=True)
class _Tracks:
    """Both tracks at the gauge's stations (n,): u of the left one and of the right one, and σ of a reading; metres."""

    stations: Array
    left: Array
    right: Array
    sigma: float

    @classmethod
    def of(cls, as_built: AsBuilt, layout: Layout, usual_sigma_m: float) -> _Tracks:
        gauge = np.array(sorted(as_built.gauge), dtype=float)
        offsets = np.array(sorted(as_built.offsets_left) or [(0.0, 0.0)], dtype=float)
        left = np.interp(gauge[:, 0], offsets[:, 0], offsets[:, 1])
        sigma = built_sigma(as_built, usual_sigma_m, [])
        # a string's own lie is no bow: take out the line through the ends
        run = gauge[-1, 0] - gauge[0, 0]
        if run > 0.0:
            left = left - left[0] - (left[-1] - left[0]) * (gauge[:, 0] - gauge[0, 0]) / run
        return cls(gauge[:, 0], left, left + gauge[:, 1] - layout.gauge.value, sigma)


def _solve(track: _Tracks, system: System, low: float, high: float) -> tuple[Array, Array, float] | None:
    """Moves (n,) of both tracks and the even change of gauge, in [low, high], that they lead to, m; None if none do.

    Unknowns, in millimetres: moves to the right and to the left of both tracks, the two lines, their slope, the change.
    """
    from scipy.optimize import linprog

    n = len(track.stations)
    limits, sigma = system.limits, track.sigma
    half = _guarded(min(limits.straightness_m, limits.parallelism_m), math.sqrt(3.0) * sigma) / 2 * _MM
    even = _guarded(limits.gauge_m, sigma) * _MM
    s = track.stations - track.stations.mean()
    eye, none, one = np.eye(n), np.zeros((n, n)), np.ones((n, 1))
    zero, slope = np.zeros((n, 1)), -s[:, None]
    nominal = (track.right - track.left)[:, None]  # gauge here less the one laid out
    # columns: left +, left −, right +, right −, left line, right line, slope, gauge less the one laid out
    rows = [
        np.hstack([eye, -eye, none, none, -one, zero, slope, zero]),
        np.hstack([none, none, eye, -eye, zero, -one, slope, zero]),
        np.hstack([-eye, eye, eye, -eye, zero, zero, zero, -one]),
    ]
    level = [-track.left * _MM, -track.right * _MM, -nominal[:, 0] * _MM]
    a = np.vstack([sign * r for r in rows for sign in (1.0, -1.0)])
    b = np.concatenate(
        [sign * v + width for v, width in zip(level, (half, half, even), strict=True) for sign in (1.0, -1.0)]
    )
    cost = np.concatenate([np.ones(4 * n), np.zeros(4)])
    bounds = [(0.0, None)] * (4 * n) + [(None, None)] * 3 + [(low * _MM, high * _MM)]
    answer = linprog(cost, A_ub=a, b_ub=b, bounds=bounds)
    if answer.x is None:
        return None
    z = answer.x / _MM
    return z[:n] - z[n : 2 * n], z[2 * n : 3 * n] - z[3 * n : 4 * n], float(z[-1])


def _guarded(limit: float, sigma: float) -> float:
    """A limit less twice σ, but never less than half of it: closer than that no reading can tell.

    >>> _guarded(0.006, 0.001), _guarded(0.006, 0.004)
    (0.004, 0.003)
    """
    return max(limit - GUARD * sigma, limit / 2)


def _out(fit: Fit, system: System) -> tuple[Code, ...]:
    limits = system.limits
    rows = [
        ("form.out.left-straight", fit.straight_left, Limit(high=limits.straightness_m)),
        ("form.out.right-straight", fit.straight_right, Limit(high=limits.straightness_m)),
        ("form.out.parallel", fit.parallel, Limit(high=limits.parallelism_m)),
    ]
    worst = max(fit.gauge, key=lambda g: abs(g.deviation.value), default=None)
    if worst is not None:
        rows.append(("form.out.gauge", worst.deviation, Limit(-limits.gauge_m, limits.gauge_m)))
    return tuple(
        name for name, f, limit in rows if f is not None and judge(f.value, f.sigma, limit) is not Verdict.PASS
    )


def _taken_up(system: System) -> tuple[float, float]:
    """Even changes of gauge (least, greatest) that the ordered cover and leading edge can follow, m."""
    room = max(takes_up(system).gauge_m - system.limits.gauge_m, 0.0)
    return -room, room


def _correction(
    title: str,
    track: _Tracks,
    x: Array,
    y: Array,
    off: float,
    as_built: AsBuilt,
    layout: Layout,
    system: System,
) -> Correction:
    moves = []
    for side, move in (("left", x), ("right", y)):
        for s, m in zip(track.stations, move, strict=True):
            if abs(m) < _NOTHING_M:
                continue
            figure = Figure.by_rule(
                finding("form.move-track", side=side, to="right" if m > 0 else "left"),
                float(m),
                "form.least-moves",
                [Term("form.reading-sigma", track.sigma, Origin.MEASURED)],
                sigma=track.sigma,
                source="correction-means",
            )
            moves.append(Move(side, float(s), figure, _means(float(m), system.wedge)))
    gauges = track.right + y - track.left - x + layout.gauge.value
    moved = as_built.but(
        gauge=tuple(zip(track.stations.tolist(), gauges.tolist(), strict=True)),
        offsets_left=tuple(zip(track.stations.tolist(), (track.left + x).tolist(), strict=True)),
        offsets_right=tuple(zip(track.stations.tolist(), (track.right + y).tolist(), strict=True)),
    )
    after = fit_from_as_built(moved, layout, system.tolerances.as_built_tape_m)
    gauge = Figure.sum(
        "form.gauge-after",
        [
            Term("form.gauge-laid-out", layout.gauge.value, Origin.DERIVED),
            Term("form.even-change", off, Origin.DERIVED),
        ],
    )
    return Correction(title, tuple(moves), after, effects_of(after, system), gauge)


def _means(move: float, wedge: Wedge) -> Finding:
    if abs(move) <= wedge.shift_m:
        return finding("form.means.wedge")
    return finding("form.means.shim" if abs(move) <= wedge.shim_m else "form.means.re-set")


def _square_note(fit: Fit, system: System) -> list[Code]:
    square = fit.square
    if square is None:
        return []
    limit = Limit(-system.limits.square_m, system.limits.square_m)
    if judge(square.value, square.sigma, limit) is Verdict.PASS:
        return []
    return [finding("form.not-square", side="right" if square.value > 0 else "left", by_m=abs(square.value))]
