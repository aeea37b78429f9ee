"""The SVG of a drawing: to size, self-contained, real text, safe in black and white, two on one page."""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree

import pytest

import drawn
from stringline.drawing.canvas import LINE_TYPES, Arc, Circle, Drawing, EllipseItem, Hatch, Line, Polyline, Text
from stringline.drawing.hatching import hatch_strokes
from stringline.drawing.lettering import width_mm
from stringline.drawing.measure import texts
from stringline.drawing.scales import Scale
from stringline.drawing.svg import svg
from stringline.lengths import Unit
from stringline.sheets.pictures import layers
from stringline.sheets.pictures.draw_plan import plan_drawing
from stringline.sheets.pictures.draw_survey import survey_drawing
from stringline.sheets.voice import Voice

NS = "{http://www.w3.org/2000/svg}"
FIFTY = Scale(50.0, "1:50")


def plan() -> Drawing:
    layout, survey, water, fit = drawn.plan_parts()
    return plan_drawing(layout, survey, water, drawn.system(), Voice(Unit.FT_IN), fit=fit)


def paper(*items: object) -> Drawing:
    return Drawing("x", "A <title> & more", "Says \x07what", FIFTY, (100, 80), (-1.0, -1.0), tuple(items))  # type: ignore[arg-type]


def test_it_is_to_size_and_one_unit_is_a_millimetre() -> None:
    drawing = plan()
    root = ElementTree.fromstring(svg(drawing, id_prefix="p"))
    w, h = drawing.paper_size_mm
    assert root.get("width") == f"{w:g}mm"
    assert [float(v) for v in root.get("viewBox", "").split()] == pytest.approx([0, 0, w, h])


def test_a_line_lands_where_its_scale_says() -> None:
    root = ElementTree.fromstring(svg(paper(Line(layers.WATER, (0, 0), (2, 1))), id_prefix="p"))
    path = next(root.iter(NS + "path"))
    assert [float(v) for v in re.findall(r"[\d.]+", path.get("d", ""))] == pytest.approx([20, 60, 60, 40])


def test_text_is_text_in_the_font_with_title_and_description() -> None:
    drawing = plan()
    root = ElementTree.fromstring(svg(drawing, id_prefix="p"))
    written = sorted(t.text or "" for t in root.iter(NS + "text"))
    assert written == sorted(t.text for t in texts(drawing.items, drawing.scale) if t.text)
    group = root.find(NS + "g")
    assert group is not None
    assert "Source Sans Pro" in group.get("font-family", "")
    assert root.findtext(NS + "title") == drawing.title
    assert root.findtext(NS + "desc") == drawing.alt


def test_markup_and_control_characters_in_names_stay_inert() -> None:
    name = "<script>&\"'\x00\x1b"
    root = ElementTree.fromstring(svg(paper(Text(layers.NOTE, (0, 0), name)), id_prefix="p"))
    assert next(root.iter(NS + "text")).text == "<script>&\"'"
    assert root.findtext(NS + "title") == "A <title> & more"
    assert root.findtext(NS + "desc") == "Says what"


def test_two_on_a_page_share_no_id_and_nothing_comes_from_outside() -> None:
    survey, water = drawn.survey()
    both = svg(plan(), id_prefix="one") + svg(survey_drawing(survey, Voice(Unit.M), water=water), id_prefix="two")
    ids = re.findall(r'\bid="([^"]+)"', both)
    assert len(ids) == len(set(ids)) == 4
    assert not re.search(r"class=|<style|href|url\(|<image|<script", both)
    assert re.findall(r"https?://[^\"']+", both) == ["http://www.w3.org/2000/svg"] * 2


def test_line_types_and_weights_carry_the_meaning() -> None:
    survey, water = drawn.survey()
    text = svg(survey_drawing(survey, Voice(Unit.M), water=water), id_prefix="p")
    for layer in (layers.SUSPECT, layers.NEXT, layers.STRUCK):
        dash = " ".join(f"{v:g}" for v in LINE_TYPES[layer.style])
        assert f'stroke-dasharray="{dash}"' in text
    assert f'stroke-width="{layers.SUSPECT.weight_mm:g}"' in text


def test_text_is_turned_and_set_from_the_point_it_hangs_on() -> None:
    root = ElementTree.fromstring(
        svg(paper(Text(layers.NOTE, (0, 0), "up", 2.5, math.pi / 2, 0.5, 1.0)), id_prefix="p")
    )
    text = next(root.iter(NS + "text"))
    assert text.get("text-anchor") == "middle"
    # Turned to read from the right, its capitals' tops on the point: the base line lies that height to the right.
    assert float(text.get("x", "")) == pytest.approx(20 + 2.5)
    assert text.get("transform", "").startswith("rotate(-90 ")


def test_curves_keep_their_place() -> None:
    items = (
        Arc(layers.WATER, (0, 0), 0.5, 0.0, math.pi / 2),
        Circle(layers.WATER, (0, 0), 0.5, "ink"),
        EllipseItem(layers.WATER, (0, 0), 0.5, 0.25, 0.3),
        Polyline(layers.WATER, ((0, 0), (1, 0), (1, 1)), True, "paper"),
    )
    root = ElementTree.fromstring(svg(paper(*items), id_prefix="p"))
    arc = next(root.iter(NS + "path")).get("d", "")
    assert arc.startswith("M30 60A10 10 0 0 0 ")
    assert arc.endswith(" 20 50")
    ellipse = next(root.iter(NS + "ellipse"))
    assert (ellipse.get("rx"), ellipse.get("ry")) == ("10", "5")


def test_hatching_fills_what_its_outline_encloses_and_no_more() -> None:
    from shapely.geometry import LineString, Polygon

    outline = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (1.0, 0.3), (0.0, 1.0))
    hatch = Hatch(layers.HATCH, outline, 0.7, 2.0)
    area = Polygon(outline)
    found = hatch_strokes(hatch, FIFTY)
    for a, b in found:
        assert area.buffer(1e-9).contains(LineString([a, b]))
    total = sum(math.dist(a, b) for a, b in found)
    assert total * FIFTY.to_m(2.0) == pytest.approx(area.area, rel=0.05)


def test_a_file_that_stands_alone_holds_its_texts_to_their_widths() -> None:
    words = Text(layers.NOTE, (0, 0), "38' 1 9/16\"", 2.5, weight="bold")
    plain, alone = svg(paper(words), id_prefix="p"), svg(paper(words), id_prefix="p", alone=True)
    assert "textLength" not in plain
    text = next(ElementTree.fromstring(alone).iter(NS + "text"))
    assert float(text.get("textLength", "")) == pytest.approx(width_mm(words.text, 2.5, "bold"), abs=0.001)
