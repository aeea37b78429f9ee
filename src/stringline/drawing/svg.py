"""Write a drawing as a self-contained SVG with real text, to size in millimetres."""

from __future__ import annotations

import math
from itertools import groupby
from xml.sax.saxutils import escape, quoteattr

from stringline.drawing.canvas import (
    LINE_TYPES,
    Arc,
    Circle,
    Dimension,
    Drawing,
    EllipseItem,
    Hatch,
    Item,
    Layer,
    Line,
    Point,
    Polyline,
    Text,
)
from stringline.drawing.dims import TICK_WEIGHT, take_apart
from stringline.drawing.hatching import hatch_strokes
from stringline.drawing.lettering import FAMILY, font_size_mm, width_mm
from stringline.drawing.measure import texts

HALO = 0.18  # width of the cleared edge round letters with a halo, of the font size; half of it shows
_FONT_STACK = f"'{FAMILY}', 'Source Sans 3', sans-serif"


def svg(drawing: Drawing, *, id_prefix: str, alone: bool = False) -> str:
    """SVG document of a drawing, ids beginning with ``id_prefix``, width and height in mm, with <title> and <desc>.

    Presentation attributes only, no style sheet and nothing from outside; one user unit is one millimetre on paper.
    ``alone`` is for a file that may be opened where the drawing's font is not: every text is then held to its width,
    so that another font cannot make labels meet.
    """
    w, h = (_n(v) for v in drawing.paper_size_mm)
    title, desc = quoteattr(f"{id_prefix}-title"), quoteattr(f"{id_prefix}-desc")
    labelled = quoteattr(f"{id_prefix}-title {id_prefix}-desc")
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="0 0 {w} {h}" role="img" '
        f"aria-labelledby={labelled}>",
        f"<title id={title}>{_clean(drawing.title)}</title>",
        f"<desc id={desc}>{_clean(drawing.alt)}</desc>",
        f'<g fill="none" stroke="#000" stroke-linecap="butt" stroke-linejoin="round" '
        f"font-family={quoteattr(_FONT_STACK)}>",
    ]
    if alone:
        # Black lines on whatever page it is shown, a dark one too.
        out.insert(-1, f'<rect width="{w}" height="{h}" fill="#fff"/>')
    pen = _Pen(drawing, alone)
    for layer, items in groupby((i for i in drawing.items if not isinstance(i, Text)), key=lambda item: item.layer):
        out.append(f"<g{_stroke(layer)}>")
        for item in items:
            out.extend(pen.draw(item))
        out.append("</g>")
    # Letters last, the bold ones on top: a halo clears lines, and must not nibble at what was lettered before.
    lettered = sorted(texts(drawing.items, drawing.scale), key=lambda t: (not t.halo, t.weight == "bold"))
    out += [line for line in map(pen.text, lettered) if line]
    out += ["</g>", "</svg>"]
    return "\n".join(out) + "\n"


