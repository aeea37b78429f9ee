"""A job begun from a drawn outline: its points as they were drawn, its arcs as bows."""

from __future__ import annotations

import math
from dataclasses import dataclass

from stringline.job.dxf_outline import DrawnOutline

DRAWN_SIGMA = "10 mm"
"""How far a point may stand from where it is drawn, one σ, where nobody says (practice)."""

_FAR_M = 1000.0


@dataclass(frozen=True, slots=True)
class Begun:
    """What a drawing gives to a job: points (name, x, y, in metres) and the water's edge as ``[pool] water`` writes it.

    ``moved_m`` is what was taken off x and y of an outline far from its drawing's origin, as in a map's grid.
    """

    points: tuple[tuple[str, float, float], ...]
    water: tuple[str | dict[str, str], ...]
    smooth: bool
    moved_m: tuple[float, float]
    layer: str
    unit_m: float
    passed_over: tuple[str, ...]


def begun_from(outline: DrawnOutline) -> Begun:
    """The points and the water's edge of a drawn outline.

    >>> from stringline.job.dxf_outline import DrawnOutline
    >>> square = ((0.0, 0.0, 0.0), (4.0, 0.0, 0.0), (4.0, 3.0, 1.0), (0.0, 3.0, 0.0))
    >>> found = begun_from(DrawnOutline("WATER", square, False, 1.0, ()))
    >>> found.water, found.points[3]
    (('1', '2', '3', {'through': '3m'}, '4'), ('3m', 2.0, 5.0))
    """
    points: list[tuple[str, float, float]] = []
    water: list[str | dict[str, str]] = []
    sx, sy = (_far(min(v[axis] for v in outline.vertices)) for axis in (0, 1))
    vertices = [(x - sx, y - sy, bulge) for x, y, bulge in outline.vertices]
    for k, (x, y, bulge) in enumerate(vertices):
        points.append((str(k + 1), x, y))
        water.append(str(k + 1))
        if bulge != 0.0:
            after = vertices[(k + 1) % len(vertices)]
            points.append((f"{k + 1}m", *_middle(x, y, after[0], after[1], bulge)))
            water.append({"through": f"{k + 1}m"})
    moved = (float(sx), float(sy))
    return Begun(tuple(points), tuple(water), outline.smooth, moved, outline.layer, outline.unit_m, outline.passed_over)


def _middle(x: float, y: float, p: float, q: float, bulge: float) -> tuple[float, float]:
    """The middle of an arc from (x, y) to (p, q): half the chord times the bulge off it, to the right for +."""
    return (x + p) / 2 + bulge * (q - y) / 2, (y + q) / 2 - bulge * (p - x) / 2


def _far(m: float) -> float:
    """What to take off a coordinate that begins more than a kilometre from the origin."""
    return math.floor(m) if abs(m) > _FAR_M else 0.0
