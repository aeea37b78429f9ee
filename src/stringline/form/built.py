"""Form of the channels after the pour, from gauges, stringline offsets, channel lengths and diagonals.

Readings are (station from the housing, value), metres, stations taken as exact and every value with one σ. Straightness
and parallelism are minimum zones (:mod:`stringline.form.zones`): however the string itself lay, it takes no part. Every
σ is first order. A form that bends more than once between two stations is seen only at the stations.
"""

from __future__ import annotations

import math

import numpy as np

from stringline.finding import Code, finding
from stringline.form.result import GaugeAt
from stringline.form.shell import deviation_of
from stringline.form.zones import parallelism, straightness
from stringline.geometry import Array
from stringline.job.readings import AsBuilt
from stringline.layout.result import Layout
from stringline.worked import Figure, Origin, Term

PAST_END_M = 0.1  # a reading taken at the very end may be this far past it

Readings = tuple[tuple[float, float], ...]


def built_sigma(as_built: AsBuilt, usual_m: float, notes: list[Code]) -> float:
    """σ of one as-built reading, m: the job's, or the usual one, which a note then says.

    >>> notes: list[Code] = []
    >>> built_sigma(AsBuilt(), 0.002, notes), notes == [finding("form.usual-sigma", sigma_m=0.002)]
    (0.002, True)
    """
    if as_built.sigma_m is not None:
        return as_built.sigma_m
    notes.append(finding("form.usual-sigma", sigma_m=usual_m))
    return usual_m


def beyond_channel(as_built: AsBuilt, layout: Layout) -> list[Code]:
    """A note for stations that lie past the channel's far end, where there is no track to measure."""
    lengths = [x for x in (as_built.channel_left_m, as_built.channel_right_m) if x is not None]
    end = max(lengths, default=layout.channel.value) + PAST_END_M
    past = sorted({s for row in (as_built.gauge, as_built.offsets_left, as_built.offsets_right) for s, _ in row})
    return [finding("form.past-channel", station_m=s) for s in past if s > end]


def built_straight(offsets: Readings, sigma: float, side: str, notes: list[Code]) -> Figure | None:
    """Straightness of one channel from its offsets; None with fewer than three.

    The middle stands 4 mm off the line through the ends, whatever the string's own distance:

    >>> notes: list[Code] = []
    >>> found = built_straight(((0.0, 0.050), (6.0, 0.046), (12.0, 0.050)), 0.001, "left", notes)
    >>> round(found.value, 9), round(found.sigma, 7)  # √(1 + ¼ + ¼) × 1 mm
    (0.004, 0.0012247)
    """
    if len(offsets) < 3:
        if offsets:
            notes.append(finding("form.too-few-offsets", n=len(offsets), side=side))
        return None
    us = _us(offsets)
    zone = straightness(us, _offset_covariance(len(us), sigma))
    return Figure.by_rule(
        finding("form.channel-straight", side=side),
        zone.width,
        "form.channel-straight-rule",
        [
            Term(finding("form.offset-at", station_m=float(s)), float(u), Origin.MEASURED, sigma=sigma)
            for u, s in us[list(zone.held_by)]
        ],
        sigma=zone.sigma,
        source="minimum-zone",
    )


def built_parallel(as_built: AsBuilt, sigma: float, notes: list[Code]) -> Figure | None:
    """Parallelism of the channels: the right one stands where the left one's offsets and the gauge put it.

    Without offsets on the left, that channel is taken as straight and a note says so. Gauges between two offsets stand
    on the line between them. None with fewer than two gauges.

    A right channel that leads away evenly by 10 mm over the run: two strips of one direction share that, 5 mm each.

    >>> built = AsBuilt.of(gauge=((0.0, 5.5), (12.0, 5.51)), offsets_left=((0.0, 0.05), (12.0, 0.05)))
    >>> round(built_parallel(built, 0.001, []).value, 6)
    0.005
    """
    gauge = sorted(as_built.gauge)
    left = sorted(as_built.offsets_left)
    if len(left) >= 2:
        gauge = [g for g in gauge if left[0][0] - 1e-9 <= g[0] <= left[-1][0] + 1e-9]
    if len(gauge) < 2:
        return None
    n, m = max(len(left), 2), len(gauge)
    if len(left) < 2:
        notes.append("form.left-taken-straight")
        left = [(gauge[0][0], 0.0), (gauge[-1][0], 0.0)]
        spread = np.zeros(2)
    else:
        spread = np.full(n, sigma)
    stations = np.array([g[0] for g in gauge])
    weights = _interpolation(np.array([p[0] for p in left]), stations)
    base = np.array([p[1] for p in left])
    across = weights @ base + np.array([g[1] for g in gauge])
    # readings (offsets, gauges) → u of the left points, then u of the right ones; stations are taken as exact
    push = np.vstack([np.hstack([np.eye(n), np.zeros((n, m))]), np.hstack([weights, np.eye(m)])])
    of_u = push @ np.diag(np.concatenate([spread, np.full(m, sigma)]) ** 2) @ push.T
    cov = np.kron(of_u, np.array([[1.0, 0.0], [0.0, 0.0]]))
    zone = parallelism(_us(tuple(left)), np.stack([across, stations], axis=-1), cov)
    return Figure.by_rule(
        "form.channels-parallel",
        zone.width,
        "form.channels-parallel-rule",
        [Term(finding("form.gauge-at", station_m=s), float(g), Origin.MEASURED, sigma=sigma) for s, g in gauge],
        sigma=zone.sigma,
        source="minimum-zone",
    )


