"""Drawings: nothing overlaps, nothing leaves the sheet, dimensions measure what they say, over many invented pools."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

import drawn
from stringline.cutting.result import Mark
from stringline.drawing import lettering, scales
from stringline.drawing.canvas import Dimension, Drawing, EllipseItem, Item, Line, Text
from stringline.drawing.dims import chain, depth_mm, fits, measured_m, reading_angle, take_apart
from stringline.drawing.measure import extent_mm, overlaps, strokes, text_box, texts
from stringline.drawing.placing import Placer
from stringline.drawing.scales import Scale
from stringline.lengths import Unit, format_length, parse
from stringline.sheets.pictures import layers
from stringline.sheets.pictures.draw_plan import plan_drawing
from stringline.sheets.pictures.draw_strip import strip_drawing
from stringline.sheets.pictures.draw_survey import exaggeration, survey_drawing
from stringline.sheets.pictures.title_strip import Title, titled
from stringline.sheets.voice import Voice

FIFTY = Scale(50.0, "1:50")
UNITS = st.sampled_from(list(Unit))
# No shrinking: a failing pool is small enough to read, and shrinking drawings takes minutes.
BOUNDED = settings(max_examples=25, deadline=None, derandomize=True, phases=(Phase.explicit, Phase.generate))


def lettered(drawing: Drawing) -> list[str]:
    return [t.text for t in texts(drawing.items, drawing.scale)]


def within(drawing: Drawing, area: tuple[float, float]) -> bool:
    return drawing.paper_size_mm[0] <= area[0] and drawing.paper_size_mm[1] <= area[1]


# --- scales ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("unit", "size", "area", "text"),
    [
        (Unit.FT_IN, (6.096, 12.192), (180, 230), '3/16" = 1\'-0" (1:64)'),
        (Unit.M, (5.0, 10.0), (180, 230), "1:50"),
        (Unit.MM, (5.0, 12.0), (180, 230), "1:75"),
        (Unit.M, (0.2, 0.2), (180, 230), "1:2"),
    ],
)
def test_scale_is_the_largest_on_the_rule_that_fits(
    unit: Unit, size: tuple[float, float], area: tuple[float, float], text: str
) -> None:
    assert scales.choose(*size, area, unit.in_feet).text == text


@pytest.mark.parametrize("scale", scales.scales(True))
def test_an_architectural_scale_says_the_ratio_it_has(scale: Scale) -> None:
    said = re.fullmatch(r"(.+)\" = 1'-0\" \(1:(\d+)\)", scale.text)
    assert said is not None
    inches, ratio = said.groups()
    on_paper = parse(f'{inches}"', Unit.FT_IN).m
    assert 0.3048 / on_paper == pytest.approx(scale.ratio, rel=1e-12)
    assert float(ratio) == scale.ratio


def test_nothing_fits_no_paper() -> None:
    with pytest.raises(ValueError, match="area"):
        scales.choose(1, 1, (0, 10), False)
    assert scales.choose(1e6, 1, (10, 10), False) == scales.scales(False)[-1]


# --- dimensions ------------------------------------------------------------------------------------------------------


@given(st.floats(-10, 10))
def test_text_reads_from_the_bottom_or_the_right(angle: float) -> None:
    a = reading_angle(angle)
    assert -math.pi / 2 < a <= math.pi / 2 + 1e-9
    turns = (a - angle) / math.pi
    assert turns == pytest.approx(round(turns), abs=1e-9)


@given(
    st.lists(st.integers(5, 4000), min_size=1, max_size=9),
    st.sampled_from([0.0, math.pi / 2, 0.7, -2.0]),
    st.sampled_from([-1.0, 1.0]),
)
@settings(max_examples=150, deadline=None, derandomize=True)
def test_no_text_of_a_chain_meets_another_however_short_its_parts(steps: list[int], angle: float, side: float) -> None:
    d, n = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    at, points = 0.0, [(0.0, 0.0)]
    for step in steps:
        at += step / 1000
        points.append((d[0] * at, d[1] * at))
    words = [format_length(s / 1000, Unit.FT_IN) for s in steps]
    base = (n[0] * side * 0.5, n[1] * side * 0.5)
    dims = chain(layers.DIMS, points, words, base, angle, FIFTY)
    assert sorted(t.text for t in dims) == sorted(words)
    paper = Drawing("x", "x", "x", FIFTY, (4000, 4000), (-100, -100), tuple(dims))
    assert overlaps(paper) == ()
    for dim in dims:
        own = next(
            s for s, w in zip(steps, words, strict=True) if abs(measured_m(dim) - s / 1000) < 1e-9 and w == dim.text
        )
        assert format_length(own / 1000, Unit.FT_IN) == dim.text
        if fits(dim, FIFTY):
            assert dim.lift_mm == dim.shift_mm == 0.0
    # What reaches outward of the line stays within the depth the next chain is told of.
    depth = depth_mm(dims, FIFTY)
    for dim in dims:
        for c in text_box(take_apart(dim, FIFTY).text, FIFTY).corners:
            out = side * (c[0] * n[0] + c[1] * n[1]) - 10.0
            assert out <= depth + 0.9


def test_a_chain_needs_one_point_more_than_texts() -> None:
    with pytest.raises(ValueError, match="one more point"):
        chain(layers.DIMS, [(0, 0)], ["a"], (0, 0), 0.0, FIFTY)


def test_extension_lines_start_clear_of_the_object_and_run_past_the_line() -> None:
    dim = Dimension(layers.DIMS, (0, 0), (2, 0), (0, -0.5), 0.0, "2.000 m")
    parts = take_apart(dim, FIFTY)
    (a, b) = parts.strokes[1]
    assert FIFTY.to_mm(-a[1]) == pytest.approx(1.2)
    assert FIFTY.to_mm(-b[1]) == pytest.approx(11.2)
    assert len(parts.ticks) == 2


# --- the audit and the placer ----------------------------------------------------------------------------------------


def paper(*items: Item) -> Drawing:
    return Drawing("x", "x", "x", FIFTY, (100, 100), (0, 0), tuple(items))


def test_the_audit_sees_text_on_text_and_text_off_the_sheet() -> None:
    a, b = Text(layers.NOTE, (1, 1), "one"), Text(layers.NOTE, (1.05, 1.02), "two")
    assert overlaps(paper(a, b)) == (("one", "two"),)
    assert overlaps(paper(a, replace(b, at=(1.0, 2.0)))) == ()
    assert overlaps(paper(replace(a, at=(4.99, 1.0)))) == (("one", None),)
    crossing = Text(layers.NOTE, (1.05, 0.9), "turned", angle_rad=math.pi / 2)
    assert len(overlaps(paper(a, crossing))) == 1


def test_the_audit_sees_the_text_of_a_dimension() -> None:
    dim = Dimension(layers.DIMS, (1, 1), (3, 1), (1, 1.5), 0.0, "2.000 m")
    at = take_apart(dim, FIFTY).text.at
    assert len(overlaps(paper(dim, Text(layers.NOTE, at, "over it")))) == 1


def test_a_label_takes_the_place_that_crosses_least_and_never_one_that_is_taken() -> None:
    placer = Placer(FIFTY, (0, 0, 100, 100))
    placer.avoid([((0.0, 1.02), (5.0, 1.02))])
    crossed, clear = Text(layers.NOTE, (1, 1), "word"), Text(layers.NOTE, (1, 2), "word")
    assert placer.place([[crossed], [clear]]) == [clear]
    assert placer.place([[clear]]) is None
    assert placer.place([[Text(layers.NOTE, (1.95, 3), "word", 2.5)]], most=0.0) is None
    assert placer.place([[Text(layers.NOTE, (-1, 3), "outside")]]) is None


@given(st.floats(0, 3.1), st.floats(-1, 1), st.floats(0.1, 1.5))
def test_length_crossed_is_what_sampling_finds(angle: float, shift: float, reach: float) -> None:
    placer = Placer(FIFTY)
    c, s = math.cos(angle), math.sin(angle)
    a, b = (1 - reach * c, 1 + shift / 20 - reach * s), (1 + reach * c, 1 + shift / 20 + reach * s)
    placer.avoid([(a, b)])
    text = Text(layers.NOTE, (1, 1), "across", 3.0, 0.4, 0.5, 0.5)
    found = float(placer.prices([[text]])[0])
    box = text_box(text, FIFTY, pad_mm=0.45).corners
    n, inside = 4000, 0
    for k in range(n):
        t = (k + 0.5) / n
        p = (20 * (a[0] + (b[0] - a[0]) * t), 20 * (a[1] + (b[1] - a[1]) * t))
        sides = [
            (q[0] - r[0]) * (p[1] - r[1]) - (q[1] - r[1]) * (p[0] - r[0])
            for r, q in zip(box, box[1:] + box[:1], strict=True)
        ]
        inside += all(v > 0 for v in sides)
    assert found == pytest.approx(inside / n * 20 * math.dist(a, b), abs=0.06)


# --- lettering -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("weight", ["regular", "bold", "italic"])
def test_widths_are_those_of_the_font_as_another_reader_of_fonts_has_them(weight: str) -> None:
    ttlib = pytest.importorskip("fontTools.ttLib")

    font = ttlib.TTFont(lettering.font_path(weight))
    names, advances = font.getBestCmap(), font["hmtx"].metrics
    for text in ("38' 1 9/16\"", "read 2.787 m", "Track, left", "– ± ×"):
        units = sum(advances[names[ord(c)]][0] for c in text)
        size = 2.5 / (font["OS/2"].sCapHeight / font["head"].unitsPerEm)
        assert lettering.width_mm(text, 2.5, weight) == pytest.approx(units / 1000 * size, rel=1e-9)


def test_letters_without_a_glyph_are_named() -> None:
    assert lettering.missing("Pool – 12' ⌀ ⌀ ½") == "⌀"


# --- the plan --------------------------------------------------------------------------------------------------------

POOLS = st.fixed_dictionaries(
    {
        "width": st.floats(2.5, 6.4),
        "length": st.floats(3.0, 14.0),
        "radius": st.sampled_from([0.0, 0.1524, 0.6]),
        "heading": st.floats(-3, 3),
        "side": st.floats(0.0, 0.4),
        "end": st.floats(0.15, 0.6),
        "setback": st.floats(0.1, 0.9),
        "drive": st.sampled_from(["left", "right"]),
        "obstacles": st.booleans(),
        "stations": st.integers(0, 9),
    }
)


@given(POOLS, UNITS, st.sampled_from([(180.0, 230.0), (186.0, 205.0), (170.0, 200.0)]))
@BOUNDED
def test_no_plan_has_text_over_text_or_off_the_sheet(
    pool: dict[str, Any], unit: Unit, area: tuple[float, float]
) -> None:
    layout, survey, water, fit = drawn.plan_parts(**pool)
    drawing = plan_drawing(layout, survey, water, drawn.system(), Voice(unit), fit=fit, area_mm=area)
    assert overlaps(drawing) == ()
    assert within(drawing, area)


@given(POOLS, UNITS)
@BOUNDED
def test_every_dimension_of_the_plan_says_what_it_spans(pool: dict[str, Any], unit: Unit) -> None:
    layout, survey, water, fit = drawn.plan_parts(**pool)
    drawing = plan_drawing(layout, survey, water, drawn.system(), Voice(unit), fit=fit)
    dims = [d for d in drawing.items if isinstance(d, Dimension)]
    assert len(dims) >= 6
    for dim in dims:
        value = re.sub(r"^[a-z ]+", "", dim.text)
        assert parse(value, unit).m == pytest.approx(measured_m(dim), abs=0.0016), dim.text


def test_the_plan_carries_its_overall_figures_and_sides() -> None:
    layout, survey, water, fit = drawn.plan_parts()
    words = lettered(plan_drawing(layout, survey, water, drawn.system(), Voice(Unit.FT_IN), fit=fit))
    for text in ("gauge 18' 6\"", "left track, drive side", "right track, idle side", "looking over the water", "M"):
        assert text in words
    assert any(w.startswith("travel ") for w in words)
    assert any(w.startswith("Scale ") for w in words)
    assert {"garden wall", "hand rail", "boulder"} <= set(words)


def test_dimensions_of_the_plan_stand_outside_the_object() -> None:
    layout, survey, water, fit = drawn.plan_parts(obstacles=False)
    drawing = plan_drawing(layout, survey, water, drawn.system(), Voice(Unit.M), fit=fit)
    half, channel = layout.gauge.value / 2, layout.channel.value
    for item in drawing.items:
        if isinstance(item, Dimension):
            (ax, ay), (bx, by) = take_apart(item, drawing.scale).strokes[0]
            inside = min(abs(ax), abs(bx)) < half and 0 < min(ay, by) < channel and ax == bx
            assert not inside, item.text


def test_a_mirror_image_would_show() -> None:
    """Left is left: looking over the water from the housing, with the survey's frame turned any way."""
    for heading in (-2.0, 0.0, 1.9):
        layout, survey, water, fit = drawn.plan_parts(heading=heading, drive="left")
        drawing = plan_drawing(layout, survey, water, drawn.system(), Voice(Unit.M), fit=fit)
        motor = next(t for t in texts(drawing.items, drawing.scale) if t.text == "M")
        one = next(t for t in texts(drawing.items, drawing.scale) if t.text == "1")
        assert motor.at[0] < -layout.gauge.value / 2
        assert one.at[0] < 0 < one.at[1] < layout.channel.value / 2


