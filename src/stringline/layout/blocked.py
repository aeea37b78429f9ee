"""Say why a cover does not fit at an end: which obstacle is in the way of which part, and by how much."""

from __future__ import annotations

import math

import numpy as np

from stringline.faults import Fault
from stringline.layout.ends import End
from stringline.layout.ground import PARTS, Surroundings
from stringline.layout.search import TOUCH_M, nearest_to_fitting
from stringline.lengths import Unit, format_length


def blocked(around: Surroundings, end: End, unit: Unit) -> Fault:
    """Describe what is in the way at the heading, among those that face ``end``, that comes nearest to fitting."""
    ground = around.ground()
    if ground is None:
        raise ValueError("nothing stands around this pool")
    heading = nearest_to_fitting(around.hull, end.low, end.high, ground)
    apart = around.apart(np.array([heading]))[0]
    each = {}
    for i, name in enumerate(around.names):
        mine = apart[around.owner == i]
        if mine.size and float(mine.min()) < -TOUCH_M:
            part = PARTS[int(np.argmin(mine.min(axis=0)))]
            each[name] = (-float(mine.min()), part)
    worst = sorted(each.items(), key=lambda kv: -kv[1][0])
    said = " and ".join(
        f"{name} is in the way of the {part} by {format_length(over, unit)}" for name, (over, part) in worst
    )
    turn = math.degrees(math.remainder(heading - end.square_rad, math.tau))
    wrong = f"from {end.label} the cover does not fit at any heading; at its best ({turn:+.1f}° off square) {said}"
    return Fault("layout-blocked", "cover", wrong, _remedy([part for _, (_, part) in worst]))


def _remedy(parts: list[str]) -> str:
    if all(p == "housing" for p in parts):
        return "choose another end for the housing, or move what stands there"
    if all("track" in p for p in parts):
        return "take a smaller side margin, choose another end, or move what stands there"
    return "take smaller margins, choose another end, or move what stands there"
