"""The ground that a cover takes at every heading at once, held against what stands around the pool.

The same rectangles and pieces as in :mod:`stringline.layout.clearance`, for many headings in one go: there one
separation is exact, here it is a lower bound that is exact where two things overlap or face each other, which is all
that the search needs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from stringline.geometry import Array, Hull
from stringline.layout.clearance import pieces_of
from stringline.layout.search import Ground


@dataclass(frozen=True, slots=True)
class Size:
    """What the cover adds to the water, metres: everything about the rectangle that does not turn with it.

    ``side`` from the water to the track centreline; ``setback`` from the housing's face to the nearest water; ``end``
    from the far water to the leading edge's stop; ``past_stop`` from there to the channel's far end; ``track_half``
    from the track centreline to either wall of its channel; ``housing_beyond`` and ``housing_deep`` from the track
    centreline to the housing's end and from its face to its back; ``short`` how much of the far water may stay
    uncovered in front of a wall.
    """

    side: float
    setback: float
    end: float
    past_stop: float
    track_half: float
    housing_beyond: float
    housing_deep: float
    short: float


@dataclass(frozen=True)
class Surroundings:
    """Everything around one pool, cut into convex pieces (m, 3, 2); ``owner`` (m,) says whose piece each is.

    Rules of what must not meet: rails, rocks and deck edges keep clear of housing, tracks and cover. A step keeps
    clear of housing and tracks only: the cover passes over it. A wall keeps clear of everything, but beyond the far
    water the cover may end at it, so tracks and cover are held against it only as far as the far water less ``short``.
    """

    hull: Hull
    size: Size
    names: tuple[str, ...]
    kinds: tuple[str, ...]
    pieces: Array
    owner: NDArray[np.intp]

    @classmethod
    def of(cls, hull: Hull, size: Size, obstacles: list[tuple[str, str, Array]]) -> Surroundings:
        """Cut obstacles given as (name, kind, points (n, 2)) into pieces."""
        cut = [pieces_of(kind, points) for _, kind, points in obstacles]
        owner = np.concatenate([np.full(len(c), i, dtype=np.intp) for i, c in enumerate(cut)] or [np.zeros(0, np.intp)])
        pieces = np.concatenate(cut) if cut else np.zeros((0, 3, 2))
        return cls(hull, size, tuple(o[0] for o in obstacles), tuple(o[1] for o in obstacles), pieces, owner)

    def ground(self) -> Ground | None:
        """What the search needs; None where nothing stands around the pool."""
        return None if not len(self.pieces) else Ground(lambda h: self.apart(h).min(axis=(1, 2)), self.pace)

    @cached_property
    def pace(self) -> float:
        """Bound on how fast any separation changes with the heading, metres a radian.

        A side slides past a point at their distance along the side; a corner of the rectangle turns about the two
        points that its sides touch, which are no farther apart than the hull is wide, plus what the margins add.
        """
        touch = self.hull.touch(np.linspace(0.0, math.tau, 720, endpoint=False))
        touch = np.vstack([touch, self.hull.centres])
        reach = 1.02 * float(self.hull.radii.max(initial=0.0)) * 0.01  # what 0.5° steps along an arc can miss
        x = self.pieces.reshape(-1, 2)
        low, high = touch.min(axis=0), touch.max(axis=0)
        far = float(np.max(np.hypot(*np.maximum(np.abs(x - low), np.abs(x - high)).T)))
        s = self.size
        margins = s.side + s.track_half + s.housing_beyond + s.setback + s.end + s.past_stop + s.housing_deep + s.short
        return max(far + reach, float(np.hypot(*(high - low))) + margins + reach)

    def apart(self, headings: Array) -> Array:
        """Signed separation of each part from each piece at each heading, shape (k, m, 4), in the order of PARTS.

        By separating axes: positive is a lower bound of the distance (exact along an axis), negative is the least shift
        that would part the two. Pairs that may meet are infinite.
        """
        h = np.asarray(headings, dtype=float)
        boxes = self.boxes(h)  # (k, 2 for wall or not, 4 parts, 4 bounds)
        wall = np.array([k == "wall" for k in self.kinds])[self.owner]
        box = np.where(wall[None, :, None, None], boxes[:, 1, None], boxes[:, 0, None])  # (k, m, 4, 4)
        ahead, right = np.stack([np.cos(h), np.sin(h)], axis=-1), np.stack([np.sin(h), -np.cos(h)], axis=-1)
        u, s = np.einsum("mpj,kj->kmp", self.pieces, right), np.einsum("mpj,kj->kmp", self.pieces, ahead)
        gap = np.maximum(
            np.maximum(u.min(axis=2)[..., None] - box[..., 1], box[..., 0] - u.max(axis=2)[..., None]),
            np.maximum(s.min(axis=2)[..., None] - box[..., 3], box[..., 2] - s.max(axis=2)[..., None]),
        )
        normal, low, high = self._edges
        mid_u, half_u = (box[..., 0] + box[..., 1]) / 2, (box[..., 1] - box[..., 0]) / 2
        mid_s, half_s = (box[..., 2] + box[..., 3]) / 2, (box[..., 3] - box[..., 2]) / 2
        for e in range(normal.shape[1]):
            nu, ns = (right @ normal[:, e].T)[..., None], (ahead @ normal[:, e].T)[..., None]
            middle = mid_u * nu + mid_s * ns
            half = half_u * np.abs(nu) + half_s * np.abs(ns)
            gap = np.maximum(gap, np.maximum(low[:, e, None] - middle - half, middle - half - high[:, e, None]))
        over = np.array([k == "step" for k in self.kinds])[self.owner]
        gap[:, over, 3] = np.inf
        return np.asarray(gap)

    def boxes(self, h: Array) -> Array:
        """Bounds (u0, u1, s0, s1) of each part at each heading, for what is no wall, then for walls: (k, 2, 4, 4).

        ``u`` and ``s`` run right and ahead from the survey's origin.
        """
        z, hull = self.size, self.hull
        u1 = hull.support(h - math.pi / 2) + z.side
        u0 = -hull.support(h + math.pi / 2) - z.side
        s0 = -hull.support(h + math.pi) - z.setback
        water = hull.support(h)
        found = np.empty((len(h), 2, 4, 4))
        for row, s1 in enumerate((water + z.end + z.past_stop, water - z.short)):
            bounds = (
                (u0 - z.housing_beyond, u1 + z.housing_beyond, s0 - z.housing_deep, s0),
                (u0 - z.track_half, u0 + z.track_half, s0, s1),
                (u1 - z.track_half, u1 + z.track_half, s0, s1),
                (u0, u1, s0, s1),
            )
            for part, four in enumerate(bounds):
                for k, bound in enumerate(four):
                    found[:, row, part, k] = bound
        return found

    @cached_property
    def _edges(self) -> tuple[Array, Array, Array]:
        """Normals (m, 3, 2) of the pieces' edges and the pieces' extent along each (m, 3); no edge is a null normal."""
        run = np.roll(self.pieces, -1, axis=1) - self.pieces
        size = np.hypot(run[..., 0], run[..., 1])[..., None]
        normal = np.where(size > 1e-12, np.stack([-run[..., 1], run[..., 0]], axis=-1) / np.maximum(size, 1e-12), 0.0)
        along = np.einsum("mej,mpj->mep", normal, self.pieces)
        low, high = along.min(axis=2), along.max(axis=2)
        void = size[..., 0] <= 1e-12
        # a piece without that edge must never be parted along it
        return normal, np.where(void, -np.inf, low), np.where(void, np.inf, high)
