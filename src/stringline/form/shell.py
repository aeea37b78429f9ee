"""Form of the water's edges before the pour, from the survey's points and their joint covariance.

The same figures as after the pour (:mod:`stringline.form.built`), in the cover's own frame, which is held: what the
points' errors would do to the heading takes no part. σ² = g·C·g, first order, with C the points' joint covariance.

An edge runs along a track if it lies within 10° of the tracks' direction and within 150 mm of the outermost water on
its side, so that the short leg of an L is no track's side; bows are none. The two numbers are practice.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from stringline.finding import Code, finding
from stringline.form.result import GaugeAt
from stringline.form.zones import parallelism, straightness
from stringline.geometry import Array, Frame
from stringline.layout.outline import Outline
from stringline.layout.result import Layout
from stringline.survey.result import Survey
from stringline.worked import Figure, Origin, Term

_ALONG_RAD = math.radians(10)  # an edge within this of the tracks' direction runs along one
_BAND_M = 0.15  # and does so beside the track if it lies this close to the outermost water
_STEP_M = 1e-6
_SAME_STATION_M = 0.05
_ALIKE_M = 0.3  # corners of one end further apart than this along the tracks make no rectangle to cross-measure


@dataclass(frozen=True)
class Side:
    """Points along one track from the housing on: names, (u, s) of shape (n, 2), in the cover's frame."""

    names: tuple[str, ...]
    us: Array


def sides_of(outline: Outline, frame: Frame) -> tuple[Side, Side]:
    """Points of the water's edge along the left and the right track. A side without a straight edge is empty."""
    us = frame.from_survey(outline.xy)
    if outline.curve is not None:
        return Side((), np.zeros((0, 2))), Side((), np.zeros((0, 2)))
    right = _along(outline, us, 1.0)
    left = _along(outline, us, -1.0)
    return left, right


def joint_covariance(survey: Survey, frame: Frame, names: tuple[str, ...]) -> Array:
    """Covariance of the named points in the frame's (u, s), shape (2n, 2n), m²; the frame itself is held.

    R·C·Rᵀ with R turning each point's (x, y) into (u, s).
    """
    c, s = math.cos(frame.heading_rad), math.sin(frame.heading_rad)
    turn = np.kron(np.eye(len(names)), np.array([[s, -c], [c, s]]))
    found: Array = turn @ survey.cov_of(*names) @ turn.T
    return found


def shell_straight(survey: Survey, layout: Layout, side: Side, which: str) -> Figure | None:
    """Straightness of one edge; None with fewer than three points."""
    if len(side.names) < 3:
        return None
    zone = straightness(side.us, joint_covariance(survey, layout.frame, side.names))
    return Figure.by_rule(
        finding("form.edge-straight", side=which),
        zone.width,
        finding("form.edge-straight-rule", points=[side.names[k] for k in zone.held_by]),
        [Term("form.strip", zone.width, Origin.MEASURED, sigma=zone.sigma)],
        sigma=zone.sigma,
        source="minimum-zone",
    )


def shell_parallel(survey: Survey, layout: Layout, left: Side, right: Side) -> Figure | None:
    """Parallelism of the two edges; None where a side has fewer than two points."""
    if min(len(left.names), len(right.names)) < 2:
        return None
    names = left.names + right.names
    zone = parallelism(left.us, right.us, joint_covariance(survey, layout.frame, names))
    held = list(dict.fromkeys(names[k] for k in zone.held_by))
    return Figure.by_rule(
        "form.edges-parallel",
        zone.width,
        finding("form.edges-parallel-rule", points=held),
        [Term("form.strips", zone.width, Origin.MEASURED, sigma=zone.sigma)],
        sigma=zone.sigma,
        source="minimum-zone",
    )


def shell_square(survey: Survey, layout: Layout, left: Side, right: Side) -> Figure | None:
    """Run-out of the housing's edge over the gauge, + where its right end lies farther out over the water.

    gauge × tan(angle of the housing's edge to the cross line + angle of the sides, the mean of their least-squares
    lines); metres. None without a housing's edge or a side of two points.
    """
    sides = [s for s in (left, right) if len(s.names) >= 2]
    if layout.housing_edge is None or not sides:
        return None
    names = layout.housing_edge + tuple(n for s in sides for n in s.names)
    counts = [len(s.names) for s in sides]
    gauge = layout.gauge.value

    def run_out(us: Array) -> float:
        a, b = us[0], us[1]
        slopes, at = [], 2
        for count in counts:
            slopes.append(_slope(us[at : at + count]))
            at += count
        off = math.atan2(b[1] - a[1], b[0] - a[0]) + math.atan(sum(slopes) / len(slopes))
        return gauge * math.tan(off)

    value, sigma = _with_sigma(survey, layout, names, run_out)
    a, b = layout.housing_edge
    return Figure.by_rule(
        "form.edge-square",
        value,
        finding("form.edge-square-rule", left=a, right=b),
        [
            Term("form.gauge", gauge, layout.gauge.origin, sigma=layout.gauge.sigma),
            Term("form.run-out", value, Origin.MEASURED, sigma=sigma),
        ],
        sigma=sigma,
    )


