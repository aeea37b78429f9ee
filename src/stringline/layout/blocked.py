"""Say why a cover does not fit at an end: which obstacle is in the way of which part, and by how much."""

from __future__ import annotations

import math

import numpy as np

from stringline.faults import Fault
from stringline.layout.ends import End
from stringline.layout.ground import PARTS, Surroundings
from stringline.layout.search import TOUCH_M, Goal, nearest_to_fitting, smallest
from stringline.lengths import Unit, format_length

_SAME_RAD = math.radians(0.05)


def blocked(around: Surroundings, end: End, goal: Goal, unit: Unit) -> Fault:
    """Describe what stands in the way of a cover that fits at no heading facing ``end``.

    First at the heading that the cover would take if nothing stood there, then at the one that comes nearest to
    fitting. Raises ValueError where nothing stands around the pool.
    """
    ground = around.ground()
    free = smallest(around.hull, end.low, end.high, goal)
    if ground is None or free is None:
        raise ValueError("nothing stands around this pool")
    nearest = nearest_to_fitting(around.hull, end.low, end.high, ground)
    turn = math.remainder(nearest - free.heading_rad, math.tau)
    there, parts = _said(around, free.heading_rad, unit)
    wrong = f"from {end.label} the cover does not fit at any heading: {there}"
    if abs(turn) > _SAME_RAD:
        turned, more = _said(around, nearest, unit)
        wrong += f"; turned by {abs(math.degrees(turn)):.1f}° it comes nearest, and then {turned}"
        parts += more
    return Fault("layout-blocked", "cover", wrong, _remedy(parts))


def _said(around: Surroundings, heading: float, unit: Unit) -> tuple[str, list[str]]:
    """What is in the way at one heading, worst first, and the parts that it is in the way of."""
    apart = around.apart(np.array([heading]))[0]
    each = []
    for i, name in enumerate(around.names):
        mine = apart[around.owner == i]
        if mine.size and float(mine.min()) < -TOUCH_M:
            each.append((-float(mine.min()), name, PARTS[int(np.argmin(mine.min(axis=0)))]))
    each.sort(reverse=True)
    said = " and ".join(f"{n} is in the way of the {p} by {format_length(over, unit)}" for over, n, p in each)
    return said, [p for _, _, p in each]


def _remedy(parts: list[str]) -> str:
    if all(p == "housing" for p in parts):
        return "choose another end for the housing, or move what stands there"
    if all("track" in p for p in parts):
        return "take a smaller side margin, choose another end, or move what stands there"
    return "take smaller margins, choose another end, or move what stands there"
