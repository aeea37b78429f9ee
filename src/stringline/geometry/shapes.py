"""Lines, arcs, chains of points and polygons: areas, distances, insides."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringline.geometry.frame import Array


@dataclass(frozen=True, slots=True)
class Line:
    """A straight piece of an outline from ``a`` to ``b``."""

    a: tuple[float, float]
    b: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Arc:
    """A piece of a circle from angle ``start`` (as seen from its centre) through ``sweep``, + counter-clockwise."""

    centre: tuple[float, float]
    radius: float
    start: float
    sweep: float

    @property
    def outward_from(self) -> float:
        """The smaller end of the angles that the arc faces."""
        return self.start if self.sweep >= 0.0 else self.start + self.sweep

    def end(self, part: float) -> tuple[float, float]:
        """The point that lies ``part`` of the way along the arc: 0 its start, 1 its end."""
        angle = self.start + part * self.sweep
        return self.centre[0] + self.radius * math.cos(angle), self.centre[1] + self.radius * math.sin(angle)

    def points(self, sag_m: float) -> Array:
        """Points along the arc, ends included, whose chords stray from it by at most ``sag_m``; shape (n, 2)."""
        step = 2.0 * math.acos(max(1.0 - sag_m / self.radius, 0.0)) if self.radius > sag_m else math.pi / 2
        count = max(1, math.ceil(abs(self.sweep) / step))
        a = self.start + self.sweep * np.linspace(0.0, 1.0, count + 1)
        hub = np.asarray(self.centre)
        return np.asarray(hub + self.radius * np.stack([np.cos(a), np.sin(a)], axis=-1))


def faces(arcs: Sequence[Arc], angle: Array) -> NDArray[np.bool_]:
    """Whether each arc has a point in each direction (k,) from its centre, within 1e-12 rad; shape (k, arcs)."""
    begin, sweep = np.array([(a.outward_from, abs(a.sweep)) for a in arcs]).T
    return np.asarray(np.mod(angle[:, None] - begin + 1e-12, math.tau) <= sweep + 2e-12)


def signed_area(polygon: Array) -> float:
    """Area of a closed polygon (n, 2), m², + counter-clockwise."""
    p = np.asarray(polygon, dtype=float)
    p = p - p[0]
    q = np.concatenate([p[1:], p[:1]])
    return float(np.sum(p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0]) / 2)


def inside(polygon: Array, points: Array) -> NDArray[np.bool_]:
    """Whether each of ``points`` (k, 2) lies in a closed polygon (n, 2), by crossings; the edge itself is undecided."""
    p, x = np.asarray(polygon, dtype=float), np.asarray(points, dtype=float).reshape(-1, 2)
    q = np.roll(p, -1, axis=0)
    px, py = x[:, None, 0], x[:, None, 1]
    spans = (p[:, 1] > py) != (q[:, 1] > py)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = p[:, 0] + (py - p[:, 1]) * (q[:, 0] - p[:, 0]) / (q[:, 1] - p[:, 1])
    crossed = spans & (px < at)
    return np.asarray(np.sum(crossed, axis=1) % 2 == 1)


def distance_to_chain(chain: Array, points: Array, *, closed: bool = False) -> tuple[Array, Array]:
    """Distance of each of ``points`` (k, 2) to a chain of segments (n, 2), and the nearest point on it (k, 2)."""
    c, x = np.asarray(chain, dtype=float).reshape(-1, 2), np.asarray(points, dtype=float).reshape(-1, 2)
    if len(c) == 1:
        a, b = c, c
    elif closed:
        a, b = c, np.roll(c, -1, axis=0)
    else:
        a, b = c[:-1], c[1:]
    run = b - a
    length2 = np.einsum("ij,ij->i", run, run)
    safe = np.where(length2 > 0.0, length2, 1.0)
    t = np.clip(np.einsum("kij,ij->ki", x[:, None] - a, run) / safe, 0.0, 1.0)
    foot = a + t[..., None] * run
    gap = np.hypot(foot[..., 0] - x[:, None, 0], foot[..., 1] - x[:, None, 1])
    best = np.argmin(gap, axis=1)
    rows = np.arange(len(x))
    return gap[rows, best], foot[rows, best]


def crosses_itself(polygon: Array) -> tuple[int, int] | None:
    """The first two edges of a closed polygon (n, 2) that cross, as indices of their first points; None if none do."""
    p = np.asarray(polygon, dtype=float)
    n = len(p)
    q = np.roll(p, -1, axis=0)

    def side(a: Array, b: Array, c: Array) -> Array:
        turn: Array = (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1]) - (b[..., 1] - a[..., 1]) * (
            c[..., 0] - a[..., 0]
        )
        return turn

    for i in range(n - 2):
        j = np.arange(i + 2, n if i > 0 else n - 1)
        a, b, c, d = p[i], q[i], p[j], q[j]
        hit = (side(a, b, c) * side(a, b, d) < 0.0) & (side(c, d, a) * side(c, d, b) < 0.0)
        if hit.any():
            return i, int(j[np.argmax(hit)])
    return None


def triangles(polygon: Array) -> Array:
    """Cut a simple polygon (n, 2) into triangles by clipping ears; shape (m, 3, 2). Straight corners add nothing.

    Raises ValueError where a polygon crosses itself so that no ear is left; see :func:`crosses_itself`.
    """
    p = np.asarray(polygon, dtype=float)
    if signed_area(p) < 0.0:
        p = p[::-1]
    left = list(range(len(p)))
    ears: list[Array] = []
    while len(left) > 3:
        for at, i in enumerate(left):
            h, j = left[at - 1], left[(at + 1) % len(left)]
            ear = p[[h, i, j]]
            area = signed_area(ear)
            rest = [k for k in left if k not in (h, i, j)]
            if area < 0.0 or (area > 0.0 and _any_in_triangle(ear, p[rest])):
                continue
            if area > 0.0:
                ears.append(ear)
            del left[at]
            break
        else:  # only a polygon that crosses itself has no ear
            raise ValueError("a polygon that crosses itself cannot be cut into triangles")
    ears.append(p[left])
    return np.array(ears)


def _any_in_triangle(ear: Array, points: Array) -> bool:
    a, b, c = ear

    def left_of(u: Array, v: Array) -> NDArray[np.bool_]:
        turn = (v[0] - u[0]) * (points[:, 1] - u[1]) - (v[1] - u[1]) * (points[:, 0] - u[0])
        return np.asarray(turn >= 0.0)

    return bool(np.any(left_of(a, b) & left_of(b, c) & left_of(c, a)))
