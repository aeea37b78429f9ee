"""What stands round the pool, as the plan shows it, and the shortest way from it to the cover's parts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from stringline.drawing.board import Board
from stringline.drawing.canvas import Hatch, Point, Polyline
from stringline.sheets.pictures import layers

_AREAS = ("rock", "step")  # three or more points of these are an area; of the others, a chain


@dataclass(frozen=True, slots=True)
class Thing:
    """An obstacle with its outline in the cover's frame."""

    name: str
    kind: str
    points: tuple[Point, ...]

    @property
    def is_area(self) -> bool:
        """Whether its points go round an area."""
        return self.kind in _AREAS and len(self.points) > 2

    @property
    def faces(self) -> list[tuple[Point, Point]]:
        """Its straight faces; a post has one of no length."""
        if len(self.points) == 1:
            return [(self.points[0], self.points[0])]
        ring = (*self.points, self.points[0]) if self.is_area else self.points
        return list(pairwise(ring))

    @property
    def middle(self) -> Point:
        """Mean of its points."""
        n = len(self.points)
        return sum(p[0] for p in self.points) / n, sum(p[1] for p in self.points) / n


def draw_thing(board: Board, thing: Thing, centre: Point) -> None:
    """Draw an obstacle by its kind; ``centre`` is the pool's middle, which a wall's hatching turns away from."""
    if len(thing.points) == 1:
        board.dot(layers.OBSTACLE, thing.points[0], 1.0)
        return
    if thing.is_area:
        board.add(Hatch(layers.HATCH, thing.points))
        board.ring(layers.OBSTACLE, thing.points)
    elif thing.kind == "wall":
        board.add(Hatch(layers.HATCH, _strip(thing.points, centre, board.m(2.5))), Polyline(layers.WALL, thing.points))
    elif thing.kind == "rail":
        board.add(Polyline(layers.OBSTACLE, thing.points))
        for p in thing.points:
            board.dot(layers.OBSTACLE, p, 0.8)
    else:
        board.add(Polyline(layers.DECK_EDGE, thing.points))


def shortest(thing: Thing, corners: Sequence[Point]) -> tuple[Point, Point]:
    """The shortest line from a convex outline to an obstacle: its end on the outline, its end on the obstacle.

    Where they cross, the shortest between their vertices and sides.
    """
    best: tuple[float, Point, Point] | None = None
    sides = list(pairwise((*corners, corners[0])))
    for face in thing.faces:
        for side in sides:
            for p in face:
                foot = _foot(p, *side)
                best = min(best or (math.inf, foot, p), (math.dist(p, foot), foot, p))
            for q in side:
                foot = _foot(q, *face)
                best = min(best or (math.inf, q, foot), (math.dist(q, foot), q, foot))
    assert best is not None
    return best[1], best[2]


def _strip(points: Sequence[Point], centre: Point, thick: float) -> tuple[Point, ...]:
    """A chain with its parallel ``thick`` further from the centre, as one outline."""
    away = []
    for k, p in enumerate(points):
        before, after = points[max(k - 1, 0)], points[min(k + 1, len(points) - 1)]
        run = after[0] - before[0], after[1] - before[1]
        size = math.hypot(*run) or 1.0
        n = (-run[1] / size, run[0] / size)
        if n[0] * (p[0] - centre[0]) + n[1] * (p[1] - centre[1]) < 0:
            n = (-n[0], -n[1])
        away.append((p[0] + n[0] * thick, p[1] + n[1] * thick))
    return (*points, *reversed(away))


def _foot(p: Point, a: Point, b: Point) -> Point:
    run = b[0] - a[0], b[1] - a[1]
    square = run[0] ** 2 + run[1] ** 2
    t = ((p[0] - a[0]) * run[0] + (p[1] - a[1]) * run[1]) / square if square > 0 else 0.0
    t = min(1.0, max(0.0, t))
    return a[0] + t * run[0], a[1] + t * run[1]
