"""The DXF of a drawing: an auditor finds nothing, dimensions are real, metres, layers and the scale are stated."""

from __future__ import annotations

import io
from collections.abc import Callable

import pytest
from ezdxf import units
from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import read as read_stream

import drawn
from stringline.drawing.canvas import Dimension, Drawing, Layer, Line, Text
from stringline.drawing.dims import measured_m
from stringline.drawing.dxf import dxf
from stringline.drawing.scales import NOT_TO_SCALE, Scale
from stringline.lengths import Unit
from stringline.sheets.pictures import layers
from stringline.sheets.pictures.draw_plan import plan_drawing
from stringline.sheets.pictures.draw_strip import strip_drawing
from stringline.sheets.pictures.draw_survey import survey_drawing
from stringline.sheets.voice import Voice


def plan(unit: Unit = Unit.FT_IN) -> Drawing:
    layout, survey, water, fit = drawn.plan_parts()
    return plan_drawing(layout, survey, water, drawn.system(), Voice(unit), fit=fit)


def survey() -> Drawing:
    made, water = drawn.survey()
    return survey_drawing(made, Voice(Unit.M), water=water)


def read(drawing: Drawing) -> Document:
    return read_stream(io.StringIO(dxf(drawing)))


@pytest.mark.parametrize(
    "make", [plan, survey, lambda: strip_drawing(drawn.track(), Voice(Unit.M))], ids=["plan", "survey", "strip"]
)
def test_an_audit_of_the_file_as_read_back_finds_nothing(make: Callable[[], Drawing]) -> None:
    doc = read(make())
    audit = doc.audit()
    assert not audit.errors
    assert not audit.fixes
    assert doc.header["$INSUNITS"] == units.M
    assert doc.header["$MEASUREMENT"] == 1


def test_dimensions_are_dimensions_with_our_text_and_the_true_measurement() -> None:
    drawing = plan()
    doc = read(drawing)
    ours = [d for d in drawing.items if isinstance(d, Dimension)]
    theirs = list(doc.modelspace().query("DIMENSION"))
    assert len(ours) == len(theirs)
    for mine, other in zip(ours, theirs, strict=True):
        assert other.dxf.text == mine.text
        assert other.get_measurement() == pytest.approx(measured_m(mine), abs=1e-9)
        assert other.dxf.layer == "DIMENSIONS"


def test_layers_carry_weight_line_type_and_what_they_show() -> None:
    drawing = survey()
    doc = read(drawing)
    for layer in drawing.layers():
        entry = doc.layers.get(layer.name)
        assert entry.dxf.lineweight == round(100 * layer.weight_mm)
        assert entry.dxf.linetype.upper() == (layer.style.upper() if layer.style != "solid" else "CONTINUOUS")
    assert doc.layers.get(layers.SUSPECT.name).rgb == (0xA0, 0, 0)


def test_every_layer_has_a_weight_that_the_format_knows() -> None:
    known = {0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100}
    every = [v for v in vars(layers).values() if isinstance(v, Layer)]
    assert {round(100 * v.weight_mm) for v in every} <= known
    assert len({v.name for v in every}) == len(every)


def test_the_sheet_shows_the_model_at_the_scale_that_is_stated() -> None:
    drawing = plan(Unit.M)
    doc = read(drawing)
    views = [v for v in doc.layout("Sheet").query("VIEWPORT") if v.dxf.status > 1]
    assert len(views) == 1
    view = views[0]
    assert view.dxf.view_height / view.dxf.height * 1000 == pytest.approx(drawing.scale.ratio)
    assert dict(doc.header.custom_vars)["Scale"] == drawing.scale.text


def test_codes_of_the_format_in_a_name_stay_inert() -> None:
    scale = Scale(50.0, "1:50")
    items = (
        Text(layers.NOTE, (0, 0), "100 %%u sure\n0\nLINE"),
        Dimension(layers.DIMS, (0, 0), (2, 0), (0, -0.5), 0.0, "{\\H5;<>}"),
    )
    doc = read(Drawing("x", "x", "x", scale, (50, 50), (0, 0), items))
    text = doc.modelspace().query("TEXT")[0]
    assert text.dxf.text == "100 % %u sure 0 LINE"
    assert not doc.modelspace().query("LINE")
    assert doc.modelspace().query("DIMENSION")[0].dxf.text == "\\{\\\\H5;< >\\}"


def test_text_is_as_tall_in_the_model_as_its_paper_height_at_scale() -> None:
    drawing = plan()
    doc = read(drawing)
    heights = {round(t.dxf.height / drawing.scale.to_m(1.0), 6) for t in doc.modelspace().query("TEXT")}
    assert heights == {round(t.height_mm, 6) for t in drawing.items if isinstance(t, Text)}


def test_each_layer_says_what_it_shows_in_the_voice_of_whoever_reads_it() -> None:
    drawing = Drawing("a", "A", "an a", NOT_TO_SCALE, (10.0, 10.0), (0.0, 0.0), (Line(layers.TRACK, (0, 0), (1, 1)),))
    doc = read_stream(io.StringIO(dxf(drawing, layers.shown(drawing.layers(), Voice(Unit.M)))))
    assert doc.layers.get("TRACK").description == "tracks and their channels"