def shell_diagonals(survey: Survey, layout: Layout, left: Side, right: Side, notes: list[Code]) -> Figure | None:
    """Difference of the diagonals between the ends of the two edges, left-near to right-far less the other."""
    if min(len(left.names), len(right.names)) < 2:
        return None
    for code, k in (("form.no-diagonals-housing", 0), ("form.no-diagonals-far", -1)):
        if abs(left.us[k, 1] - right.us[k, 1]) > _ALIKE_M:
            notes.append(code)
            return None
    names = (left.names[0], right.names[-1], right.names[0], left.names[-1])

    def difference(us: Array) -> float:
        return float(np.hypot(*(us[1] - us[0])) - np.hypot(*(us[3] - us[2])))

    _, sigma = _with_sigma(survey, layout, names, difference)
    us = layout.frame.from_survey(np.array([survey.at(n) for n in names]))
    first, second = float(np.hypot(*(us[1] - us[0]))), float(np.hypot(*(us[3] - us[2])))
    return Figure.sum(
        "form.diagonals-of-water",
        [
            Term(finding("form.diagonal", frm=names[0], to=names[1]), first, Origin.MEASURED),
            Term(finding("form.diagonal", frm=names[2], to=names[3]), -second, Origin.MEASURED),
        ],
        sigma=sigma,
    )


def shell_gauge(survey: Survey, layout: Layout, left: Side, right: Side) -> tuple[GaugeAt, ...]:
    """Width of the water between the two edges at each surveyed station, and the gauge that would follow from it."""
    if min(len(left.names), len(right.names)) < 2:
        return ()
    names = left.names + right.names
    cov = joint_covariance(survey, layout.frame, names)
    low, high = max(left.us[0, 1], right.us[0, 1]), min(left.us[-1, 1], right.us[-1, 1])
    stations: list[float] = []
    for s in sorted(float(x) for x in np.clip(np.concatenate([left.us[:, 1], right.us[:, 1]]), low, high)):
        if low <= high and (not stations or s - stations[-1] > _SAME_STATION_M):
            stations.append(s)
    margins = layout.gauge.value - layout.water_width.value
    found = []
    for s in stations:
        (ul, wl), (ur, wr) = _across(left.us, s), _across(right.us, s)
        row = np.concatenate([-wl, wr])
        sigma = math.sqrt(max(float(row @ cov @ row), 0.0))
        gauge = Figure.sum(
            "form.gauge-of-water",
            [
                Term("form.water-across", ur - ul, Origin.MEASURED, sigma=sigma),
                Term("form.margins", margins, Origin.DERIVED),
            ],
        )
        found.append(GaugeAt(s, gauge, deviation_of(gauge, layout)))
    return tuple(found)


def deviation_of(gauge: Figure, layout: Layout) -> Figure:
    """How far a gauge is from the one laid out, here − there; that one is the nominal and so without σ."""
    return Figure.sum(
        "form.gauge-off",
        [gauge.term("form.gauge-here"), Term("form.gauge-laid-out", -layout.gauge.value, Origin.DERIVED)],
        sigma=gauge.sigma,
    )


def _along(outline: Outline, us: Array, side: float) -> Side:
    n = len(us)
    outermost = float(np.max(side * us[:, 0]))
    chosen: set[int] = set()
    for i in range(n):
        j = (i + 1) % n
        if outline.through[i] or outline.through[j]:
            continue
        # counter-clockwise, the water's right edge runs away from the housing and its left edge back to it
        run = side * (us[j] - us[i])
        if abs(math.atan2(run[0], run[1])) > _ALONG_RAD:
            continue
        if min(side * us[i, 0], side * us[j, 0]) >= outermost - _BAND_M:
            chosen |= {i, j}
    order = sorted(chosen, key=lambda k: float(us[k, 1]))
    return Side(tuple(outline.names[k] for k in order), us[order].reshape(-1, 2))


def _across(us: Array, s: float) -> tuple[float, Array]:
    """u of a chain of points at station s, and its derivatives by their (u, s), shape (2n,)."""
    k = int(np.clip(np.searchsorted(us[:, 1], s, side="right") - 1, 0, len(us) - 2))
    a, b = us[k], us[k + 1]
    t = (s - a[1]) / (b[1] - a[1])
    slope = (b[0] - a[0]) / (b[1] - a[1])
    row = np.zeros_like(us)
    row[k], row[k + 1] = (1 - t) * np.array([1.0, -slope]), t * np.array([1.0, -slope])
    return float((1 - t) * a[0] + t * b[0]), row.reshape(-1)


def _slope(us: Array) -> float:
    """Slope du/ds of the least-squares line."""
    s = us[:, 1] - us[:, 1].mean()
    return float(s @ us[:, 0] / (s @ s))


def _with_sigma(
    survey: Survey, layout: Layout, names: tuple[str, ...], of: Callable[[Array], float]
) -> tuple[float, float]:
    """A value of the named points' (u, s), and its first-order σ; a name may stand twice."""
    distinct = tuple(dict.fromkeys(names))
    pick = [distinct.index(n) for n in names]
    us = layout.frame.from_survey(np.array([survey.at(n) for n in distinct]))
    row = np.zeros(us.size)
    for i in range(us.size):
        step = np.zeros(us.size)
        step[i] = _STEP_M
        up, down = us + step.reshape(us.shape), us - step.reshape(us.shape)
        row[i] = (of(up[pick]) - of(down[pick])) / (2 * _STEP_M)
    cov = joint_covariance(survey, layout.frame, distinct)
    return of(us[pick]), math.sqrt(max(float(row @ cov @ row), 0.0))