def built_square(as_built: AsBuilt, layout: Layout, sigma: float, notes: list[Code]) -> Figure | None:
    """Run-out of the housing's face over the gauge, from the diagonals; + where its right end lies farther ahead.

    With channels Ll and Lr and diagonals D₁ (housing left to far right) and D₂, parallel tracks give
    run-out = (D₁² − D₂² − Lr² + Ll²) / (2·(Ll + Lr)), metres (own; the tests lay it against coordinates). It needs both
    diagonals; a channel that was not measured is taken as long as the other, both as long as laid out, with a note.
    """
    if as_built.diagonals_m is None:
        return None
    lengths = (as_built.channel_left_m, as_built.channel_right_m)
    given = [x for x in lengths if x is not None]
    if not given:
        notes.append("form.channels-as-laid-out")
        given = [layout.channel.value]
    ll = given[0] if lengths[0] is None else lengths[0]
    lr = given[0] if lengths[1] is None else lengths[1]
    d1, d2 = as_built.diagonals_m
    total = ll + lr
    value = (d1**2 - d2**2 - lr**2 + ll**2) / (2 * total)
    slopes = (d1 / total, -d2 / total, (ll - value) / total, (-lr - value) / total)
    known = (1.0, 1.0, float(lengths[0] is not None), float(lengths[1] is not None))
    spread = sigma * math.sqrt(math.fsum((s * k) ** 2 for s, k in zip(slopes, known, strict=True)))
    return Figure.by_rule(
        "form.housing-square",
        value,
        "form.housing-square-rule",
        [
            Term("form.diagonal-from-left", d1, Origin.MEASURED, sigma=sigma),
            Term("form.diagonal-from-right", d2, Origin.MEASURED, sigma=sigma),
            Term("form.channel-left", ll, Origin.MEASURED if known[2] else Origin.DERIVED, sigma=sigma * known[2]),
            Term("form.channel-right", lr, Origin.MEASURED if known[3] else Origin.DERIVED, sigma=sigma * known[3]),
        ],
        sigma=spread,
    )


def built_diagonals(as_built: AsBuilt, sigma: float) -> Figure | None:
    """Difference of the two diagonals, D₁ − D₂ with σ·√2; None where they were not measured.

    >>> found = built_diagonals(AsBuilt.of(diagonals_m=(13.420, 13.416)), 0.001)
    >>> round(found.value, 6), round(found.sigma, 6)
    (0.004, 0.001414)
    """
    if as_built.diagonals_m is None:
        return None
    d1, d2 = as_built.diagonals_m
    return Figure.sum(
        "form.diagonals-as-built",
        [
            Term("form.diagonal-from-left", d1, Origin.MEASURED, sigma=sigma),
            Term("form.diagonal-from-right", -d2, Origin.MEASURED, sigma=sigma),
        ],
    )


def built_gauge(as_built: AsBuilt, layout: Layout, sigma: float) -> tuple[GaugeAt, ...]:
    """Gauge at each station where it was measured, nearest the housing first."""
    found = []
    for station, value in sorted(as_built.gauge):
        gauge = Figure.single("form.gauge-as-built", value, Origin.MEASURED, sigma=sigma)
        found.append(GaugeAt(station, gauge, deviation_of(gauge, layout)))
    return tuple(found)


def _us(readings: Readings) -> Array:
    """(u, s) of (station, offset) readings in the order of their stations, shape (n, 2)."""
    return np.array([[offset, station] for station, offset in sorted(readings)])


def _offset_covariance(n: int, sigma: float) -> Array:
    return np.diag(np.tile([sigma**2, 0.0], n))


def _interpolation(at: Array, wanted: Array) -> Array:
    """Weights (m, n) of linear interpolation between stations ``at`` (n,), ascending."""
    k = np.clip(np.searchsorted(at, wanted, side="right") - 1, 0, len(at) - 2)
    run = at[k + 1] - at[k]
    t = np.where(run > 0.0, (wanted - at[k]) / np.where(run > 0.0, run, 1.0), 0.0)
    w = np.zeros((len(wanted), len(at)))
    rows = np.arange(len(wanted))
    w[rows, k] = 1.0 - t
    w[rows, k + 1] += t
    return w
