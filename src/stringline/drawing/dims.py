"""Take a dimension apart into the strokes and the text that are drawn, and chain dimensions so that they stay legible.

Extension lines start clear of the object and run a little past the dimension line, oblique strokes end it, the text
stands above the line and reads from the bottom or from the right of the sheet (as ISO 129-1 has it).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from stringline.drawing.canvas import Dimension, Layer, Point, Text
from stringline.drawing.lettering import width_mm
from stringline.drawing.scales import Scale

GAP_MM = 1.2  # object to the start of an extension line
PAST_MM = 1.2  # extension line past the dimension line
TICK_MM = 2.2  # length of an oblique stroke
TEXT_GAP_MM = 0.9  # dimension line to the base of its text
ROW_GAP_MM = 1.5  # between rows of text that were lifted off a chain
TICK_WEIGHT = 2.2  # oblique strokes against the dimension's own line weight


@dataclass(frozen=True, slots=True)
class Parts:
    """What a dimension looks like, in model metres: thin strokes, oblique strokes, and its text."""

    strokes: tuple[tuple[Point, Point], ...]
    ticks: tuple[tuple[Point, Point], ...]
    text: Text


def reading_angle(angle_rad: float) -> float:
    """The angle, or its opposite, at which text reads from the bottom or the right: in (−π/2, π/2]."""
    a = math.remainder(angle_rad, math.tau)
    if a > math.pi / 2 + 1e-9:
        return a - math.pi
    if a <= -math.pi / 2 + 1e-9:
        return a + math.pi
    return a


def ends(dim: Dimension) -> tuple[Point, Point]:
    """Both ends of the dimension line: ``a`` and ``b`` projected square to it."""
    d = (math.cos(dim.angle_rad), math.sin(dim.angle_rad))
    return _foot(dim.a, dim.base, d), _foot(dim.b, dim.base, d)


def measured_m(dim: Dimension) -> float:
    """The distance that the dimension line spans, in metres."""
    p, q = ends(dim)
    return math.hypot(q[0] - p[0], q[1] - p[1])


def text_point(dim: Dimension, scale: Scale) -> tuple[Point, float]:
    """Middle of the text's base line, and the angle it is written at."""
    p, q = ends(dim)
    angle = reading_angle(dim.angle_rad)
    d, n = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    side = TEXT_GAP_MM + dim.lift_mm
    if dim.under:
        side = -(TEXT_GAP_MM + dim.lift_mm + dim.height_mm)
    along, off = scale.to_m(dim.shift_mm), scale.to_m(side)
    return (
        (p[0] + q[0]) / 2 + d[0] * along + n[0] * off,
        (p[1] + q[1]) / 2 + d[1] * along + n[1] * off,
    ), angle


def take_apart(dim: Dimension, scale: Scale) -> Parts:
    """Strokes, oblique strokes and text of a dimension at a drawing's scale."""
    p, q = ends(dim)
    strokes = [(p, q)]
    for foot, point in ((p, dim.a), (q, dim.b)):
        reach = math.hypot(foot[0] - point[0], foot[1] - point[1])
        if scale.to_mm(reach) > GAP_MM:
            out = ((foot[0] - point[0]) / reach, (foot[1] - point[1]) / reach)
            strokes.append((_along(point, out, scale.to_m(GAP_MM)), _along(foot, out, scale.to_m(PAST_MM))))
    angle = reading_angle(dim.angle_rad)
    half = scale.to_m(TICK_MM / 2)
    t = (math.cos(angle + math.pi / 4), math.sin(angle + math.pi / 4))
    ticks = tuple((_along(e, t, -half), _along(e, t, half)) for e in (p, q))
    at, _ = text_point(dim, scale)
    middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
    if dim.lift_mm > 0:
        strokes.append((middle, _leader_end(dim, scale, at, angle)))
    elif abs(dim.shift_mm) > 0 and scale.to_mm(math.dist(p, q)) / 2 < abs(dim.shift_mm):
        # Text beside a short dimension: carry the line out under it.
        w = width_mm(dim.text, dim.height_mm) / 2
        d = (math.cos(angle), math.sin(angle))
        strokes.append((middle, _along(middle, d, scale.to_m(dim.shift_mm + math.copysign(w, dim.shift_mm)))))
    text = Text(dim.layer, at, dim.text, dim.height_mm, angle, 0.5, 0.0, halo=True)
    return Parts(tuple(strokes), ticks, text)


def fits(dim: Dimension, scale: Scale) -> bool:
    """Whether the text stands between the oblique strokes with room to spare."""
    return width_mm(dim.text, dim.height_mm) + TICK_MM <= scale.to_mm(measured_m(dim))


