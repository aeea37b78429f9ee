"""Strokes of a hatch: parallel lines clipped to an outline (even-odd), for writers that have no hatch of their own."""

from __future__ import annotations

import math
from collections.abc import Sequence

from stringline.drawing.canvas import Hatch, Point
from stringline.drawing.scales import Scale


def hatch_strokes(hatch: Hatch, scale: Scale) -> list[tuple[Point, Point]]:
    """All strokes of a hatch in model metres."""
    gap = scale.to_m(hatch.spacing_mm)
    found = _one_way(hatch.points, hatch.angle_rad, gap)
    if hatch.cross:
        found += _one_way(hatch.points, hatch.angle_rad + math.pi / 2, gap)
    return found


def _one_way(points: Sequence[Point], angle: float, gap: float) -> list[tuple[Point, Point]]:
    c, s = math.cos(angle), math.sin(angle)
    turned = [(p[0] * c + p[1] * s, -p[0] * s + p[1] * c) for p in points]
    low, high = min(p[1] for p in turned), max(p[1] for p in turned)
    out = []
    # Half a gap off a whole number keeps strokes off vertices that lie on round coordinates.
    for k in range(math.floor(low / gap), math.ceil(high / gap) + 1):
        v = (k + 0.5) * gap
        cuts = []
        for (ua, va), (ub, vb) in zip(turned, turned[1:] + turned[:1], strict=True):
            if (va > v) != (vb > v):
                cuts.append(ua + (v - va) * (ub - ua) / (vb - va))
        cuts.sort()
        for a, b in zip(cuts[0::2], cuts[1::2], strict=True):
            out.append(((a * c - v * s, a * s + v * c), (b * c - v * s, b * s + v * c)))
    return out