# --- the survey ------------------------------------------------------------------------------------------------------


@given(
    st.integers(3, 24),
    st.integers(1, 4),
    st.integers(0, 500),
    UNITS,
    st.integers(0, 2),
    st.floats(4, 16),
    st.floats(3, 9),
)
@BOUNDED
def test_no_survey_has_text_over_text_or_off_the_sheet(
    points: int, braces: int, seed: int, unit: Unit, suspects: int, length: float, width: float
) -> None:
    survey, water = drawn.survey(points, braces, seed=seed, unit=unit, suspects=suspects, size=(length, width))
    drawing = survey_drawing(survey, Voice(unit), water=water, area_mm=(180.0, 200.0))
    assert overlaps(drawing) == ()
    assert within(drawing, (180.0, 200.0))
    words = lettered(drawing)
    for suspect in survey.suspects:
        assert f"re-tape {suspect.frm}–{suspect.to}" in words
        assert f"read {format_length(suspect.read_m, unit)}" in words
        assert any(w.startswith(f"expected {format_length(suspect.expected_m, unit)} ±") for w in words)


def test_each_kind_of_line_has_its_own_line_type_or_weight() -> None:
    survey, water = drawn.survey()
    drawing = survey_drawing(survey, Voice(Unit.FT_IN), water=water)
    kinds = (layers.TAPE, layers.UNCHECKED, layers.SUSPECT, layers.NEXT, layers.STRUCK)
    assert len({(k.style, k.weight_mm) for k in kinds}) == len(kinds)
    used = {item.layer.name for item in drawing.items}
    assert {"TAPES", "SUSPECT", "NEXT-TAPES", "STRUCK", "ELLIPSES"} <= used


