"""Rotating calipers: the narrowest strip and the smallest rectangle around points."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stringline.geometry.frame import Array
from stringline.geometry.hull import convex_hull


@dataclass(frozen=True, slots=True)
class Strip:
    """The narrowest strip that holds a set of points: one edge through points ``i`` and ``j``, the other through ``k``.

    ``normal_rad`` points from the edge (i, j) to k. ``width`` is in metres.
    """

    width: float
    normal_rad: float
    i: int
    j: int
    k: int


def narrowest_strip(points: Array) -> Strip:
    """Find the narrowest strip that holds ``points`` (n, 2): the width of their convex hull.

    One side of the narrowest strip always lies along an edge of the hull (Toussaint 1983), so every edge is tried.
    Raises ValueError for fewer than two distinct points.
    """
    pts = np.asarray(points, dtype=float).reshape(-1, 2)
    ring = convex_hull(pts)
    if len(ring) < 2:
        raise ValueError("a strip needs two distinct points")
    a, b = pts[ring], pts[np.roll(ring, -1)]
    along = (b - a) / np.hypot(b[:, 0] - a[:, 0], b[:, 1] - a[:, 1])[:, None]
    inward = np.stack([-along[:, 1], along[:, 0]], axis=-1)
    depth = np.einsum("eij,ej->ei", pts[ring][None] - a[:, None], inward)  # (edges, corners)
    far = np.argmax(depth, axis=1)
    width = depth[np.arange(len(ring)), far]
    e = int(np.argmin(width))
    angle = math.atan2(inward[e, 1], inward[e, 0])
    return Strip(max(float(width[e]), 0.0), angle, int(ring[e]), int(np.roll(ring, -1)[e]), int(ring[far[e]]))


def smallest_rectangle(
    points: Array, *, across: float = 0.0, along: float = 0.0, by: str = "area"
) -> tuple[float, float, float]:
    """Find the smallest rectangle around ``points`` (n, 2) grown by ``across`` in width and ``along`` in length.

    Returns (value, width, heading_rad): the least area (m²) or, with ``by="width"``, the least width (m), then the
    rectangle's width and the direction of its length. A side lies along an edge of the hull (Freeman & Shapira
    1975); margins that grow the sides keep that true, as the logarithm of the area is concave between edges.
    """
    pts = np.asarray(points, dtype=float).reshape(-1, 2)
    ring = pts[convex_hull(pts)]
    edge = np.roll(ring, -1, axis=0) - ring
    flush = np.arctan2(edge[:, 1], edge[:, 0])
    heading = np.concatenate([flush, flush + math.pi / 2])
    ahead = np.stack([np.cos(heading), np.sin(heading)])
    right = np.stack([np.sin(heading), -np.cos(heading)])
    width = np.ptp(ring @ right, axis=0) + across
    length = np.ptp(ring @ ahead, axis=0) + along
    value = width * length if by == "area" else width
    best = int(np.lexsort((length, width, value))[0])
    return float(value[best]), float(width[best]), float(heading[best])
