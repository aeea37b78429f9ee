"""Rotating calipers: the narrowest strip around points."""

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