def test_ellipses_are_drawn_to_the_factor_that_is_stated() -> None:
    survey, water = drawn.survey()
    drawing = survey_drawing(survey, Voice(Unit.M), water=water)
    factor = exaggeration(survey, drawing.scale)
    assert any(f"{factor} times" in w for w in lettered(drawing))
    shown = [e for e in drawing.items if isinstance(e, EllipseItem)]
    for p in survey.points:
        if p.ellipse.major_m > 0:
            e = next(e for e in shown if e.centre == (p.x_m, p.y_m))
            assert e.major_m == pytest.approx(factor * p.ellipse.major_m)
            assert e.angle_rad == p.ellipse.angle_rad
            assert drawing.scale.to_mm(e.major_m) <= 5.0


def test_every_reading_is_either_lettered_or_counted_as_left_to_the_table() -> None:
    survey, water = drawn.survey(16, 3, unit=Unit.M)
    drawing = survey_drawing(survey, Voice(Unit.M), water=water)
    words = lettered(drawing)
    doubted = {(s.frm, s.to) for s in survey.suspects}
    rest = [t.text for t in survey.tapes if (t.frm, t.to) not in doubted]
    shown = sum(words.count(text) for text in set(rest))
    note = next((w for w in words if "without room" in w), "0")
    assert shown + int(note.split()[0]) == len(rest)


