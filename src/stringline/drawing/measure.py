"""Where things lie on paper: boxes of text, strokes, the extent of a drawing, and what overlaps what."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from stringline.drawing.canvas import (
    Arc,
    Circle,
    Dimension,
    Drawing,
    EllipseItem,
    Hatch,
    Item,
    Line,
    Point,
    Polyline,
    Text,
)
from stringline.drawing.dims import take_apart
from stringline.drawing.lettering import reach_mm, width_mm
from stringline.drawing.scales import Scale

Stroke = tuple[Point, Point]
Bounds = tuple[float, float, float, float]  # left, bottom, right, top


@dataclass(frozen=True, slots=True)
class Box:
    """A turned rectangle: its four corners in order round it, and what stands in it."""

    corners: tuple[Point, Point, Point, Point]
    text: str = ""

    @property
    def bounds(self) -> Bounds:
        """Upright rectangle around it."""
        xs, ys = [c[0] for c in self.corners], [c[1] for c in self.corners]
        return min(xs), min(ys), max(xs), max(ys)

    def meets(self, other: Box) -> bool:
        """Whether two boxes share area (separating axes; touching is apart)."""
        a, b = self.bounds, other.bounds
        if a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]:
            return False
        return not any(_apart(axis, self.corners, other.corners) for axis in (*_axes(self), *_axes(other)))


def text_box(text: Text, scale: Scale, *, pad_mm: float = 0.0) -> Box:
    """Box around a line of text in model millimetres on paper (model metres through the scale, y up)."""
    w = width_mm(text.text, text.height_mm, text.weight)
    below, above = reach_mm(text.text, text.height_mm)
    x, y = scale.to_mm(text.at[0]), scale.to_mm(text.at[1])
    left, base = -text.along * w, -text.up * text.height_mm
    c, s = math.cos(text.angle_rad), math.sin(text.angle_rad)
    low, high = base - below - pad_mm, base + above + pad_mm
    a, b = left - pad_mm, left + w + pad_mm

    def put(u: float, v: float) -> Point:
        return x + u * c - v * s, y + u * s + v * c

    return Box((put(a, low), put(b, low), put(b, high), put(a, high)), text.text)


def texts(items: Iterable[Item], scale: Scale) -> Iterator[Text]:
    """Every line of text, those of dimensions included."""
    for item in items:
        if isinstance(item, Text):
            yield item
        elif isinstance(item, Dimension):
            yield take_apart(item, scale).text


def strokes(item: Item, scale: Scale) -> list[Stroke]:
    """An item as straight strokes in model metres (curves as chords; text and hatching have none)."""
    if isinstance(item, Line):
        return [(item.a, item.b)]
    if isinstance(item, Polyline):
        points = list(item.points) + ([item.points[0]] if item.closed else [])
        return list(pairwise(points))
    if isinstance(item, Dimension):
        parts = take_apart(item, scale)
        return [*parts.strokes, *parts.ticks]
    if isinstance(item, Arc):
        span = (item.end_rad - item.start_rad) % math.tau or math.tau
        return _ring(item.centre, item.radius_m, item.radius_m, 0.0, item.start_rad, span)
    if isinstance(item, Circle):
        return _ring(item.centre, item.radius_m, item.radius_m, 0.0, 0.0, math.tau)
    if isinstance(item, EllipseItem):
        return _ring(item.centre, item.major_m, item.minor_m, item.angle_rad, 0.0, math.tau)
    return []


def extent_mm(items: Iterable[Item], scale: Scale) -> Bounds:
    """Upright rectangle around everything, in model millimetres on paper; raises ValueError for an empty drawing."""
    xs: list[float] = []
    ys: list[float] = []
    kept = list(items)
    for item in kept:
        points = item.points if isinstance(item, Hatch) else [p for s in strokes(item, scale) for p in s]
        xs.extend(scale.to_mm(p[0]) for p in points)
        ys.extend(scale.to_mm(p[1]) for p in points)
    for text in texts(kept, scale):
        b = text_box(text, scale).bounds
        xs.extend((b[0], b[2]))
        ys.extend((b[1], b[3]))
    if not xs:
        raise ValueError("an empty drawing has no extent")
    return min(xs), min(ys), max(xs), max(ys)


def overlaps(drawing: Drawing, *, spare_mm: float = 0.0) -> tuple[tuple[str, str | None], ...]:
    """What a draughtsman would not sign: text over text, and text off the sheet (None beside it). Empty where all is
    well.
    """
    boxes = [text_box(t, drawing.scale, pad_mm=spare_mm / 2) for t in texts(drawing.items, drawing.scale) if t.text]
    found: list[tuple[str, str | None]] = []
    order = sorted(range(len(boxes)), key=lambda k: boxes[k].bounds[0])
    for i, k in enumerate(order):
        right = boxes[k].bounds[2]
        for m in order[i + 1 :]:
            if boxes[m].bounds[0] >= right:
                break
            if boxes[k].meets(boxes[m]):
                found.append((boxes[k].text, boxes[m].text))
    ox, oy = drawing.scale.to_mm(drawing.origin[0]), drawing.scale.to_mm(drawing.origin[1])
    w, h = drawing.paper_size_mm
    for box in boxes:
        left, bottom, right, top = box.bounds
        if left < ox - 0.01 or bottom < oy - 0.01 or right > ox + w + 0.01 or top > oy + h + 0.01:
            found.append((box.text, None))
    return tuple(found)


def _ring(centre: Point, a: float, b: float, turn: float, start: float, span: float) -> list[Stroke]:
    n = max(8, math.ceil(abs(span) / (math.tau / 32)))
    c, s = math.cos(turn), math.sin(turn)
    points = []
    for k in range(n + 1):
        t = start + span * k / n
        u, v = a * math.cos(t), b * math.sin(t)
        points.append((centre[0] + u * c - v * s, centre[1] + u * s + v * c))
    return list(pairwise(points))


def _axes(box: Box) -> tuple[Point, Point]:
    p, q, r, _ = box.corners
    return (q[0] - p[0], q[1] - p[1]), (r[0] - q[0], r[1] - q[1])


def _apart(axis: Point, a: Iterable[Point], b: Iterable[Point]) -> bool:
    pa = [p[0] * axis[0] + p[1] * axis[1] for p in a]
    pb = [p[0] * axis[0] + p[1] * axis[1] for p in b]
    slack = 1e-9 * math.hypot(axis[0], axis[1])
    return bool(max(pa) <= min(pb) + slack or max(pb) <= min(pa) + slack)
