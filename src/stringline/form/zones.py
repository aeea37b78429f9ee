"""Minimum zones in the sense of ISO 1101: how straight a line of points is, how parallel two lines are, and how sure.

A zone's width is the least of a largest distance. Its first-order σ is taken at the points that hold it there: where
several distances are equal at the optimum, they share in the proportion that makes the width stationary in direction.
It holds while errors are small beside the width: a width cannot come out negative, so near zero it reads too large, the
more so the more points there are. Source ``minimum-zone``; the σ is an own derivation.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array, Hull, hull_of, narrowest_strip

_SAME_M = 1e-9
_ASIDE_RAD = 1e-7


@dataclass(frozen=True, slots=True)
class MinimumZone:
    """Width of a zone (m), the direction of its normal (rad), its σ (m), and the points that hold it.

    ``row`` (2n,) holds the width's derivatives by the coordinates of the points, in their order.
    """

    width: float
    normal_rad: float
    sigma: float
    held_by: tuple[int, ...]
    row: Array


def straightness(points: Array, cov: Array) -> MinimumZone:
    """The narrowest strip that holds ``points`` (n, 2), n ≥ 3, with covariance ``cov`` (2n, 2n) of (x₁, y₁, …).

    One side of the strip lies along two of the points, i and j, the third, k, stands across from a place t of the way
    between them: width = n·(P_k − (1 − t)·P_i − t·P_j). Raises ValueError for fewer than three points, as two say
    nothing about straightness.

    >>> line = np.array([[0.0, 0.0], [0.008, 6.0], [0.0, 12.0]])  # the middle 8 mm off
    >>> zone = straightness(line, 0.001**2 * np.eye(6))
    >>> round(zone.width, 9), zone.held_by, round(zone.sigma, 7)  # √(1 + ¼ + ¼) × 1 mm
    (0.008, (0, 1, 2), 0.0012247)
    """
    pts = np.asarray(points, dtype=float)
    if len(pts) < 3:
        raise ValueError("two points say nothing about straightness")
    strip = narrowest_strip(pts)
    normal = np.array([math.cos(strip.normal_rad), math.sin(strip.normal_rad)])
    row = max(_levers(pts, pts[strip.i], normal, strip.width), key=lambda r: float(r @ cov @ r))
    held = tuple(int(i) for i in np.flatnonzero(np.any(row.reshape(-1, 2) != 0.0, axis=1)))
    return MinimumZone(strip.width, strip.normal_rad, _sigma(row, cov), held, row)


def parallelism(left: Array, right: Array, cov: Array) -> MinimumZone:
    """The least-width pair of strips with one common direction that hold ``left`` (n, 2) and ``right`` (m, 2).

    The width is that of the wider of the two. ``cov`` (2n + 2m, 2n + 2m) is joint, left points first; ``held_by`` and
    ``row`` count on from left to right. Raises ValueError where a side has fewer than two points. Between two normals
    of hull edges either strip's width is a concave sinusoid, so the least larger one is at a normal or where the two
    widths cross; all of them are tried.

    Two straight sides that come together by 24 mm over their length: strips of 12 mm, half each, hold both.

    >>> left, right = np.array([[0.0, 0.0], [0.0, 12.0]]), np.array([[6.0, 0.0], [5.976, 12.0]])
    >>> round(parallelism(left, right, 0.001**2 * np.eye(8)).width, 6)
    0.012
    """
    a, b = np.asarray(left, dtype=float), np.asarray(right, dtype=float)
    if min(len(a), len(b)) < 2:
        raise ValueError("parallelism needs two points on each side")
    hulls = (hull_of(a), hull_of(b))
    angles = _critical(hulls)
    width = np.max([h.extent(angles) for h in hulls], axis=0)
    best = float(angles[int(np.argmin(width))])
    value = float(width.min())
    row = _shared_row(hulls, (len(a), len(b)), best, value)
    held = tuple(int(i) for i in np.flatnonzero(np.any(row.reshape(-1, 2) != 0.0, axis=1)))
    return MinimumZone(value, best, _sigma(row, cov), held, row)


def _critical(hulls: tuple[Hull, Hull]) -> Array:
    """Normals of both hulls' edges in [0, π) and, between neighbours, where the two widths cross."""
    cuts = np.unique(np.mod(np.concatenate([h.starts for h in hulls]), math.pi))
    after = np.append(cuts[1:], cuts[0] + math.pi)
    middle = (cuts + after) / 2
    across = [h.centres[h.disc(middle)] - h.centres[h.disc(middle + math.pi)] for h in hulls]
    apart = across[0] - across[1]
    crossing = cuts + np.mod(np.arctan2(-apart[:, 0], apart[:, 1]) - cuts, math.pi)
    return np.concatenate([cuts, crossing[crossing < after]])


def _shared_row(hulls: tuple[Hull, Hull], counts: tuple[int, int], angle: float, value: float) -> Array:
    """Derivatives of the width by all coordinates, from the distances that are largest at the optimum."""
    total = sum(counts)
    normal = np.array([math.cos(angle), math.sin(angle)])
    turned = np.array([-normal[1], normal[0]])
    active: list[tuple[float, Array]] = []
    for hull, first in zip(hulls, (0, counts[0]), strict=True):
        for aside in (angle - _ASIDE_RAD, angle + _ASIDE_RAD):
            p, q = int(hull.disc(aside)), int(hull.disc(aside + math.pi))
            span = hull.centres[p] - hull.centres[q]
            if abs(float(span @ normal) - value) > _SAME_M:
                continue
            row = np.zeros((total, 2))
            row[first + hull.member[p]] += normal
            row[first + hull.member[q]] -= normal
            active.append((float(span @ turned), row.reshape(-1)))
    falling, rising = min(active, key=lambda x: x[0]), max(active, key=lambda x: x[0])
    if rising[0] - falling[0] < 1e-12:
        return rising[1]
    share = min(max(rising[0] / (rising[0] - falling[0]), 0.0), 1.0)
    return share * falling[1] + (1.0 - share) * rising[1]


def _levers(pts: Array, start: Array, normal: Array, width: float) -> list[Array]:
    """Derivatives of a strip's width by the points for every three of them that could hold it, each shape (2n,).

    More than one where points stand equally far across, or all in one line, to the last digit: then the least sure
    three are to decide, whichever the search came upon first.
    """
    depth = (pts - start) @ normal
    along = pts @ np.array([-normal[1], normal[0]])
    near, far = np.flatnonzero(depth <= _SAME_M), np.flatnonzero(depth >= width - _SAME_M)
    found = []
    for edge, across, out in ((near, far, normal), (far, near, -normal)):
        i, j = (int(edge[f(along[edge])]) for f in (np.argmin, np.argmax))
        inside = (along[across] >= along[i]) & (along[across] <= along[j])
        found += [_lever(pts, i, j, int(k), out) for k in across[inside] if i != j and k not in (i, j)]
    return found


def _lever(pts: Array, i: int, j: int, k: int, normal: Array) -> Array:
    along = pts[j] - pts[i]
    t = float((pts[k] - pts[i]) @ along / (along @ along))
    row = np.zeros_like(pts)
    row[k] += normal
    row[i] -= (1.0 - t) * normal
    row[j] -= t * normal
    return np.asarray(row.reshape(-1))


def _sigma(row: Array, cov: Array) -> float:
    return math.sqrt(max(float(row @ cov @ row), 0.0))