def test_residuals_are_flagged_where_no_reading_is_contradicted_and_only_there() -> None:
    clean, water = drawn.survey(10, 3, suspects=0, seed=2)
    large = [t for t in clean.tapes if t.w is not None and abs(t.w) >= 2.0]
    assert large
    drawing = survey_drawing(clean, Voice(Unit.MM), water=water)
    bars = [i for i in drawing.items if isinstance(i, Line) and i.layer is layers.FLAG]
    assert len(bars) == len(large) + 1  # and the key's sample
    assert {f"{t.residual_m * 1000:+.1f} mm".replace("-", "−") for t in large} <= set(lettered(drawing))
    doubtful, water = drawn.survey(10, 3, suspects=1, seed=2)
    drawing = survey_drawing(doubtful, Voice(Unit.MM), water=water)
    assert not [i for i in drawing.items if isinstance(i, Line) and i.layer is layers.FLAG]
    assert any("bends them all" in w for w in lettered(drawing))


# --- the strip -------------------------------------------------------------------------------------------------------


@given(st.floats(0.2, 18.0), st.sampled_from([2.0, 3.048, 6.096]), st.floats(0.15, 1.2), UNITS, st.floats(120, 190))
@BOUNDED
def test_no_strip_has_text_over_text_or_off_the_sheet(
    length: float, stick: float, pins: float, unit: Unit, width: float
) -> None:
    piece = drawn.track(length, stick=stick, pins=pins)
    drawing = strip_drawing(piece, Voice(unit), width)
    assert overlaps(drawing) == ()
    assert drawing.paper_size_mm[0] == pytest.approx(width, abs=0.011)


