"""The water's edge as surveyed: straight sides, rounded corners and bowed edges, with what each owes to which point.

A corner of radius r whose edges turn by θ is an arc that touches both r·tan(θ/2) from the corner; a bow is the arc
through three points; a smooth curve is :class:`stringline.layout.curve.ClosedCurve`. An arc's area beyond its chord is
r²·(θ − sin θ)/2 (plane geometry, from memory; the tests hold area and length against Shapely's). What does not fit (a
radius that takes more of an edge than there is, a bow without an end, an edge that crosses itself) is refused.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from stringline.faults import Fault, Faults
from stringline.finding import Finding, finding
from stringline.geometry import Arc, Array, Hull, Line, crosses_itself, hull_of, signed_area
from stringline.job.model import Pool
from stringline.layout.curve import ClosedCurve
from stringline.survey.result import Survey

SAG_M = 0.0001  # chords that draw an arc or a curve stray from it by no more than this
SAME_PLACE_M = 0.001  # neighbours closer than this are one point: no tape tells them apart
STEP_M = 1e-5  # of the central differences that carry a point's covariance into an arc's


@dataclass(frozen=True)
class Outline:
    """The water's edge, counter-clockwise.

    ``names`` are its surveyed points in order round the water and ``xy`` (n, 2) their coordinates; ``pieces`` are its
    lines and arcs in order (none for a smooth curve, whose ``curve`` is set instead).

    Half a disc of radius 2 m:

    >>> half = Arc((0.0, 0.0), 2.0, 0.0, math.pi)
    >>> edge = Outline(("1", "2", "3"), np.array([[2.0, 0.0], [0.0, 2.0], [-2.0, 0.0]]),
    ...                (half, Line((-2.0, 0.0), (2.0, 0.0))), (0.0,) * 3, (False, True, False))
    >>> round(edge.area, 6) == round(2 * math.pi, 6), round(edge.perimeter, 6) == round(2 * math.pi + 4, 6)
    (True, True)
    >>> round(edge.support(math.radians(90)), 6)  # from the origin towards +y
    2.0
    """

    names: tuple[str, ...]
    xy: Array
    pieces: tuple[Line | Arc, ...]
    radii: tuple[float, ...]  # rounding of the corner at each point, 0 where sharp or on a curve
    through: tuple[bool, ...]  # whether the edge bows through that point
    curve: ClosedCurve | None = None

    @cached_property
    def polygon(self) -> Array:
        """The edge drawn with chords that stray from it by at most 0.1 mm, closed implicitly; shape (m, 2)."""
        if self.curve is not None:
            return self.curve.chords(SAG_M)
        return np.vstack([np.array([p.a]) if isinstance(p, Line) else p.points(SAG_M)[:-1] for p in self.pieces])

    @cached_property
    def hull(self) -> Hull:
        """Convex hull, exact on lines and arcs."""
        points = self.polygon if self.curve is not None else self._ends
        return hull_of(points, self.arcs)

    @cached_property
    def arcs(self) -> tuple[Arc, ...]:
        """The arcs among ``pieces``."""
        return tuple(p for p in self.pieces if isinstance(p, Arc))

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """The lines among ``pieces``."""
        return tuple(p for p in self.pieces if isinstance(p, Line))

    @cached_property
    def _ends(self) -> Array:
        return np.array([end for p in self.lines for end in (p.a, p.b)], dtype=float).reshape(-1, 2)

    def support(self, heading: float) -> float:
        """How far the water reaches from the survey's origin in direction ``heading`` (rad), metres."""
        return float(self.hull.support(heading))

    @cached_property
    def area(self) -> float:
        """Area of the water, m²; exact for lines and arcs, by exact quadrature for a smooth curve."""
        if self.curve is not None:
            return abs(self.curve.area())
        ends = np.array([_start(p) for p in self.pieces])
        slices = [a.radius**2 * (a.sweep - math.sin(a.sweep)) / 2 for a in self.arcs]
        return signed_area(ends) + math.fsum(slices)

    @cached_property
    def perimeter(self) -> float:
        """Length of the water's edge, m."""
        if self.curve is not None:
            return self.curve.length()
        return math.fsum(p.radius * abs(p.sweep) if isinstance(p, Arc) else math.dist(p.a, p.b) for p in self.pieces)

    def reach_by_point(self, angle: ArrayLike) -> Array:
        """Derivative of the hull's support by the points' coordinates (x₁, y₁, …), directions held; shape (k, 2n).

        The farthest part alone decides: a line's end, an arc, or a point of the smooth curve.
        """
        a = np.atleast_1d(np.asarray(angle, dtype=float))
        ahead = np.stack([np.cos(a), np.sin(a)], axis=-1)
        who = self.hull.member[self.hull.disc(a)]
        if self.curve is not None:
            t = self.curve.stations(SAG_M)[who]
            return np.asarray((self.curve.weights(t)[:, :, None] * ahead[:, None, :]).reshape(len(a), -1))
        rows = np.zeros((len(a), self.xy.size))
        for i, (up, down) in enumerate(self.neighbours):
            rows[:, i] = (up.as_far(who, ahead) - down.as_far(who, ahead)) / (2 * STEP_M)
        return rows

    def as_far(self, who: NDArray[np.intp], ahead: Array) -> Array:
        """How far the hull's members ``who`` (k,) reach along ``ahead`` (k, 2): ends of lines, arcs, ends of arcs."""
        found = np.empty(len(who))
        ends = 2 * len(self.lines)
        for k, w in enumerate(who.tolist()):
            if w < ends:
                line = self.lines[w // 2]
                at, more = (line.b if w % 2 else line.a), 0.0
            elif w < ends + len(self.arcs):
                at, more = self.arcs[w - ends].centre, self.arcs[w - ends].radius
            else:
                w -= ends + len(self.arcs)
                at, more = self.arcs[w // 2].end(float(w % 2)), 0.0
            found[k] = at[0] * ahead[k, 0] + at[1] * ahead[k, 1] + more
        return found

    @cached_property
    def neighbours(self) -> tuple[tuple[Outline, Outline], ...]:
        """For every coordinate in turn, the outline with it moved by + and by − ``STEP_M``, for central differences."""
        flat = self.xy.reshape(-1)
        found = []
        for i in range(flat.size):
            step = np.zeros(flat.size)
            step[i] = STEP_M
            found.append((self.moved(flat + step), self.moved(flat - step)))
        return tuple(found)

    def place(self, at: Array) -> Finding:
        """Say which part of the edge a place on it (2,) belongs to."""
        gap = np.hypot(*(self.xy - at).T)
        k = int(np.argmin(gap))
        if gap[k] < 0.005:
            return finding("layout.at-point", point=self.names[k])
        if self.curve is not None:
            return finding("layout.at-curve", point=self.names[k])
        if self.radii[k] > 0.0:
            return finding("layout.at-corner", point=self.names[k])
        return finding("layout.at-edge", point=self.names[k])

    def moved(self, flat: Array) -> Outline:
        """The same outline with its points at ``flat`` (2n,)."""
        return _draw(self.names, flat.reshape(-1, 2), self.radii, self.through, self.curve is not None)

    def covariance(self, survey: Survey) -> Array:
        """Joint covariance of the outline's points, shape (2n, 2n), m²."""
        return survey.cov_of(*self.names)


def outline_of(pool: Pool, survey: Survey) -> Outline:
    """Draw the water's edge from its surveyed points.

    Raises :class:`stringline.faults.Faults`, all at once, for a point that the survey does not have, fewer than three
    points, neighbours at one place, an edge that crosses itself, and a radius or a bow that does not fit.
    """
    faults = _name_faults(pool, survey)
    if faults:
        raise Faults("pool.water", faults)
    corners = pool.water
    xy = np.array([survey.at(c.point) for c in corners])
    names = tuple(c.point for c in corners)
    radii = tuple(0.0 if pool.curve else c.radius_m for c in corners)
    through = tuple(False if pool.curve else c.through for c in corners)
    faults = _same_place_faults(names, xy)
    if faults:
        raise Faults("pool.water", faults)
    crossed = crosses_itself(xy)
    if crossed is not None:
        i, j = crossed
        n = len(names)
        wrong = finding("layout.edges-cross", a=names[i], b=names[(i + 1) % n], c=names[j], d=names[(j + 1) % n])
        right = finding("layout.water-in-order")
        raise Faults("pool.water", [Fault("outline-crosses", "pool.water", wrong, right)])
    if signed_area(xy) < 0.0:
        xy, names, radii, through = xy[::-1], names[::-1], radii[::-1], through[::-1]
    faults = _fit_faults(names, xy, radii, through)
    if faults:
        raise Faults("pool.water", faults)
    return _draw(names, xy, radii, through, pool.curve)


def _name_faults(pool: Pool, survey: Survey) -> list[Fault]:
    found = []
    seen: set[str] = set()
    for corner in pool.water:
        if corner.point not in survey.index:
            wrong, right = finding("layout.unknown-point", point=corner.point), finding("layout.tape-or-correct")
            found.append(Fault("outline-unknown", "pool.water", wrong, right))
        if corner.point in seen:
            wrong, right = finding("layout.point-twice", point=corner.point), finding("layout.name-once")
            found.append(Fault("outline-twice", "pool.water", wrong, right))
        seen.add(corner.point)
    if len(pool.water) < 3:
        wrong, right = finding("layout.too-few-points", n=len(pool.water)), finding("layout.name-three")
        found.append(Fault("outline-few", "pool.water", wrong, right))
    return found


def _same_place_faults(names: tuple[str, ...], xy: Array) -> list[Fault]:
    """Say which neighbours stand so close that there is no edge between them to give a direction."""
    run = np.roll(xy, -1, axis=0) - xy
    right = finding("layout.leave-one-out")
    pairs = [
        (names[i], names[(i + 1) % len(names)]) for i in np.flatnonzero(np.hypot(run[:, 0], run[:, 1]) < SAME_PLACE_M)
    ]
    return [Fault("outline-same", "pool.water", finding("layout.one-place", a=a, b=b), right) for a, b in pairs]


def _fit_faults(names: tuple[str, ...], xy: Array, radii: tuple[float, ...], through: tuple[bool, ...]) -> list[Fault]:
    """Say which radii take more of an edge than there is, and which bows have no end or no arc."""
    n, found = len(names), []
    trims = []
    for i in range(n):
        corner = finding("layout.where-corner", point=names[i])
        if radii[i] < 0.0:
            wrong, right = finding("layout.radius-negative", point=names[i]), finding("layout.radius-positive")
            found.append(Fault("outline-radius", corner, wrong, right))
        if radii[i] > 0.0 and (through[i] or through[i - 1] or through[(i + 1) % n]):
            wrong, right = finding("layout.rounded-and-bowed", point=names[i]), finding("layout.survey-bow-begin")
            found.append(Fault("outline-radius", corner, wrong, right))
        if through[i] and (through[i - 1] or through[(i + 1) % n]):
            wrong, right = finding("layout.two-bows", point=names[i]), finding("layout.name-arc-end")
            found.append(Fault("outline-bow", finding("layout.where-point", point=names[i]), wrong, right))
        trims.append(_trim(xy[i - 1], xy[i], xy[(i + 1) % n], radii[i]) if radii[i] > 0.0 else 0.0)
    if found:
        return found
    for i in range(n):
        j = (i + 1) % n
        edge = float(np.hypot(*(xy[j] - xy[i])))
        # a surveyed radius end is half a pool wide only within its readings: 2 mm over is drawn as it comes
        over = trims[i] + trims[j] - edge
        where = finding("layout.where-edge", a=names[i], b=names[j])
        if math.isinf(over):
            wrong, right = finding("layout.doubles-back", a=names[i], b=names[j]), finding("layout.no-radius")
            found.append(Fault("outline-radius", where, wrong, right))
        elif over > max(0.002, 1e-9 * edge) and not (through[i] or through[j]):
            wrong = finding(
                "layout.corners-too-round",
                a=names[i],
                b=names[j],
                taken_m=trims[i] + trims[j],
                edge_m=edge,
                over_m=over,
            )
            found.append(Fault("outline-radius", where, wrong, finding("layout.radii-again")))
    return found


def _trim(before: Array, at: Array, after: Array, radius: float) -> float:
    """How much of each edge an arc of that radius takes at a corner, metres; infinite where an edge doubles back."""
    u, v = (before - at) / np.hypot(*(before - at)), (after - at) / np.hypot(*(after - at))
    half = math.acos(max(-1.0, min(1.0, float(u @ v)))) / 2
    return radius / math.tan(half) if half > 1e-9 else math.inf


def _draw(
    names: tuple[str, ...], xy: Array, radii: tuple[float, ...], through: tuple[bool, ...], curve: bool
) -> Outline:
    if curve:
        return Outline(names, xy, (), radii, through, ClosedCurve.through(xy))
    n = len(names)
    corner = [_rounded(xy[i - 1], xy[i], xy[(i + 1) % n], radii[i]) for i in range(n)]
    pieces: list[Line | Arc] = []
    for i in range(n):
        j = (i + 1) % n
        arc = corner[i]
        if isinstance(arc, Arc):
            pieces.append(arc)
        if through[i]:
            pieces.append(_bow(xy[i - 1], xy[i], xy[j]))
        elif not through[j]:
            a, b = _leave(corner[i], xy[i]), _arrive(corner[j], xy[j])
            if math.dist(a, b) > 1e-9:
                pieces.append(Line(a, b))
    return Outline(names, xy, tuple(pieces), radii, through)


def _rounded(before: Array, at: Array, after: Array, radius: float) -> Arc | None:
    """The arc that rounds a corner, touching both of its edges; None for a sharp or a straight one."""
    if radius <= 0.0:
        return None
    u, v = (before - at) / np.hypot(*(before - at)), (after - at) / np.hypot(*(after - at))
    turn = math.atan2(-u[0] * v[1] + u[1] * v[0], -float(u @ v))  # + to the left
    if abs(turn) < 1e-9:
        return None
    side = math.copysign(1.0, turn)
    trim = radius * math.tan(abs(turn) / 2)
    first = at + trim * u
    hub = first + side * radius * np.array([u[1], -u[0]])
    start = math.atan2(first[1] - hub[1], first[0] - hub[0])
    return Arc((float(hub[0]), float(hub[1])), radius, start, turn)


def _bow(a: Array, via: Array, b: Array) -> Arc | Line:
    """The arc from ``a`` through ``via`` to ``b``; a line where the three stand in one."""
    p, q = via - a, b - a
    cross = 2.0 * float(p[0] * q[1] - p[1] * q[0])
    if abs(cross) < 1e-9 * float(p @ p + q @ q):
        return Line((float(a[0]), float(a[1])), (float(b[0]), float(b[1])))
    pp, qq = float(p @ p), float(q @ q)
    hub = a + np.array([q[1] * pp - p[1] * qq, p[0] * qq - q[0] * pp]) / cross
    start, end = math.atan2(*(a - hub)[::-1]), math.atan2(*(b - hub)[::-1])
    sweep = math.remainder(end - start, math.tau)
    if cross > 0.0 and sweep < 0.0:
        sweep += math.tau
    elif cross < 0.0 and sweep > 0.0:
        sweep -= math.tau
    return Arc((float(hub[0]), float(hub[1])), float(np.hypot(*(a - hub))), start, sweep)


def _start(piece: Line | Arc) -> tuple[float, float]:
    return piece.a if isinstance(piece, Line) else piece.end(0.0)


def _leave(arc: Arc | None, corner: Array) -> tuple[float, float]:
    return (float(corner[0]), float(corner[1])) if arc is None else arc.end(1.0)


def _arrive(arc: Arc | None, corner: Array) -> tuple[float, float]:
    return (float(corner[0]), float(corner[1])) if arc is None else arc.end(0.0)
