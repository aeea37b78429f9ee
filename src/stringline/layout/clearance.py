"""How far the parts of a cover stay from what stands around the pool.

A part is a rectangle in the cover's own frame (u across, s along, metres), an obstacle one or more convex pieces of
three points. Between the two the distance is exact; where they overlap it is negative, the least shift that would part
them (separating axes; textbook geometry, from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stringline.faults import Fault
from stringline.finding import finding
from stringline.geometry import Array, crosses_itself, triangles
from stringline.job.model import Obstacle
from stringline.survey.result import Survey

SOLID = ("rock", "step")  # three or more points of these are an area; of the others, a chain
KINDS = ("wall", "rail", "rock", "step", "deck-edge")

HOUSING, LEFT_TRACK, RIGHT_TRACK, COVER = PARTS = (
    "layout.part.housing",
    "layout.part.left-track",
    "layout.part.right-track",
    "layout.part.cover",
)
"""Parts of a cover that take ground, by the codes of their names."""

TRACKS = (LEFT_TRACK, RIGHT_TRACK)


@dataclass(frozen=True, slots=True)
class Part:
    """A rectangle of the cover in its own frame: from ``u0`` to ``u1`` across and ``s0`` to ``s1`` along, metres.

    ``name`` is one of :data:`PARTS`.
    """

    name: str
    u0: float
    u1: float
    s0: float
    s1: float

    def corners(self) -> Array:
        """Corners counter-clockwise in (u, s), shape (4, 2)."""
        return np.array([[self.u0, self.s0], [self.u1, self.s0], [self.u1, self.s1], [self.u0, self.s1]])


def obstacle_faults(obstacles: tuple[Obstacle, ...], survey: Survey) -> list[Fault]:
    """Say which obstacles name points that were not surveyed or a kind that is not known."""
    found = []
    for o in obstacles:
        where = finding("layout.where-obstacle", name=o.name)
        for p in o.points:
            if p not in survey.index:
                wrong, right = finding("layout.unknown-point", point=p), finding("layout.tape-or-correct")
                found.append(Fault("obstacle-unknown", where, wrong, right, o.line))
        if o.kind not in KINDS:
            wrong, right = finding("layout.obstacle-kind", kind=o.kind), finding("layout.say-one-of", choices=KINDS)
            found.append(Fault("obstacle-kind", where, wrong, right, o.line))
        if o.kind in SOLID and len(o.points) > 3 and all(p in survey.index for p in o.points):
            crossed = crosses_itself(np.array([survey.at(p) for p in o.points]))
            if crossed is not None:
                wrong, right = finding("layout.obstacle-crosses"), finding("layout.obstacle-in-order")
                found.append(Fault("obstacle-crosses", where, wrong, right, o.line))
        if not o.points:
            wrong, right = finding("layout.obstacle-empty"), finding("layout.obstacle-name-one")
            found.append(Fault("obstacle-empty", where, wrong, right, o.line))
    return found


def pieces_of(kind: str, points: Array) -> Array:
    """Cut an obstacle with ``points`` (n, 2) into convex pieces of three points each, shape (m, 3, 2).

    A post is one point, a wall, rail or deck edge a chain of segments, a rock or step of three or more points an area.
    Points and segments repeat a point to make up three.

    >>> import numpy as np
    >>> pieces_of("wall", np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 2.0]])).shape  # two segments
    (2, 3, 2)
    >>> len(pieces_of("rock", np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]])))  # two triangles
    2
    """
    p = np.asarray(points, dtype=float).reshape(-1, 2)
    if len(p) == 1:
        return np.repeat(p[None], 3, axis=1)
    if kind in SOLID and len(p) >= 3:
        return triangles(p)
    return np.stack([p[:-1], p[1:], p[1:]], axis=1)


def separation(part: Part, piece: Array) -> float:
    """Signed distance between a part and a convex piece (3, 2) in (u, s), metres.

    Positive: the shortest distance. Negative: the least shift that would part them (separating axes).

    >>> post = np.array([[3.0, 1.0]] * 3)  # one point three times
    >>> separation(Part(HOUSING, 0.0, 2.0, 0.0, 2.0), post)
    1.0
    >>> separation(Part(HOUSING, 0.0, 3.5, 0.0, 2.0), post)
    -0.5
    """
    box = part.corners()
    edges = np.roll(piece, -1, axis=0) - piece
    size = np.hypot(edges[:, 0], edges[:, 1])
    lines = edges[size > 1e-12] / size[size > 1e-12][:, None]
    axes = np.vstack([[[1.0, 0.0], [0.0, 1.0]], np.stack([-lines[:, 1], lines[:, 0]], axis=-1)])
    b, q = box @ axes.T, piece @ axes.T
    gap = float(np.max(np.maximum(q.min(axis=0) - b.max(axis=0), b.min(axis=0) - q.max(axis=0))))
    if gap <= 0.0:
        return gap
    return min(_chain_gap(box, piece), _chain_gap(piece, box))


def _chain_gap(ring: Array, points: Array) -> float:
    a, b = ring, np.roll(ring, -1, axis=0)
    run = b - a
    square = np.einsum("ij,ij->i", run, run)
    t = np.einsum("kij,ij->ki", points[:, None] - a, run) / np.where(square > 0.0, square, 1.0)
    foot = a + np.clip(t, 0.0, 1.0)[..., None] * run
    return float(np.min(np.hypot(foot[..., 0] - points[:, None, 0], foot[..., 1] - points[:, None, 1])))


def cover_parts(
    gauge: float, channel: float, track_half: float, housing_beyond: float, housing_deep: float
) -> tuple[Part, Part, Part, Part]:
    """The ground that a cover takes: housing, left track, right track, and the sheet between the tracks.

    ``gauge`` between the track centrelines, ``channel`` from the housing's face to the channel's far end,
    ``track_half`` from a centreline to its channel's wall, ``housing_beyond`` from a centreline to the housing's end,
    ``housing_deep`` from its face to its back; metres.

    >>> [(p.u0, p.u1, p.s0, p.s1) for p in cover_parts(6.0, 12.0, 0.04, 0.25, 0.45)][:2]
    [(-3.25, 3.25, -0.45, 0.0), (-3.04, -2.96, 0.0, 12.0)]
    """
    half = gauge / 2
    return (
        Part(HOUSING, -half - housing_beyond, half + housing_beyond, -housing_deep, 0.0),
        Part(LEFT_TRACK, -half - track_half, -half + track_half, 0.0, channel),
        Part(RIGHT_TRACK, half - track_half, half + track_half, 0.0, channel),
        Part(COVER, -half, half, 0.0, channel),
    )


def parts_for(kind: str, parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """The parts that an obstacle of that kind must not meet; a cover passes over a step, tracks and housing do not."""
    return tuple(p for p in parts if not (kind == "step" and p.name == COVER))


def worst(part: Part, pieces: Array) -> float:
    """Least separation of a part from any of the pieces (m, 3, 2) in (u, s), metres; infinite where there are none."""
    return min((separation(part, p) for p in pieces), default=math.inf)