def chain(
    layer: Layer,
    points: Sequence[Point],
    texts: Sequence[str],
    base: Point,
    angle_rad: float,
    scale: Scale,
    *,
    height_mm: float = 2.5,
    outer: Sequence[Point] = (),
) -> tuple[Dimension, ...]:
    """Dimensions end to end on one line. Text too long for its place goes beside the chain's end, or is lifted.

    ``points`` has one more entry than ``texts``; a segment with an empty text is left out. ``outer`` are the points
    from which extension lines run on past this chain: lifted text keeps clear of those.
    """
    if len(points) != len(texts) + 1:
        raise ValueError("a chain needs one more point than texts")
    dims = [
        Dimension(layer, a, b, base, angle_rad, text, height_mm)
        for a, b, text in zip(points[:-1], points[1:], texts, strict=True)
        if text
    ]
    out = [d for d in dims if fits(d, scale)]
    under = _outward(dims, scale) < 0
    # Rows of text outside the line: what each already holds, as spans along the reading direction. The first row is
    # the chain's own where the lifted texts go to the same side of the line.
    rows: list[list[tuple[float, float]]] = [[_span(d, scale) for d in out]]
    lifted: list[list[tuple[float, float]]] = [[]] if under else rows
    for dim in (d for d in dims if not fits(d, scale)):
        turned = _beside(dim, dims, scale)
        if turned is not None and not _held(_span(turned, scale), rows[0]):
            rows[0].append(_span(turned, scale))
            out.append(turned)
            continue
        dim = replace(dim, shift_mm=_clear_shift(dim, [_reading_mm(p, dim, scale) for p in outer], scale))
        span, middle = _span(dim, scale), _middle(dim, scale)
        row = 0 if under else 1
        # The row must have room, and the leader must not run through a text on its way there.
        while row < len(lifted) and (
            _held(span, lifted[row]) or any(_held((middle, middle), lifted[k]) for k in range(row))
        ):
            row += 1
            if row == len(lifted):
                break
        while len(lifted) <= row:
            lifted.append([])
        lifted[row].append(span)
        out.append(replace(dim, lift_mm=row * (height_mm + ROW_GAP_MM) + (1.2 if under else 0.0), under=under))
    return tuple(sorted(out, key=lambda d: _middle(d, scale)))


def depth_mm(dims: Sequence[Dimension], scale: Scale) -> float:
    """How far a chain reaches outward of its line, away from what it measures."""
    above = _outward(dims, scale) > 0
    return max((d.lift_mm + d.height_mm + TEXT_GAP_MM for d in dims if d.under is not above), default=PAST_MM)


def _outward(dims: Sequence[Dimension], scale: Scale) -> int:
    """1 where "above" the chain, as its text reads, is away from what it measures, −1 where it is towards it."""
    away = 0.0
    for dim in dims:
        angle = reading_angle(dim.angle_rad)
        for foot, point in zip(ends(dim), (dim.a, dim.b), strict=True):
            away += (foot[1] - point[1]) * math.cos(angle) - (foot[0] - point[0]) * math.sin(angle)
    return -1 if scale.to_mm(away) < -1e-6 else 1


def _beside(dim: Dimension, dims: Sequence[Dimension], scale: Scale) -> Dimension | None:
    """The first or last dimension of a chain with its text outside the chain; None for one between others."""
    w = width_mm(dim.text, dim.height_mm)
    shift = (w + scale.to_mm(measured_m(dim))) / 2 + TICK_MM
    order = sorted(dims, key=lambda d: _middle(d, scale))
    if dim is order[0]:
        return replace(dim, shift_mm=-shift)
    if dim is order[-1]:
        return replace(dim, shift_mm=shift)
    return None


def _clear_shift(dim: Dimension, crossing: Sequence[float], scale: Scale) -> float:
    """The least shift at which a dimension's text stands between the lines that cross its row; 0 where none does."""
    low, high = _span(dim, scale)
    shifts = [0.0, *(c - high for c in crossing), *(c - low for c in crossing)]
    clear = [s for s in shifts if not any(low + s + 1e-6 < c < high + s - 1e-6 for c in crossing)]
    return min(clear, key=abs, default=0.0)


def _reading_mm(p: Point, dim: Dimension, scale: Scale) -> float:
    """A point's place along a dimension's reading direction, in paper millimetres."""
    angle = reading_angle(dim.angle_rad)
    return scale.to_mm(p[0] * math.cos(angle) + p[1] * math.sin(angle))


def _middle(dim: Dimension, scale: Scale) -> float:
    """Middle of the dimension line along its reading direction, in paper millimetres."""
    p, q = ends(dim)
    angle = reading_angle(dim.angle_rad)
    return scale.to_mm(((p[0] + q[0]) * math.cos(angle) + (p[1] + q[1]) * math.sin(angle)) / 2)


def _span(dim: Dimension, scale: Scale) -> tuple[float, float]:
    half, middle = width_mm(dim.text, dim.height_mm) / 2 + 0.8, _middle(dim, scale) + dim.shift_mm
    return middle - half, middle + half


def _held(span: tuple[float, float], row: Sequence[tuple[float, float]]) -> bool:
    return any(span[0] < r[1] and r[0] < span[1] for r in row)


def _leader_end(dim: Dimension, scale: Scale, at: Point, angle: float) -> Point:
    n = (-math.sin(angle), math.cos(angle))
    back = -scale.to_m(TEXT_GAP_MM * 0.6) if not dim.under else scale.to_m(dim.height_mm + TEXT_GAP_MM * 0.6)
    return _along(at, n, back)


def _foot(p: Point, base: Point, d: Point) -> Point:
    t = (p[0] - base[0]) * d[0] + (p[1] - base[1]) * d[1]
    return base[0] + t * d[0], base[1] + t * d[1]


def _along(p: Point, d: Point, t: float) -> Point:
    return p[0] + d[0] * t, p[1] + d[1] * t
