"""Say why a cover does not fit at an end: which obstacle is in the way of which part, and by how much."""

from __future__ import annotations

import math

import numpy as np

from stringline.faults import Fault
from stringline.finding import Finding, finding
from stringline.layout.clearance import HOUSING, PARTS, TRACKS
from stringline.layout.ends import End
from stringline.layout.ground import Surroundings
from stringline.layout.search import NEAREST_M, TOUCH_M, Goal, nearest_to_fitting, smallest

_SAME_RAD = math.radians(0.05)


def blocked(around: Surroundings, end: End, goal: Goal) -> Fault:
    """Describe what stands in the way of a cover that fits at no heading facing ``end``.

    First at the heading that the cover would take if nothing stood there, then, where that is another by more than
    0.05°, at the one that comes nearest to fitting. "By how much" is the least shift in metres that would part the two
    (separating axes, :meth:`stringline.layout.ground.Surroundings.apart`), worst first. Raises ValueError where nothing
    stands around the pool.
    """
    ground = around.ground()
    free = smallest(around.hull, end.low, end.high, goal)
    if ground is None or free is None:
        raise ValueError("nothing stands around this pool")
    nearest = nearest_to_fitting(around.hull, end.low, end.high, ground)
    turn = math.remainder(nearest - free.heading_rad, math.tau)
    here, parts = _in_the_way(around, free.heading_rad)
    turned = None
    if abs(turn) > _SAME_RAD:
        there, more = _in_the_way(around, nearest)
        turned = finding("layout.blocked-turned", turn_rad=abs(turn), in_the_way=there)
        parts += more
    wrong = finding("layout.blocked", end=end.label, in_the_way=here, turned=turned)
    return Fault("layout-blocked", "cover", wrong, _remedy(parts))


def _in_the_way(around: Surroundings, heading: float) -> tuple[tuple[Finding, ...], list[str]]:
    """What is in the way at one heading, worst first, and the parts that it is in the way of."""
    apart = around.apart(np.array([heading]))[0]
    each = []
    for i, name in enumerate(around.names):
        mine = apart[around.owner == i]
        if mine.size and float(mine.min()) < -TOUCH_M:
            # where it comes nearest two parts are often as bad: the first is named, whatever the last digits say
            worst = mine.min(axis=0) <= mine.min() + NEAREST_M
            each.append((-float(mine.min()), name, PARTS[int(np.argmax(worst))]))
    each.sort(reverse=True)
    said = tuple(finding("layout.in-the-way", obstacle=n, part=finding(p), over_m=over) for over, n, p in each)
    return said, [p for _, _, p in each]


def _remedy(parts: list[str]) -> Finding:
    if all(p == HOUSING for p in parts):
        return finding("layout.unblock-housing")
    if all(p in TRACKS for p in parts):
        return finding("layout.unblock-tracks")
    return finding("layout.unblock")
