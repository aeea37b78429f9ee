"""Write a drawing as a DXF: metres, layers with line weights and line types, and real dimensions.

Model space holds the thing at full size in metres; a layout named "Sheet" shows it on its paper at the stated scale.
"""

from __future__ import annotations

import io
import math
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from stringline.drawing.canvas import (
    LINE_TYPES,
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
from stringline.drawing.dims import GAP_MM, PAST_MM, TEXT_GAP_MM, TICK_MM, fits, text_point
from stringline.drawing.lettering import FAMILY, width_mm

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document

NOTHING: Mapping[str, str] = MappingProxyType({})
_STYLE = "LETTERING"
_DIM_STYLE = "DIMENSION"
_WEIGHTS = (5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100)  # 1/100 mm, those the format knows


def dxf(drawing: Drawing, shows: Mapping[str, str] = NOTHING) -> str:
    """DXF (release R2010) of a drawing as text, to be written in UTF-8; ``shows`` says what each layer holds."""
    stream = io.StringIO()
    document(drawing, shows).write(stream)
    return stream.getvalue()


def document(drawing: Drawing, shows: Mapping[str, str] = NOTHING) -> Document:
    """The drawing as an ezdxf document, for writing or for an audit."""
    from ezdxf import units
    from ezdxf.filemanagement import new

    doc = new("R2010", units=units.M)
    doc.header["$MEASUREMENT"] = 1
    doc.header["$LWDISPLAY"] = 1
    doc.header.custom_vars.append("Title", drawing.title)
    doc.header.custom_vars.append("Scale", drawing.scale.text)
    doc.header.custom_vars.append("Subject", drawing.alt)
    _tables(doc, drawing, shows)
    space = doc.modelspace()
    for item in drawing.items:
        _add(space, item, drawing)
    w, h = drawing.paper_size_mm
    sheet: Any = doc.layout("Layout1")
    doc.layouts.rename("Layout1", "Sheet")
    sheet.page_setup(size=(w, h), margins=(0, 0, 0, 0), units="mm")
    middle = drawing.scale.to_m(w / 2) + drawing.origin[0], drawing.scale.to_m(h / 2) + drawing.origin[1]
    sheet.add_viewport(
        center=(w / 2, h / 2), size=(w, h), view_center_point=middle, view_height=drawing.scale.to_m(h), status=2
    )
    return doc


def _tables(doc: Document, drawing: Drawing, shows: Mapping[str, str]) -> None:
    unit = drawing.scale.to_m(1.0)
    used = {layer.style for layer in drawing.layers()}
    for name, pattern in LINE_TYPES.items():
        if pattern and name in used:
            signed = [v * unit * (1 if k % 2 == 0 else -1) for k, v in enumerate(pattern)]
            doc.linetypes.add(name.upper(), [sum(pattern) * unit, *signed], description=name)
    for layer in drawing.layers():
        style = layer.style.upper() if LINE_TYPES[layer.style] else "CONTINUOUS"
        weight = min(_WEIGHTS, key=lambda v: abs(v - 100 * layer.weight_mm))
        entry = doc.layers.add(layer.name, color=7, linetype=style, lineweight=weight)
        if layer.ink != "000000":
            r, g, b = (int(layer.ink[k : k + 2], 16) for k in (0, 2, 4))
            entry.rgb = (r, g, b)
        entry.description = shows.get(layer.name, "")
    regular = doc.styles.add(_STYLE, font="SourceSansPro-Regular.ttf")
    regular.set_extended_font_data(family=FAMILY)
    bold = doc.styles.add(_STYLE + "-BOLD", font="SourceSansPro-Bold.ttf")
    bold.set_extended_font_data(family=FAMILY, bold=True)
    italic = doc.styles.add(_STYLE + "-ITALIC", font="SourceSansPro-It.ttf")
    italic.set_extended_font_data(family=FAMILY, italic=True)
    dims = doc.dimstyles.new(_DIM_STYLE)
    dims.dxf.dimscale = unit
    dims.dxf.dimtxt = 2.5
    dims.dxf.dimtsz = TICK_MM / 2
    dims.dxf.dimexo = GAP_MM
    dims.dxf.dimexe = PAST_MM
    dims.dxf.dimgap = TEXT_GAP_MM
    dims.dxf.dimtad = 1
    dims.dxf.dimtih = 0
    dims.dxf.dimtoh = 0
    dims.dxf.dimtxsty = _STYLE


def _add(space: Any, item: Item, drawing: Drawing) -> None:
    on = {"layer": item.layer.name}
    if isinstance(item, Line):
        space.add_line(item.a, item.b, dxfattribs=on)
    elif isinstance(item, Polyline):
        if item.fill is not None and item.closed:
            _fill(space, item.layer.name, item.points, item.fill)
        space.add_lwpolyline(item.points, close=item.closed, dxfattribs=on)
    elif isinstance(item, Circle):
        if item.fill is not None:
            around = [math.tau * k / 24 for k in range(24)]
            c, r = item.centre, item.radius_m
            _fill(space, item.layer.name, [(c[0] + r * math.cos(t), c[1] + r * math.sin(t)) for t in around], item.fill)
        space.add_circle(item.centre, item.radius_m, dxfattribs=on)
    elif isinstance(item, Arc):
        space.add_arc(
            item.centre, item.radius_m, math.degrees(item.start_rad), math.degrees(item.end_rad), dxfattribs=on
        )
    elif isinstance(item, EllipseItem):
        _ellipse(space, item, on)
    elif isinstance(item, Text):
        _text(space, item, drawing)
    elif isinstance(item, Hatch):
        _hatch(space, item, drawing)
    else:
        _dimension(space, item, drawing)


def _ellipse(space: Any, item: EllipseItem, on: dict[str, str]) -> None:
    if item.major_m <= 0:
        return
    # The format asks for a minor axis that is not nothing, and no longer than the major one.
    ratio = min(1.0, max(1e-6, item.minor_m / item.major_m))
    axis = (item.major_m * math.cos(item.angle_rad), item.major_m * math.sin(item.angle_rad))
    space.add_ellipse(item.centre, axis, ratio, dxfattribs=on)


def _fill(space: Any, layer: str, points: Sequence[Point], fill: str) -> None:
    """Ink as a solid hatch; paper as one in the background's colour, which hides what was drawn before it."""
    hatch = space.add_hatch(color=256, dxfattribs={"layer": layer})
    if fill == "paper":
        hatch.rgb = (255, 255, 255)
    hatch.paths.add_polyline_path(points, is_closed=True)


def _hatch(space: Any, item: Hatch, drawing: Drawing) -> None:
    gap = drawing.scale.to_m(item.spacing_mm)
    lines = []
    for turn in (item.angle_rad, item.angle_rad + math.pi / 2)[: 2 if item.cross else 1]:
        step = (-gap * math.sin(turn), gap * math.cos(turn))
        lines.append([math.degrees(turn), (0.0, 0.0), step, []])
    hatch = space.add_hatch(color=256, dxfattribs={"layer": item.layer.name})
    hatch.set_pattern_fill("STROKES", definition=lines)
    hatch.paths.add_polyline_path(item.points, is_closed=True)


def _text(space: Any, item: Text, drawing: Drawing) -> None:
    from ezdxf.enums import TextEntityAlignment as Where

    rows = {0.0: "", 0.5: "MIDDLE_", 1.0: "TOP_"}
    columns = {0.0: "LEFT", 0.5: "CENTER", 1.0: "RIGHT"}
    at = item.at
    along, up = item.along, item.up
    if up not in rows or along not in columns:
        back = -drawing.scale.to_m(along * width_mm(item.text, item.height_mm, item.weight))
        drop = -drawing.scale.to_m(up * item.height_mm)
        c, s = math.cos(item.angle_rad), math.sin(item.angle_rad)
        at = (at[0] + back * c - drop * s, at[1] + back * s + drop * c)
        along = up = 0.0
    style = {"bold": _STYLE + "-BOLD", "italic": _STYLE + "-ITALIC"}.get(item.weight, _STYLE)
    entity = space.add_text(
        _one_line(item.text).replace("%%", "% %"),  # "%%" begins a control code in a TEXT entity
        height=drawing.scale.to_m(item.height_mm),
        rotation=math.degrees(item.angle_rad),
        dxfattribs={"layer": item.layer.name, "style": style},
    )
    entity.set_placement(at, align=Where[rows[up] + columns[along]])


def _dimension(space: Any, item: Dimension, drawing: Drawing) -> None:
    moved = item.shift_mm != 0.0 or item.lift_mm != 0.0 or item.under or not fits(item, drawing.scale)
    location = None
    if moved:
        at, angle = text_point(item, drawing.scale)
        half = drawing.scale.to_m(item.height_mm / 2)
        location = (at[0] - half * math.sin(angle), at[1] + half * math.cos(angle))
    override = {} if item.height_mm == 2.5 else {"dimtxt": item.height_mm}
    dim = space.add_linear_dim(
        base=item.base,
        p1=item.a,
        p2=item.b,
        location=location,
        angle=math.degrees(item.angle_rad),
        text=_mtext(item.text),
        dimstyle=_DIM_STYLE,
        override=override,
        dxfattribs={"layer": item.layer.name},
    )
    dim.render()


def _mtext(text: str) -> str:
    """Text of a dimension, which is MTEXT: braces and backslashes are commands there, and "<>" the measured value."""
    out = _one_line(text).replace("\\", "\\\\").replace("{", "\\{").replace("}", "\\}")
    return out.replace("<>", "< >") or " "


def _one_line(text: str) -> str:
    return " ".join("".join(c if c >= " " else " " for c in text).split())