class _Pen:
    """Draws items of one drawing in paper millimetres, y down."""

    def __init__(self, drawing: Drawing, alone: bool) -> None:
        self.drawing = drawing
        self.alone = alone
        self.scale = drawing.scale

    def draw(self, item: Item) -> list[str]:
        """SVG elements of one item."""
        if isinstance(item, Line):
            return [f'<path d="{self._stroke_path([(item.a, item.b)])}"/>']
        if isinstance(item, Polyline):
            d = "M" + "L".join(self._p(p) for p in item.points) + ("Z" if item.closed else "")
            return [f'<path d="{d}"{_fill(item.layer, item.fill)}/>']
        if isinstance(item, Circle):
            x, y = self._xy(item.centre)
            r = _n(self.scale.to_mm(item.radius_m))
            return [f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{r}"{_fill(item.layer, item.fill)}/>']
        if isinstance(item, Arc):
            return [self._arc(item)]
        if isinstance(item, EllipseItem):
            x, y = self._xy(item.centre)
            rx, ry = _n(self.scale.to_mm(item.major_m)), _n(self.scale.to_mm(item.minor_m))
            turn = _n(-math.degrees(item.angle_rad))
            return [
                f'<ellipse cx="{_n(x)}" cy="{_n(y)}" rx="{rx}" ry="{ry}" transform="rotate({turn} {_n(x)} {_n(y)})"/>'
            ]
        if isinstance(item, Hatch):
            d = self._stroke_path(hatch_strokes(item, self.scale))
            return [f'<path d="{d}"/>'] if d else []
        if isinstance(item, Dimension):
            return self._dimension(item)
        return []

    def _dimension(self, dim: Dimension) -> list[str]:
        parts = take_apart(dim, self.scale)
        heavy = _n(dim.layer.weight_mm * TICK_WEIGHT)
        return [
            f'<path d="{self._stroke_path(parts.strokes)}"/>',
            f'<path d="{self._stroke_path(parts.ticks)}" stroke-width="{heavy}"/>',
        ]

    def _arc(self, arc: Arc) -> str:
        span = (arc.end_rad - arc.start_rad) % math.tau or math.tau

        def at(t: float) -> str:
            return self._p((arc.centre[0] + arc.radius_m * math.cos(t), arc.centre[1] + arc.radius_m * math.sin(t)))

        r = _n(self.scale.to_mm(arc.radius_m))
        # Two halves: one elliptical-arc command cannot draw a full turn.
        middle, end = arc.start_rad + span / 2, arc.start_rad + span
        return f'<path d="M{at(arc.start_rad)}A{r} {r} 0 0 0 {at(middle)}A{r} {r} 0 0 0 {at(end)}"/>'

    def text(self, text: Text) -> str:
        """One line of letters; empty for an empty one."""
        if not text.text:
            return ""
        x, y = self._xy(text.at)
        along, anchor = 0.0, {0.0: "start", 0.5: "middle", 1.0: "end"}.get(text.along)
        if anchor is None:
            anchor, along = "start", -text.along * width_mm(text.text, text.height_mm, text.weight)
        drop = text.up * text.height_mm
        c, s = math.cos(text.angle_rad), math.sin(text.angle_rad)
        x, y = x + along * c + drop * s, y - along * s + drop * c
        turn = f' transform="rotate({_n(-math.degrees(text.angle_rad))} {_n(x)} {_n(y)})"' if text.angle_rad else ""
        look = {"bold": ' font-weight="700"', "italic": ' font-style="italic"'}.get(text.weight, "")
        size = font_size_mm(text.height_mm)
        if self.alone:
            held = _n(width_mm(text.text, text.height_mm, text.weight))
            look += f' textLength="{held}" lengthAdjust="spacingAndGlyphs"'
        halo = (
            f' stroke="#fff" stroke-width="{_n(size * HALO)}" paint-order="stroke"' if text.halo else ' stroke="none"'
        )
        return (
            f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}" text-anchor="{anchor}" '
            f'fill="#{text.layer.ink}"{halo}{look}{turn}>{_clean(text.text)}</text>'
        )

    def _stroke_path(self, strokes: list[tuple[Point, Point]] | tuple[tuple[Point, Point], ...]) -> str:
        return "".join(f"M{self._p(a)}L{self._p(b)}" for a, b in strokes)

    def _xy(self, p: Point) -> Point:
        x, y = self.drawing.to_paper(p)
        return x, self.drawing.paper_size_mm[1] - y

    def _p(self, p: Point) -> str:
        x, y = self._xy(p)
        return f"{_n(x)} {_n(y)}"


def _stroke(layer: Layer) -> str:
    ink = f' stroke="#{layer.ink}"' if layer.ink != "000000" else ""
    pattern = LINE_TYPES[layer.style]
    dash = f' stroke-dasharray="{" ".join(_n(v) for v in pattern)}"' if pattern else ""
    return f' stroke-width="{_n(layer.weight_mm)}"{ink}{dash}'


def _fill(layer: Layer, fill: str | None) -> str:
    if fill is None:
        return ""
    return f' fill="#{layer.ink}"' if fill == "ink" else ' fill="#fff"'


def _clean(text: str) -> str:
    """Escape, and leave out characters that XML 1.0 cannot hold."""
    return escape("".join(c for c in text if c in "\t\n" or (c >= " " and c not in "\ufffe\uffff")))


def _n(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
