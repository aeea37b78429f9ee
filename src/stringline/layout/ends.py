"""At which ends of the water a housing can stand, and which way one looks from each.

An end is a side of the water that nothing of it lies beyond and that is long enough beside the longest one; edges that
run on within a few degrees, and bows, make one side. A curve has four, square to its longest extent and across it, so
that the four together allow every heading. The shares and angles are the program's own choices, practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from stringline.faults import Fault, Faults
from stringline.finding import Finding, finding
from stringline.geometry import Array
from stringline.layout.outline import Outline

SWING_RAD = math.pi / 4  # a housing faces an edge if the cover runs off within 45° of square to it
_SHORT_END = 0.25  # a side shorter than this share of the longest one is no end
_BEYOND = 0.02  # nor is one beyond which other water reaches by more than this share of its length
_RUNS_ON_RAD = math.radians(8)


@dataclass(frozen=True, slots=True)
class End:
    """One end of the water. ``edge`` names its two points, left first looking over the water; None on a curve.

    Headings are radians, counter-clockwise from the survey's x axis.
    """

    label: Finding
    edge: tuple[str, str] | None
    square_rad: float  # heading square to the end, over the water
    low: float  # least and greatest heading allowed
    high: float


def ends_of(outline: Outline, housing: tuple[str, str] | None, mount: str, along_coping_rad: float) -> tuple[End, ...]:
    """The ends to try: the chosen one alone, or every end of the water for None ("any").

    A cover runs off within 45° of square to its end; with tracks under the coping it runs along the straight sides of
    the water: between their directions, or within ``along_coping_rad`` of them.
    Raises :class:`stringline.faults.Faults` where the chosen edge names a point that is not on the water's edge.

    A box 4 m wide and 10 m long, seen from the side between 1 and 2:

    >>> from stringline.geometry import Line
    >>> corners = ((0.0, 0.0), (4.0, 0.0), (4.0, 10.0), (0.0, 10.0))
    >>> sides = tuple(Line(corners[i], corners[(i + 1) % 4]) for i in range(4))
    >>> box = Outline(("1", "2", "3", "4"), np.array(corners), sides, (0.0,) * 4, (False,) * 4)
    >>> (end,) = ends_of(box, ("1", "2"), "on-deck", 0.0)
    >>> end.edge, round(math.degrees(end.square_rad))
    (('1', '2'), 90)
    >>> [e.edge for e in ends_of(box, None, "on-deck", 0.0)]
    [('1', '2'), ('2', '3'), ('3', '4'), ('4', '1')]
    """
    if housing is not None:
        found = [_chosen(outline, housing)]
    else:
        found = [] if outline.curve is not None else _straight_ends(outline)
    if not found:
        return _quarters(outline)
    return tuple(_along_sides(outline, end, along_coping_rad) if mount == "under-coping" else end for end in found)


def _chosen(outline: Outline, housing: tuple[str, str]) -> End:
    missing = [p for p in housing if p not in outline.names]
    if missing or housing[0] == housing[1]:
        wrong = (
            finding("layout.edge-unknown", points=missing)
            if missing
            else finding("layout.edge-twice", point=housing[0])
        )
        right = finding("layout.name-two", points=outline.names)
        raise Faults("layout", [Fault("housing-edge", "cover.housing", wrong, right)])
    a, b = (outline.xy[outline.names.index(p)] for p in housing)
    chord = b - a
    over = np.array([-chord[1], chord[0]])
    if float(over @ (outline.polygon.mean(axis=0) - (a + b) / 2)) < 0.0:
        over = -over
    return _end(outline, housing[0], housing[1], math.atan2(over[1], over[0]))


def _straight_ends(outline: Outline) -> list[End]:
    """Sides of the water that nothing of it lies beyond and that are long enough to be an end, in their order."""
    sides = _sides(outline)
    if len(sides) < 3:  # drawn with many short edges, it is a curve
        return []
    longest = max(float(np.hypot(*(outline.xy[j] - outline.xy[i]))) for i, j in sides)
    corners = outline.xy[~np.array(outline.through)]
    found = []
    for i, j in sides:
        run = outline.xy[j] - outline.xy[i]
        length = float(np.hypot(*run))
        outward = np.array([run[1], -run[0]]) / length
        beyond = float(np.max((corners - outline.xy[i]) @ outward))
        if length >= _SHORT_END * longest and beyond <= _BEYOND * length:
            found.append(_end(outline, outline.names[i], outline.names[j], math.atan2(run[0], -run[1])))
    return found


def _sides(outline: Outline) -> list[tuple[int, int]]:
    """First and last point of every side: edges that run on within a few degrees, and bows, count as one."""
    at = [k for k in range(len(outline.names)) if not outline.through[k]]
    run = [outline.xy[at[(k + 1) % len(at)]] - outline.xy[at[k]] for k in range(len(at))]
    heading = [math.atan2(r[1], r[0]) for r in run]
    turns = [abs(math.remainder(heading[k] - heading[k - 1], math.tau)) > _RUNS_ON_RAD for k in range(len(at))]
    corners = [at[k] for k in range(len(at)) if turns[k]]
    return list(zip(corners, corners[1:] + corners[:1], strict=True))


def _quarters(outline: Outline) -> tuple[End, ...]:
    """Four ends of a curved pool, square to its longest extent and across it; together they are every heading."""
    headings = np.radians(np.arange(0.0, 180.0, 1.0))
    longest = float(headings[int(np.argmax(outline.hull.extent(headings)))])
    found = []
    for k in range(4):
        square = math.remainder(longest + k * math.pi / 2, math.tau)
        near = outline.names[int(np.argmin(outline.xy @ _ahead(square)))]
        found.append(End(finding("layout.end-at", point=near), None, square, square - SWING_RAD, square + SWING_RAD))
    return tuple(found)


def _end(outline: Outline, p: str, q: str, square: float) -> End:
    right = np.array([math.sin(square), -math.cos(square)])
    left_first = sorted((p, q), key=lambda n: float(outline.xy[outline.names.index(n)] @ right))
    edge = (left_first[0], left_first[1])
    label = finding("layout.end-between", left=edge[0], right=edge[1])
    return End(label, edge, square, square - SWING_RAD, square + SWING_RAD)


def _along_sides(outline: Outline, end: End, within: float) -> End:
    """Keep to the headings of the straight sides that run away from the end; as it was where there are none."""
    run = np.roll(outline.xy, -1, axis=0) - outline.xy
    length = np.hypot(run[:, 0], run[:, 1])
    bowed = np.array(outline.through)
    straight = ~(bowed | np.roll(bowed, -1))
    off = [math.remainder(math.atan2(y, x) - end.square_rad, math.pi) for x, y in run]
    along = [
        a
        for a, size, plain in zip(off, length, straight, strict=True)
        if plain and abs(a) <= SWING_RAD and size >= _SHORT_END * float(length.max())
    ]
    if outline.curve is not None or not along:
        return end
    low, high = min(along) - within, max(along) + within
    return replace(end, low=end.square_rad + max(low, -SWING_RAD), high=end.square_rad + min(high, SWING_RAD))


def _ahead(heading: float) -> Array:
    return np.array([math.cos(heading), math.sin(heading)])
