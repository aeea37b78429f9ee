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

# The share of the water's reach ahead, left, behind and right in each part's middle across and along, then in its half
# size across and along, in the order of PARTS; once for what is no wall, once for walls.
_MIDDLE_ACROSS = [[0, -0.5, 0, 0.5], [0, -1, 0, 0], [0, 0, 0, 1], [0, -0.5, 0, 0.5]]
_MIDDLE_ALONG = [[0, 0, -1, 0], [0.5, 0, -0.5, 0], [0.5, 0, -0.5, 0], [0.5, 0, -0.5, 0]]
_HALF_ACROSS = [[0, 0.5, 0, 0.5], [0, 0, 0, 0], [0, 0, 0, 0], [0, 0.5, 0, 0.5]]
_HALF_ALONG = [[0, 0, 0, 0], [0.5, 0, 0.5, 0], [0.5, 0, 0.5, 0], [0.5, 0, 0.5, 0]]
_LINEAR = np.array(2 * (_MIDDLE_ACROSS + _MIDDLE_ALONG + _HALF_ACROSS + _HALF_ALONG), dtype=float)


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
        owner = np.repeat(np.arange(len(cut), dtype=np.intp), [len(c) for c in cut])
        pieces = np.concatenate(cut) if cut else np.zeros((0, 3, 2))
        return cls(hull, size, tuple(o[0] for o in obstacles), tuple(o[1] for o in obstacles), pieces, owner)

    def ground(self) -> Ground | None:
        """What the search needs; None where nothing stands around the pool."""
        return (
            None if not len(self.pieces) else Ground(lambda h, reach: self._gaps(h, reach).min(axis=(0, 1)), self.pace)
        )

    @cached_property
    def pace(self) -> float:
        """Bound on how fast any separation changes with the heading, metres a radian.

        A side slides past a point at their distance along the side; a corner of the rectangle turns about the two
        points that its sides touch, which are no farther apart than the hull is wide, plus what the margins add.
        """
        east, north, west, south = self.hull.four_sides(np.zeros(1))[:, 0].tolist()
        x, y = self.pieces.reshape(-1, 2).T
        far_x, far_y = np.maximum(np.abs(x + west), np.abs(x - east)), np.maximum(np.abs(y + south), np.abs(y - north))
        far = float(np.hypot(far_x, far_y).max())
        s = self.size
        aside = s.side + max(s.track_half, s.housing_beyond)
        along = max(s.setback + s.housing_deep, s.end + s.past_stop, s.short)
        return max(far, math.hypot(east + west, north + south) + math.hypot(aside, along))

    def apart(self, headings: Array) -> Array:
        """Signed separation of each part from each piece at each heading, shape (k, m, 4), in the order of PARTS.

        By separating axes: positive is a lower bound of the distance (exact along an axis), negative is the least shift
        that would part the two. Pairs that may meet are infinite.
        """
        h = np.asarray(headings, dtype=float)
        return np.moveaxis(self._gaps(h, self.hull.four_sides(h)), 2, 0)

    def _gaps(self, h: Array, reach: Array) -> Array:
        """The separations of :meth:`apart`, shape (m, 4, k): headings last, for there are many of them."""
        k = len(h)
        box = self.boxes(reach)[self._wall]
        middle, half = box[:, 0], box[:, 1]  # each (m, 2 across and along, 4 parts, k)
        c, s = np.cos(h), np.sin(h)
        turn = np.concatenate([s, c, -c, s]).reshape(2, -1)  # to the right, then ahead, of every heading
        corners = (self.pieces.reshape(-1, 2) @ turn).reshape(-1, 3, 2, 1, k)
        top, bottom = corners.max(axis=1), corners.min(axis=1)
        gap = np.abs((top + bottom) / 2 - middle)
        gap -= half
        gap -= (top - bottom) / 2
        gap = np.maximum(gap[:, 0], gap[:, 1])
        e = self._edges
        if len(e.of):
            normal = (e.normal @ turn).reshape(-1, 2, 1, k)
            off = normal * middle[e.of]
            off = np.abs(off[:, 0] + off[:, 1] - e.middle) - e.half
            wide = np.abs(normal) * half[e.of]
            off -= wide[:, 0]
            off -= wide[:, 1]
            gap[e.cut] = np.maximum(gap[e.cut], np.maximum.reduceat(off, e.first, axis=0))
        if self._over.size:
            gap[self._over, 3] = np.inf
        return np.asarray(gap)

    def boxes(self, reach: Array) -> Array:
        """Where each part lies and how big it is, for what is no wall, then for walls: shape (2, 2, 2, 4, k).

        Middles, then half sizes; of each across (to the right of the survey's origin), then along (ahead of it).
        ``reach`` (4, k) is how far the water reaches, as :meth:`stringline.geometry.Hull.four_sides` gives it.
        """
        found: Array = (_LINEAR @ reach + self._fixed).reshape(2, 2, 2, 4, reach.shape[1])
        return found

    @cached_property
    def _fixed(self) -> Array:
        """What the boxes add to their share of the water's reach, (32, 1)."""
        z = self.size
        rows: list[float] = []
        for far in (z.end + z.past_stop, -z.short):
            rows += [0.0, -z.side, z.side, 0.0, -z.setback - z.housing_deep / 2, *[(far - z.setback) / 2] * 3]
            rows += [z.side + z.housing_beyond, z.track_half, z.track_half, z.side]
            rows += [z.housing_deep / 2, *[(far + z.setback) / 2] * 3]
        return np.array(rows)[:, None]

    @cached_property
    def _wall(self) -> NDArray[np.intp]:
        """1 for a piece of a wall, 0 for any other, (m,)."""
        return np.array([k == "wall" for k in self.kinds], dtype=np.intp)[self.owner]

    @cached_property
    def _over(self) -> NDArray[np.intp]:
        """The pieces that the cover passes over."""
        return np.flatnonzero(np.array([k == "step" for k in self.kinds], dtype=bool)[self.owner])

    @cached_property
    def _edges(self) -> _Edges:
        """What parts a piece from a box, besides the box's own axes: the normals of its edges."""
        run = self.pieces[:, [1, 2, 0]] - self.pieces
        size = np.hypot(run[..., 0], run[..., 1])
        real = size > 1e-12
        real[:, 2] &= real[:, 1]  # a line's way back
        of = np.nonzero(real)[0]
        normal = np.stack([-run[real][:, 1], run[real][:, 0]], axis=-1) / size[real][:, None]
        along = np.einsum("ej,epj->ep", normal, self.pieces[of])
        low, high = along.min(axis=1), along.max(axis=1)
        first = np.flatnonzero(np.diff(of, prepend=-1))
        middle, half = ((low + high) / 2)[:, None, None], ((high - low) / 2)[:, None, None]
        return _Edges(normal, middle, half, of, of[first], first)


@dataclass(frozen=True, slots=True)
class _Edges:
    """Unit normals (e, 2) of all pieces' edges, the middle and half of each piece's extent along them (e, 1, 1).

    ``of`` (e,) ascends and says whose edge each is, ``cut`` which pieces have any, ``first`` where theirs begin.
    """

    normal: Array
    middle: Array
    half: Array
    of: NDArray[np.intp]
    cut: NDArray[np.intp]
    first: NDArray[np.intp]