def test_marks_stand_where_they_are_and_say_so() -> None:
    piece = drawn.track(11.6)
    drawing = strip_drawing(piece, Voice(Unit.MM), 170.0)
    words = lettered(drawing)
    for mark in piece.marks:
        if mark.at_m > 0:
            assert any(w.startswith(format_length(mark.at_m, Unit.MM)) for w in words), mark
    heavy = [i for i in drawing.items if isinstance(i, Line) and i.layer is layers.JOINT]
    joints = sorted(m.at_m for m in piece.marks if m.kind == "joint")
    shown = [i.a[0] for i in heavy if i.a[1] > min(j.a[1] for j in heavy)]  # the lowest is the key's sample
    assert sorted(shown) == pytest.approx(joints)


def test_a_strip_with_many_pins_breaks_at_joints() -> None:
    piece = drawn.track(17.0, pins=0.2)
    drawing = strip_drawing(piece, Voice(Unit.M), 150.0)
    assert overlaps(drawing) == ()
    bars = {i.a[1] for i in drawing.items if isinstance(i, Line) and i.layer is layers.STOCK and i.a[1] == i.b[1]}
    assert len(bars) > 2
    assert any("17.000 m in all = 1.760 m + 5 × 3.048 m" in w for w in lettered(drawing))


def test_a_piece_without_segments_or_length() -> None:
    bare = replace(
        drawn.track(1.0), segments=(), marks=(Mark(0.0, "cut-end", "Left end"), Mark(1.0, "cut-end", "Right"))
    )
    assert overlaps(strip_drawing(bare, Voice(Unit.FT_IN))) == ()
    with pytest.raises(ValueError, match="no length"):
        strip_drawing(replace(bare, marks=(Mark(0.0, "note", "x"),)), Voice(Unit.M))


# --- all -------------------------------------------------------------------------------------------------------------


def test_extent_holds_every_stroke() -> None:
    survey, water = drawn.survey()
    drawing = survey_drawing(survey, Voice(Unit.M), water=water)
    left, bottom, right, top = extent_mm(drawing.items, drawing.scale)
    for item in drawing.items:
        for stroke in strokes(item, drawing.scale):
            for p in stroke:
                x, y = drawing.to_paper(p)
                assert 0 <= x <= drawing.paper_size_mm[0]
                assert 0 <= y <= drawing.paper_size_mm[1]
    assert right > left
    assert top > bottom


@pytest.mark.parametrize(
    "name", ["Short", "A very long name of a job that no title strip could ever hold whole on one line"]
)
def test_a_drawing_that_stands_alone_says_what_it_is(name: str) -> None:
    taped, water = drawn.survey(5, 1, size=(4.0, 3.0))
    drawing = survey_drawing(taped, Voice(Unit.M), water=water)
    alone = titled(drawing, Title(name, Voice(Unit.M), "B", "2031-05-04", invented=True))
    assert overlaps(alone) == ()
    words = lettered(alone)
    assert {"Survey", "metres", "revision B, 2031-05-04", "INVENTED: no real job"} <= set(words)
    assert {f"scale {drawing.scale.text}", f"{drawing.scale.text} when printed at full size"} & set(words)
    assert any(w.startswith(name[:5]) for w in words)
    assert alone.scale == drawing.scale
    assert alone.items[: len(drawing.items)] == drawing.items
