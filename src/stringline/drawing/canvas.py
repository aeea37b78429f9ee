"""A drawing, recorded once and written by :mod:`svg` and :mod:`dxf`.

Everything is in model metres with y up. Text heights and offsets are millimetres on paper, at the drawing's scale.
Meaning is carried by line type and weight; ink only helps.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from stringline.drawing.scales import Scale

Point = tuple[float, float]
Style = str  # a key of LINE_TYPES

# Dash patterns on paper, millimetres: drawn, gap, drawn, gap … An empty pattern is a continuous line.
LINE_TYPES: dict[Style, tuple[float, ...]] = {
    "solid": (),
    "dashed": (3.0, 1.5),
    "short-dashed": (1.5, 1.0),
    "dotted": (0.35, 1.15),
    "chain": (6.0, 1.2, 0.6, 1.2),  # long dash, dot: centre lines
    "dash-dot": (3.0, 1.2, 0.5, 1.2),
    "double-chain": (6.0, 1.2, 0.6, 1.2, 0.6, 1.2),
}


@dataclass(frozen=True, slots=True)
class Layer:
    """A named layer: line weight on paper, line type, ink as RRGGBB."""

    name: str
    weight_mm: float
    style: Style = "solid"
    ink: str = "000000"


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    layer: Layer
    a: Point
    b: Point


@dataclass(frozen=True, slots=True)
class Polyline:
    """Straight lines through points. ``fill``: None, "ink" or "paper" (closed only)."""

    layer: Layer
    points: tuple[Point, ...]
    closed: bool = False
    fill: str | None = None


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc, counter-clockwise from ``start_rad`` to ``end_rad``."""

    layer: Layer
    centre: Point
    radius_m: float
    start_rad: float
    end_rad: float


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle. ``fill``: None, "ink" or "paper"."""

    layer: Layer
    centre: Point
    radius_m: float
    fill: str | None = None


@dataclass(frozen=True, slots=True)
class EllipseItem:
    """A full ellipse with its semi-axes; ``angle_rad`` turns the major axis from x."""

    layer: Layer
    centre: Point
    major_m: float
    minor_m: float
    angle_rad: float


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text. ``height_mm`` is the height of capitals on paper.

    ``along``: where ``at`` lies along the text: 0 at its start, 0.5 in its middle, 1 at its end. ``up``: 0 on the base
    line, 0.5 in the middle of the capitals, 1 on top of them. ``weight``: regular, bold or italic. ``halo`` clears the
    paper behind the letters.
    """

    layer: Layer
    at: Point
    text: str
    height_mm: float = 2.5
    angle_rad: float = 0.0
    along: float = 0.0
    up: float = 0.0
    weight: str = "regular"
    halo: bool = False


@dataclass(frozen=True, slots=True)
class Dimension:
    """A linear dimension between ``a`` and ``b`` with its line through ``base``, measured along ``angle_rad``.

    ``text`` is what is written on it. ``shift_mm`` moves the text along the dimension line from its middle and
    ``lift_mm`` away from it (a thin leader is drawn where it was lifted). ``under`` writes it below the line.
    """

    layer: Layer
    a: Point
    b: Point
    base: Point
    angle_rad: float
    text: str
    height_mm: float = 2.5
    shift_mm: float = 0.0
    lift_mm: float = 0.0
    under: bool = False


@dataclass(frozen=True, slots=True)
class Hatch:
    """Parallel strokes over a closed outline (the outline itself is not drawn); ``cross`` adds a second set."""

    layer: Layer
    points: tuple[Point, ...]
    angle_rad: float = math.pi / 4
    spacing_mm: float = 2.0
    cross: bool = False


Item = Line | Polyline | Arc | Circle | EllipseItem | Text | Dimension | Hatch


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished drawing: items in the order they are drawn, on a paper of ``paper_size_mm`` (width, height).

    ``name`` is a short stable key for file names, ``title`` what the sheet calls it, ``alt`` a sentence for a reader
    who cannot see it. ``origin`` is the model point at the paper's lower left corner.
    """

    name: str
    title: str
    alt: str
    scale: Scale
    paper_size_mm: tuple[float, float]
    origin: Point
    items: tuple[Item, ...]

    def to_paper(self, p: Point) -> Point:
        """Model metres to paper millimetres, y up, from the paper's lower left corner."""
        return self.scale.to_mm(p[0] - self.origin[0]), self.scale.to_mm(p[1] - self.origin[1])

    def layers(self) -> tuple[Layer, ...]:
        """Layers in use, in the order of their first use."""
        return tuple({item.layer.name: item.layer for item in self.items}.values())
