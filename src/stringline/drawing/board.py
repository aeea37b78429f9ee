"""A board to draw on: collects items at one scale and pins them to a paper in the end."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import pairwise

from stringline.drawing import layers
from stringline.drawing.canvas import Circle, Drawing, Item, Layer, Line, Point, Polyline, Text
from stringline.drawing.dims import chain, depth_mm
from stringline.drawing.measure import extent_mm
from stringline.drawing.scales import Scale

DIM_PITCH_MM = 7.0  # between one dimension line and the next
DIM_FIRST_MM = 8.0  # object to the innermost dimension line


class Board:
    """Records items; helpers take paper millimetres where a thing has a size on paper and none in the model."""

    def __init__(self, scale: Scale) -> None:
        self.scale = scale
        self.items: list[Item] = []

    def add(self, *items: Item) -> None:
        """Record items in the order they are to be drawn."""
        self.items.extend(items)

    def m(self, paper_mm: float) -> float:
        """Model metres of a length on paper."""
        return self.scale.to_m(paper_mm)

    def line(self, layer: Layer, *points: Point) -> None:
        """Straight lines through points."""
        self.add(Line(layer, *points) if len(points) == 2 else Polyline(layer, points))

    def ring(self, layer: Layer, points: Iterable[Point], fill: str | None = None) -> None:
        """A closed outline."""
        self.add(Polyline(layer, tuple(points), True, fill))

    def dot(self, layer: Layer, at: Point, radius_mm: float, fill: str | None = "ink") -> None:
        """A round mark of a size on paper."""
        self.add(Circle(layer, at, self.m(radius_mm), fill))

    def arrow(self, layer: Layer, tail: Point, head: Point, head_mm: float = 3.0) -> None:
        """A line with a filled head."""
        a = math.atan2(head[1] - tail[1], head[0] - tail[0])
        size = self.m(head_mm)
        wings = [(head[0] - size * math.cos(a + t), head[1] - size * math.sin(a + t)) for t in (0.28, -0.28)]
        self.line(layer, tail, (head[0] - 0.8 * size * math.cos(a), head[1] - 0.8 * size * math.sin(a)))
        self.ring(layer, (head, *wings), "ink")

    def stack(
        self,
        chains: Iterable[tuple[list[Point], list[str]]],
        start: Point,
        angle_rad: float,
        outward: Point,
        *,
        first_mm: float = DIM_FIRST_MM,
        height_mm: float = 2.5,
        layer: Layer = layers.DIMS,
    ) -> float:
        """Chains of dimensions outward from ``start``, innermost first; returns the depth used in millimetres.

        ``outward`` is the unit vector away from the object.
        """
        reach = first_mm
        kept = list(chains)
        for k, (points, words) in enumerate(kept):
            base = start[0] + outward[0] * self.m(reach), start[1] + outward[1] * self.m(reach)
            outer = [p for further, _ in kept[k + 1 :] for p in further]
            dims = chain(layer, points, words, base, angle_rad, self.scale, height_mm=height_mm, outer=outer)
            self.add(*dims)
            reach += max(DIM_PITCH_MM, depth_mm(dims, self.scale) + 2.0 + height_mm)
        return reach

    def finish(
        self,
        name: str,
        title: str,
        alt: str,
        *,
        margin_mm: float = 1.5,
        width_mm: float | None = None,
        height_mm: float | None = None,
    ) -> Drawing:
        """The drawing on a paper that holds everything, or on one of a given width or height with it in the middle."""
        left, bottom, right, top = extent_mm(self.items, self.scale)
        w = right - left + 2 * margin_mm if width_mm is None else width_mm
        h = top - bottom + 2 * margin_mm if height_mm is None else height_mm
        x = left - (w - (right - left)) / 2
        y = bottom - (h - (top - bottom)) / 2
        w, h = math.ceil(w * 100) / 100, math.ceil(h * 100) / 100
        return Drawing(name, title, alt, self.scale, (w, h), (self.m(x), self.m(y)), tuple(self.items))


def scale_bar(board: Board, at: Point, marks: list[tuple[float, str]], height_mm: float = 1.8) -> None:
    """A scale bar from ``at`` rightwards: ``marks`` are metres from its start with the words under them."""
    high = board.m(1.6)
    for k, ((a, _), (b, _)) in enumerate(pairwise(marks)):
        box = ((at[0] + a, at[1]), (at[0] + b, at[1]), (at[0] + b, at[1] + high), (at[0] + a, at[1] + high))
        board.ring(layers.THIN, box, "ink" if k % 2 == 0 else "paper")
    for x, words in marks:
        board.add(Text(layers.NOTE, (at[0] + x, at[1] - board.m(1.0)), words, height_mm, along=0.5, up=1.0))
