"""The smallest rectangle around the water among all headings that are allowed and clear of obstacles.

Between two neighbouring critical headings the rectangle touches the same four parts of the outline, so width and
length are each a sinusoid plus a constant. Where a sinusoid is positive it is concave, and the logarithm of an area
made of two such sides is concave as well: nothing between two headings is smaller than the smaller of the two. Where
arcs make a sinusoid negative the bound loses at most its size × step²/8. How far obstacles stay clear changes by no
more than ``pace`` for each radian. Cutting up every interval that could still hold something better, and dropping the
others, therefore ends at the global optimum (own derivation; the tests hold it against brute force).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array, Hull

TOUCH_M = 1e-9  # two things that overlap by less than this touch
NEAREST_M = 1e-4  # how well the heading that comes nearest to fitting is found
_FINEST_RAD = 1e-11


@dataclass(frozen=True, slots=True)
class Goal:
    """What a rectangle must add to the water and what is to be least: ``by`` is "area" or "width".

    >>> goal = Goal(across_m=1.0, along_m=2.0)
    >>> goal.value(np.array([6.0]), np.array([12.0])).tolist()
    [72.0]
    """

    across_m: float
    along_m: float
    by: str = "area"

    def sides(self, hull: Hull, heading: Array) -> tuple[Array, Array]:
        """Width and length (m) of the rectangle at each heading (k,)."""
        return self.around(hull.four_sides(heading))

    def around(self, reach: Array) -> tuple[Array, Array]:
        """Width and length (m) where the water reaches so far ahead, left, behind and right (4, k)."""
        ahead, left, behind, right = reach
        return left + right + self.across_m, ahead + behind + self.along_m

    def value(self, width: Array, length: Array) -> Array:
        """What is to be least: area (m²) or width (m)."""
        return width * length if self.by == "area" else width


@dataclass(frozen=True, slots=True)
class Ground:
    """How far a rectangle at a heading stays clear of everything, and how fast that can change.

    ``clear`` turns headings (k,) and how far the water reaches there (4, k), as :meth:`Hull.four_sides` gives it, into
    metres (k,), negative where something is in the way; ``pace`` bounds its slope in metres a radian.
    """

    clear: Callable[[Array, Array], Array]
    pace: float


@dataclass(frozen=True, slots=True)
class Found:
    """The best heading and its rectangle; ``value`` in m² or m, as the goal says."""

    heading_rad: float
    width_m: float
    length_m: float
    value: float


def critical_headings(hull: Hull, low: float, high: float) -> Array:
    """Headings in [low, high] at which a side of the rectangle changes what it touches; ends and middle included."""
    quarter = math.pi / 2
    first = np.mod(hull.starts - low, quarter) + low
    turns = math.floor((high - low) / quarter + 1e-12) + 1
    every = (first[:, None] + quarter * np.arange(turns)).reshape(-1)
    inside = every[(every > low) & (every < high)]
    return np.unique(np.concatenate([[low, (low + high) / 2, high], inside]))


def smallest(hull: Hull, low: float, high: float, goal: Goal, ground: Ground | None = None) -> Found | None:
    """Find the least rectangle with a heading in [low, high]; None where obstacles leave none.

    Among equals (to 1e-9 of the value) the narrowest wins, then the shortest, then the one nearest to the middle of
    the range. A window between obstacles narrower than 1e-11 rad is not seen.

    A box of 4 m × 10 m stands square to y; looking along it the least cover with 0.5 m all round is 5 m × 11 m:

    >>> from stringline.geometry import hull_of
    >>> box = hull_of(np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 10.0], [0.0, 10.0]]))
    >>> found = smallest(box, math.radians(45), math.radians(135), Goal(1.0, 1.0))
    >>> round(math.degrees(found.heading_rad)), round(found.width_m, 9), round(found.length_m, 9)
    (90, 5.0, 11.0)
    """
    table = _table(hull, goal, ground, critical_headings(hull, low, high))
    seen = [table]
    best = _best_value(table, math.inf)
    left, right = table[:, :-1], table[:, 1:]
    for _ in range(60):
        span = right[0] - left[0]
        hope = span > _FINEST_RAD
        hope &= _floor(hull, goal, left, right) < best * (1.0 - 1e-12)
        if ground is not None:
            hope &= left[4] + right[4] + ground.pace * span >= -2 * TOUCH_M
        if not hope.any():
            break
        left, right = left[:, hope], right[:, hope]
        made = _table(hull, goal, ground, _between(left[0], right[0]))
        best = _best_value(made, best)
        seen.append(made)
        left, right = _split(left, made, right)
    return _pick(np.hstack(seen), (low + high) / 2)


def nearest_to_fitting(hull: Hull, low: float, high: float, ground: Ground, within_m: float = NEAREST_M) -> float:
    """Find the heading in [low, high] that stays clearest of everything, to ``within_m`` of the best there is."""
    cuts = critical_headings(hull, low, high)
    table = np.stack([cuts, ground.clear(cuts, hull.four_sides(cuts))])
    top = table[:, int(np.argmax(table[1]))]
    left, right = table[:, :-1], table[:, 1:]
    for _ in range(40):
        hope = left[1] + right[1] + ground.pace * (right[0] - left[0]) > 2 * (top[1] + within_m)
        if not hope.any():
            break
        left, right = left[:, hope], right[:, hope]
        between = _between(left[0], right[0])
        made = np.stack([between, ground.clear(between, hull.four_sides(between))])
        better = made[:, int(np.argmax(made[1]))]
        top = better if better[1] > top[1] else top
        left, right = _split(left, made, right)
    return float(top[0])


def _between(low: Array, high: Array) -> Array:
    """Headings that cut each interval evenly: in two where there are many, in up to sixteen where few are left."""
    parts = max(2, min(16, 64 // len(low)))
    return np.asarray((low + (high - low) * (np.arange(1, parts) / parts)[:, None]).reshape(-1))


def _split(left: Array, made: Array, right: Array) -> tuple[Array, Array]:
    """Ends of the intervals that ``made``, as laid out by :func:`_between`, cuts the old ones into."""
    return np.hstack([left, made]), np.hstack([made, right])


def _table(hull: Hull, goal: Goal, ground: Ground | None, headings: Array) -> Array:
    """Heading, width, length, value and how far clear, a column each."""
    table = np.empty((5, len(headings)))
    table[0] = headings
    reach = hull.four_sides(headings)
    table[1], table[2] = goal.around(reach)
    table[3] = goal.value(table[1], table[2])
    table[4] = math.inf if ground is None else ground.clear(headings, reach)
    return table


def _best_value(table: Array, so_far: float) -> float:
    fits = table[4] >= -TOUCH_M
    return min(so_far, float(table[3, fits].min())) if fits.any() else so_far


def _floor(hull: Hull, goal: Goal, left: Array, right: Array) -> Array:
    """Nothing between the two headings has a smaller value than this."""
    floor: Array = np.minimum(left[3], right[3])
    most = 2 * float(hull.radii.max())
    if min(left[1].min(), right[1].min()) >= most + goal.across_m and (
        min(left[2].min(), right[2].min()) >= most + goal.along_m
    ):
        return floor  # no arc is big enough to make a sinusoid negative
    span, middle = right[0] - left[0], (left[0] + right[0]) / 2
    lost = []
    for row, turn, grown in ((1, -math.pi / 2, goal.across_m), (2, 0.0, goal.along_m)):
        if goal.by == "width" and row == 2:
            continue
        rounding = hull.radii[hull.disc(middle + turn)] + hull.radii[hull.disc(middle + turn + math.pi)]
        least = np.minimum(left[row], right[row])
        dip = np.maximum(rounding + grown - least, 0.0) / np.cos(np.minimum(span / 2, 1.5))
        lost.append(np.maximum(1.0 - dip * span**2 / (8.0 * least), 0.0))
    for part in lost:
        floor = floor * part
    return floor


def _pick(table: Array, middle: float) -> Found | None:
    table = table[:, table[4] >= -TOUCH_M]
    if table.shape[1] == 0:
        return None
    table = table[:, table[3] <= table[3].min() * (1.0 + 1e-9)]
    order = np.lexsort((np.abs(table[0] - middle), np.round(table[2], 7), np.round(table[1], 7)))
    heading, width, length, value, _ = table[:, order[0]]
    return Found(float(heading), float(width), float(length), float(value))
