"""How the cover stands on the survey: heading and reaches of the water, and what each owes to every surveyed point.

A reach is how far the water goes in one direction, h = max over its points of n·P. Its derivative by the point it
touches is n; by the heading it is how far along the side that point lies. Where a side lies along an edge of the hull
the heading follows that edge: one end's move e square to it turns the heading by e/length, and the reach ahead with it.
Own derivation; the tests hold the σ against scattered surveys.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.layout.outline import Outline

RIGHT, LEFT, AHEAD, BEHIND = range(4)
_TURNS = np.array([-math.pi / 2, math.pi / 2, 0.0, math.pi])
_TIE_RAD = 1e-7  # a side this close to an edge lies along it
_EITHER_SIDE_RAD = 1e-4
_SHORTEST_GUIDE_M = 0.3  # a shorter edge gives no direction worth following


@dataclass(frozen=True)
class Stance:
    """Heading and the water's reach to the right, left, ahead and behind, from the survey's origin along the cover.

    ``rows`` (5, 2n) holds the derivatives of (heading, right, left, ahead, behind) by the outline's coordinates, and
    ``cov`` (5, 5) what follows from their covariance. ``touch`` (4, 2) is where each reach ends. ``guide`` names the
    edge that a side lies along, which then steers the heading; None where the heading is held as set out.
    """

    heading_rad: float
    reach: Array  # (4,)
    touch: Array
    rows: Array
    cov: Array
    guide: tuple[str, str] | None

    def sigma(self, row: Array) -> float:
        """σ of a quantity whose derivatives by (heading, right, left, ahead, behind) are ``row`` (5,)."""
        return math.sqrt(max(float(row @ self.cov @ row), 0.0))


def stance(outline: Outline, heading: float, cov: Array) -> Stance:
    """Stand the cover at ``heading`` and carry the points' covariance ``cov`` (2n, 2n) into its reaches.

    Where a side lies along an edge of the water's hull, the heading follows that edge: if a point of it moves, so does
    the heading. Elsewhere (a curve, a stop at an obstacle) the heading is held as set out.

    A box of 4 m × 10 m seen along y, every point known to 3 mm each way: it reaches 4 m to the right of the survey's
    origin, and one side, the longer, guides it.

    >>> from stringline.geometry import Line
    >>> corners = ((0.0, 0.0), (4.0, 0.0), (4.0, 10.0), (0.0, 10.0))
    >>> sides = tuple(Line(corners[i], corners[(i + 1) % 4]) for i in range(4))
    >>> box = Outline(("1", "2", "3", "4"), np.array(corners), sides, (0.0,) * 4, (False,) * 4)
    >>> stood = stance(box, math.pi / 2, 0.003**2 * np.eye(8))
    >>> [round(float(r), 6) + 0.0 for r in stood.reach], sorted(stood.guide)
    ([4.0, 0.0, 10.0, 0.0], ['2', '3'])
    >>> round(stood.sigma(np.eye(5)[0]) * 10.0, 6) == round(0.003 * math.sqrt(2), 6)  # two ends, 10 m apart
    True
    """
    hull = outline.hull
    angles = heading + _TURNS
    reach, touch = hull.support(angles), hull.touch(angles)
    ahead, right = _unit(heading), _unit(heading - math.pi / 2)
    turning = outline.reach_by_point(np.concatenate([angles, angles - _EITHER_SIDE_RAD, angles + _EITHER_SIDE_RAD]))
    held, before, after = turning[:4], turning[4:8], turning[8:]
    guide = None
    turn = np.zeros(held.shape[1])
    side, length = _longest_tie(outline, angles)
    if side is not None:
        # along the tie n·(c_j − c_i) + r_j − r_i = 0; a turn of the heading moves it by the length of the edge
        turn = -(after[side] - before[side]) / length
        held[side] = before[side]
        touch[side] = hull.touch(angles[side] - _EITHER_SIDE_RAD)
        guide = _edge_names(outline, hull.touch(angles[side] + np.array([-1.0, 1.0]) * _EITHER_SIDE_RAD))
    # d reach/d heading: how far along the side the touching point lies, counter-clockwise
    tangent = np.array([ahead, -ahead, -right, right])
    slope = np.einsum("ij,ij->i", touch, tangent)
    rows = np.vstack([turn, held + slope[:, None] * turn])
    return Stance(heading, reach, touch, rows, rows @ cov @ rows.T, guide)


def _longest_tie(outline: Outline, angles: Array) -> tuple[int | None, float]:
    if outline.curve is not None:
        return None, 0.0
    hull, best, length = outline.hull, None, _SHORTEST_GUIDE_M
    if len(hull.starts) < 2:
        return None, 0.0
    for side, angle in enumerate(angles):
        off = np.abs(np.mod(hull.starts - angle + math.pi, math.tau) - math.pi)
        if float(off.min()) > _TIE_RAD:
            continue
        a, b = hull.touch(angle + np.array([-1.0, 1.0]) * _EITHER_SIDE_RAD)
        run = float(np.hypot(*(b - a)))
        if run > length:
            best, length = side, run
    return best, length


def _edge_names(outline: Outline, ends: Array) -> tuple[str, str]:
    names = [outline.names[int(np.argmin(np.hypot(*(outline.xy - e).T)))] for e in ends]
    return names[0], names[1]


def _unit(angle: float) -> Array:
    return np.array([math.cos(angle), math.sin(angle)])
