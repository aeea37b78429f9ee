"""Planes through levelled points: the best one by least squares, and the narrowest pair that holds them all."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np

from stringline.finding import Refused
from stringline.geometry import Array
from stringline.survey.adjust.network import IntArray

_SEARCHED = 30  # up to this many points every set of four is tried; beyond it a linear program finds the set


@dataclass(frozen=True)
class Plane:
    """h = level + slope·((x, y) − middle). ``slope`` is the gradient (rise a metre run), ``cov`` (3, 3) its covariance.

    The covariance is that of (level, ∂h/∂x, ∂h/∂y). ``off`` (n,) is how far each point stands above the plane.
    """

    middle: tuple[float, float]
    level: float
    slope: tuple[float, float]
    cov: Array
    off: Array

    def at(self, x: float, y: float) -> float:
        """Height of the plane at a place, m."""
        return self.level + self.slope[0] * (x - self.middle[0]) + self.slope[1] * (y - self.middle[1])


@dataclass(frozen=True)
class FlatnessZone:
    """The narrowest zone between two parallel planes, measured upright (slopes are small).

    ``width_m`` is the flatness; ``row`` (n,) its change with each height, so that σ² = row C rowᵀ; ``touching`` the
    points that decide it; ``slope`` the gradient of the zone.
    """

    width_m: float
    row: Array
    touching: tuple[int, ...]
    slope: tuple[float, float]


def best_plane(xy: Array, height: Array, cov: Array) -> Plane:
    """Fit a plane to heights (n,) at places (n, 2), m, all with equal weight; ``cov`` (n, n) is carried through.

    x = F h with F the pseudo-inverse of (1, x, y) about the places' middle; covariance F C Fᵀ. Raises ``Refused`` (a
    ValueError) for fewer than three points or points in one line.

    >>> at = np.array([[0.0, 0.0], [4.0, 0.0], [0.0, 2.0], [4.0, 2.0]])
    >>> plane = best_plane(at, np.array([0.0, -0.04, 0.01, -0.03]), np.eye(4) * 4e-6)
    >>> [round(g, 6) for g in plane.slope], round(plane.at(2.0, 1.0), 6)
    ([-0.01, 0.005], -0.015)
    """
    if len(height) < 3:
        raise Refused("levels.plane-points")
    middle = xy.mean(axis=0)
    A = np.column_stack([np.ones(len(height)), xy - middle])
    size = np.linalg.svd(A[:, 1:], compute_uv=False)
    if size[1] < 1e-6 * max(size[0], 1e-9):
        raise Refused("levels.plane-line")
    F = np.linalg.pinv(A)
    x = F @ height
    return Plane(
        (float(middle[0]), float(middle[1])),
        float(x[0]),
        (float(x[1]), float(x[2])),
        np.asarray(F @ cov @ F.T, dtype=float),
        np.asarray(height - A @ x, dtype=float),
    )


def minimum_zone(xy: Array, height: Array) -> FlatnessZone:
    """Find the flatness of heights (n,) at places (n, 2) in the sense of ISO 1101: the narrowest zone that holds all.

    Four points decide it (or three of them in one line, the fourth having no weight): with weights λ, Σλ = 0 and
    Σλ(x, y) = 0, no plane comes closer to all four than |Σλh|/Σ|λ|; the worst such set is the answer, and the zone is
    twice that wide. Three points or fewer lie in a plane. Raises ``Refused`` (a ValueError) for points all in one line.
    Source ``minimum-zone``.

    One corner of a rectangle lifted by 12 mm: the zone is half of that wide.

    >>> at = np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 2.0], [0.0, 2.0]])
    >>> round(minimum_zone(at, np.array([0.0, 0.0, 0.0, 0.012])).width_m, 6)
    0.006
    """
    n = len(height)
    if n < 3:
        raise Refused("levels.flatness-points")
    best_plane(xy, height, np.zeros((n, n)))  # refuses points in one line
    if n == 3:
        return FlatnessZone(0.0, np.zeros(3), (0, 1, 2), _through(xy, height))
    sets = np.array(list(itertools.combinations(range(n) if n <= _SEARCHED else _deciding(xy, height), 4)))
    weight = _weights(xy[sets])
    total = np.abs(weight).sum(axis=1)
    size = float(np.ptp(xy, axis=0).max()) ** 2
    fine = total > 1e-9 * size
    lift = np.where(fine, (weight * height[sets]).sum(axis=1) / np.where(fine, total, 1.0), 0.0)
    best = int(np.argmax(np.abs(lift)))
    row = np.zeros(n)
    row[sets[best]] = 2.0 * np.sign(lift[best]) * weight[best] / total[best]
    half = abs(float(lift[best]))
    used = sets[best][np.abs(weight[best]) > 1e-9 * size]
    on_plane = height - half * np.sign(row)
    slope = _through(xy[used], on_plane[used]) if len(used) == 4 else _tilted(xy, height, used, on_plane[used], half)
    return FlatnessZone(2.0 * half, row, tuple(int(k) for k in used), slope)


def _weights(quads: Array) -> Array:
    """Weights λ (s, 4) that every plane over four places (s, 4, 2) sends to zero: areas of the opposite triangles."""
    out = np.empty(quads.shape[:2])
    for k in range(4):
        a, b, c = (quads[:, j] for j in range(4) if j != k)
        u, v = b - a, c - a
        out[:, k] = (-1.0) ** k * (u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0])
    return out


def _through(xy: Array, height: Array) -> tuple[float, float]:
    """Gradient of the plane through three points or more that lie in one."""
    A = np.column_stack([np.ones(len(xy)), xy - xy.mean(axis=0)])
    x = np.linalg.lstsq(A, height, rcond=None)[0]
    return float(x[1]), float(x[2])


def _tilted(xy: Array, height: Array, used: IntArray, on_plane: Array, half: float) -> tuple[float, float]:
    """Gradient where points in one line decide: along it they say, across it the middle of what all others allow."""
    first, last = xy[used[0]], xy[used[-1]]
    way = (last - first) / np.hypot(*(last - first))
    along = float(np.polyfit((xy[used] - first) @ way, on_plane, 1)[0])
    across = np.array([-way[1], way[0]])
    d = (xy - first) @ across
    left = height - on_plane[0] - along * ((xy - first) @ way)
    away = np.abs(d) > 1e-9
    bounds = np.stack([(left[away] - half) / d[away], (left[away] + half) / d[away]])
    tilt = 0.5 * float(bounds.min(axis=0).max() + bounds.max(axis=0).min())
    slope = along * way + tilt * across
    return float(slope[0]), float(slope[1])


def _deciding(xy: Array, height: Array) -> list[int]:
    """Points that touch the zone, found by a linear program: minimise t with |h − a − b x − c y| ≤ t."""
    from scipy.optimize import linprog

    n = len(height)
    A = np.column_stack([np.ones(n), xy - xy.mean(axis=0)])
    one = np.ones((n, 1))
    found = linprog(
        [0.0, 0.0, 0.0, 1.0],
        A_ub=np.block([[A, -one], [-A, -one]]),
        b_ub=np.concatenate([height, -height]),
        bounds=[(None, None)] * 3 + [(0.0, None)],
        method="highs",
    )
    x = np.asarray(found.x, dtype=float)
    off = np.abs(height - A @ x[:3])
    order = np.argsort(-off, kind="stable")
    return sorted(int(k) for k in order[: max(8, int(np.count_nonzero(off > x[3] - 1e-9)))])
