"""The convex hull of points and arcs, held as its support function: how far it reaches in a direction, exactly."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from stringline.geometry.frame import Array
from stringline.geometry.shapes import Arc, faces

TAU = math.tau
_QUARTERS = np.arange(4)[:, None] * (math.pi / 2)


@dataclass(frozen=True)
class Hull:
    """Discs (a point is a disc of radius 0) and the outward angle at which each takes over, counter-clockwise.

    ``starts`` (k,) ascends in [0, 2π); disc i is the farthest one from ``starts[i]`` to ``starts[i + 1]``. ``member``
    (k,) says which disc i is: of the points that the hull was made from, then of its arcs, then of their two ends.
    """

    starts: Array
    centres: Array  # (k, 2)
    radii: Array  # (k,)
    member: NDArray[np.intp]

    def disc(self, angle: ArrayLike) -> NDArray[np.intp]:
        """Which disc lies farthest in direction ``angle`` (any shape)."""
        found = self._last(np.asarray(angle, dtype=float))
        return np.where(found < 0, len(self.starts) - 1, found)

    def support(self, angle: ArrayLike) -> Array:
        """How far the hull reaches from the origin in direction ``angle``, metres, same shape as ``angle``."""
        a = np.asarray(angle, dtype=float)
        x, y, radius = self._discs[:, self._last(a)]
        reach: Array = x * np.cos(a) + y * np.sin(a) + radius
        return reach

    def four_sides(self, heading: Array) -> Array:
        """How far the hull reaches ahead, to the left, behind and to the right at each heading (k,): (4, k)."""
        x, y, radius = self._discs[:, self._last(heading + _QUARTERS)]
        c, s = np.cos(heading), np.sin(heading)
        reach: Array = x * np.array([c, -s, -c, s]) + y * np.array([s, c, -s, -c]) + radius
        return reach

    def _last(self, angle: Array) -> NDArray[np.intp]:
        """Like :meth:`disc`, but −1 for the last one before the first start: an index as good as its own."""
        found: NDArray[np.intp] = np.searchsorted(self.starts, np.mod(angle, TAU), side="right") - 1
        return found

    @cached_property
    def _discs(self) -> Array:
        """Centres and radii, (3, k)."""
        return np.vstack([self.centres.T, self.radii])

    def touch(self, angle: ArrayLike) -> Array:
        """The farthest point in direction ``angle``, shape (..., 2)."""
        a = np.asarray(angle, dtype=float)
        k = self.disc(a)
        return np.asarray(self.centres[k] + self.radii[k, None] * np.stack([np.cos(a), np.sin(a)], axis=-1))

    def extent(self, angle: ArrayLike) -> Array:
        """Distance between the two lines square to ``angle`` that hold the hull, metres."""
        a = np.asarray(angle, dtype=float)
        return self.support(a) + self.support(a + math.pi)


def convex_hull(points: Array) -> NDArray[np.intp]:
    """Indices of the hull's corners counter-clockwise (Andrew's monotone chain); points on an edge are left out."""
    pts = np.asarray(points, dtype=float)
    order = np.lexsort((pts[:, 1], pts[:, 0])).tolist()
    xs, ys = pts[:, 0].tolist(), pts[:, 1].tolist()

    def chain(run: Sequence[int]) -> list[int]:
        kept: list[int] = []
        for i in run:
            while len(kept) >= 2:
                p, q = kept[-2], kept[-1]
                if (xs[q] - xs[p]) * (ys[i] - ys[p]) - (ys[q] - ys[p]) * (xs[i] - xs[p]) > 0.0:
                    break
                kept.pop()
            if kept and xs[kept[-1]] == xs[i] and ys[kept[-1]] == ys[i]:
                continue
            kept.append(i)
        return kept

    lower, upper = chain(order), chain(order[::-1])
    if len(lower) == 1:
        return np.array(lower, dtype=np.intp)
    return np.array(lower[:-1] + upper[:-1], dtype=np.intp)


def hull_of(points: Array, arcs: Sequence[Arc] = ()) -> Hull:
    """Build the hull of ``points`` (n, 2) and arcs, whose ends need not be among the points. Exact on arcs.

    Raises ValueError where there is neither.
    """
    pts = np.asarray(points, dtype=float).reshape(-1, 2)
    if len(pts) == 0 and not arcs:
        raise ValueError("a hull needs a point or an arc")
    if arcs:
        return _with_arcs(pts, arcs)
    corners = convex_hull(pts)
    centres = pts[corners]
    if len(corners) == 1:
        return Hull(np.zeros(1), centres, np.zeros(1), corners)
    starts = np.mod(_outward(centres - np.roll(centres, 1, axis=0)), TAU)
    order = np.argsort(starts, kind="stable")
    return Hull(starts[order], centres[order], np.zeros(len(order)), corners[order])


def _outward(along: Array) -> Array:
    """Angle of the outward normal of counter-clockwise edges, shape (n,)."""
    normal: Array = np.arctan2(-along[:, 0], along[:, 1])
    return normal


def _with_arcs(pts: Array, arcs: Sequence[Arc]) -> Hull:
    """Find every angle at which the farthest disc can change, then see which is farthest between them."""
    every = np.vstack([pts, np.array([a.end(part) for a in arcs for part in (0.0, 1.0)])])
    whose = np.arange(len(every), dtype=np.intp)
    whose[len(pts) :] += len(arcs)
    corners = convex_hull(every)
    n = len(corners)
    hub = np.vstack([every[corners], np.array([a.centre for a in arcs], dtype=float)])
    rad = np.concatenate([np.zeros(n), np.array([a.radius for a in arcs])])
    first, second = np.triu_indices(len(hub), 1)
    apart = hub[first] - hub[second]
    far = np.hypot(apart[:, 0], apart[:, 1])
    with np.errstate(divide="ignore", invalid="ignore"):
        cosine = (rad[second] - rad[first]) / far
    real = (far > 0.0) & (np.abs(cosine) <= 1.0)
    lean, half = np.arctan2(apart[real, 1], apart[real, 0]), np.arccos(cosine[real])
    ends = np.array([e for a in arcs for e in (a.outward_from, a.outward_from + abs(a.sweep))])
    cuts = np.unique(np.mod(np.concatenate([lean + half, lean - half, ends]), TAU))
    cuts = cuts[np.concatenate([[True], np.diff(cuts) > 1e-13])]
    middle = cuts + np.diff(np.concatenate([cuts, [cuts[0] + TAU]])) / 2
    reach = hub[:, 0] * np.cos(middle)[:, None] + hub[:, 1] * np.sin(middle)[:, None] + rad
    reach[:, n:][~faces(arcs, middle)] = -np.inf
    winner = np.argmax(reach, axis=1)
    change = winner != np.roll(winner, 1)
    if not change.any():
        change[0] = True
    member = np.concatenate([whose[corners], len(pts) + np.arange(len(arcs), dtype=np.intp)])
    who = winner[change]
    return Hull(cuts[change], hub[who], rad[who], member[who])
