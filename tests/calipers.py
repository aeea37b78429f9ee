"""A second route to the smallest rectangle: rotating calipers on the hull of points."""

from __future__ import annotations

import math

import numpy as np

from stringline.geometry import Array
from stringline.geometry.hull import convex_hull


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
