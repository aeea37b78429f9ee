"""Drawings of how the cover rolls and runs: to scale, every value where its axis says, nothing overlapping."""

from __future__ import annotations

import math
from typing import cast

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from stringline.drawing.canvas import Circle, Dimension, Drawing, Hatch, Line, Polyline
from stringline.drawing.charts import ticks
from stringline.drawing.dims import measured_m
from stringline.drawing.measure import overlaps, texts
from stringline.job.readings import RunReading
from stringline.lead.result import LeadAfter, LeadPrediction
from stringline.lengths import Unit, parse
from stringline.mechanics.run_state import RunState
from stringline.mechanics.travel import LeadRun
from stringline.sheets.pictures import layers
from stringline.sheets.pictures.draw_lead import lead_drawing, run_drawing
from stringline.sheets.pictures.draw_section import Rolls, section_drawing
from stringline.sheets.voice import Voice

BOUNDED = settings(max_examples=25, deadline=None, derandomize=True, phases=(Phase.explicit, Phase.generate))


def lettered(drawing: Drawing) -> set[str]:
    return {t.text for t in texts(drawing.items, drawing.scale)}


def run(direction: str, travel: float = 11.0, top: float = 30.0) -> RunState:
    s = np.linspace(0.0, travel, 40)
    flat = np.full(40, 100.0)
    return RunState(
        direction, s, flat, flat, flat, flat, flat, top * (0.4 + 0.6 * s / travel), 0.1 + 0.01 * s, flat, flat, s * 8
    )


def lead_run(size: float, travel: float = 11.0) -> LeadRun:
    s = np.linspace(0.0, travel, 30)
    none = np.zeros(30, dtype=np.int8)
    return LeadRun(s, size * s / travel, -size * np.sin(s), none, none, s, s)


class Expected:
    """As much of a prediction as is drawn."""

    def __init__(self, size: float, travel: float = 11.0) -> None:
        s = np.linspace(0.0, travel, 30)
        self.station_m = s
        self.closing_mean_m = self.opening_mean_m = size * 0.1 * s / travel
        self.closing_band_m = self.opening_band_m = np.array([self.closing_mean_m - size, self.closing_mean_m + size])


# --- the section -----------------------------------------------------------------------------------------------------


@given(
    st.floats(0.3, 0.9), st.floats(0.3, 0.9), st.floats(0.04, 0.1), st.floats(1.05, 2.8), st.sampled_from(list(Unit))
)
@BOUNDED
def test_no_section_has_text_over_text_and_its_dimensions_are_true(
    depth: float, height: float, drum: float, grown: float, unit: Unit
) -> None:
    rolls = Rolls(depth, height, 0.03, drum, drum * grown, drum * (1 + (grown - 1) * 0.4), drum * 1.04)
    drawing = section_drawing(rolls, Voice(unit))
    assert overlaps(drawing) == ()
    assert drawing.paper_size_mm[0] <= 170
    for dim in drawing.items:
        if isinstance(dim, Dimension):
            assert parse(dim.text.removeprefix("inside "), unit).m == pytest.approx(measured_m(dim), abs=0.0016)


def test_rolls_are_drawn_to_their_radii_and_told_apart_without_colour() -> None:
    rolls = Rolls(0.46, 0.5, 0.03, 0.076, 0.16, 0.11, 0.085)
    drawing = section_drawing(rolls, Voice(Unit.MM))
    radii = {i.layer.name: i.radius_m for i in drawing.items if isinstance(i, Circle) and i.fill is None}
    assert radii == {"ROLL-OPEN": 0.16, "ROLL-OPEN-MIDDLE": 0.11, "ROLL-CLOSED": 0.085, "HOUSING": 0.076}
    kinds = (layers.ROLL, layers.ROLL_MIDDLE, layers.ROLL_CLOSED)
    assert len({(k.style, k.weight_mm) for k in kinds}) == 3
    assert {"70 mm", "90 mm", "inside 460 mm", "inside 500 mm", "diameter 320 mm"} <= lettered(drawing)


def test_a_roll_that_does_not_fit_has_no_clearance_to_show() -> None:
    drawing = section_drawing(Rolls(0.3, 0.3, 0.03, 0.076, 0.18, 0.12, 0.085), Voice(Unit.MM))
    assert overlaps(drawing) == ()
    assert not any(w.startswith("-") for w in lettered(drawing))


# --- charts ----------------------------------------------------------------------------------------------------------


@given(st.floats(-1e4, 1e4), st.floats(1e-4, 1e4), st.integers(2, 12))
def test_ticks_are_round_inside_and_few_enough(low: float, span: float, most: int) -> None:
    high = low + span
    found = ticks(low, high, most)
    assert len(found) <= most
    assert all(low - 1e-6 * span <= t <= high + 1e-6 * span for t in found)
    if len(found) > 1:
        step = found[1] - found[0]
        lead = step / 10 ** math.floor(math.log10(step) + 1e-9)
        assert min(abs(lead - r) for r in (1, 2, 2.5, 5, 10)) < 1e-3


def test_an_axis_needs_a_range() -> None:
    with pytest.raises(ValueError, match="range"):
        ticks(1.0, 1.0, 5)


@given(st.floats(0.0005, 0.3), st.floats(0.01, 0.15), st.floats(4, 16), st.sampled_from(list(Unit)), st.booleans())
@BOUNDED
def test_no_lead_chart_has_text_over_text(
    size: float, limit: float, travel: float, unit: Unit, all_of_it: bool
) -> None:
    read = tuple(RunReading.of(s, size * 0.5, -size * 0.3) for s in (1.0, travel / 2, travel))
    s = np.linspace(0, travel, 20)
    after = LeadAfter(s, s * 0.001, s * 0.002, s * 0.001, None)  # type: ignore[arg-type]
    drawing = lead_drawing(
        limit,
        Voice(unit),
        prediction=cast(LeadPrediction, Expected(size, travel)) if all_of_it else None,
        readings=read,
        explained=lead_run(size, travel) if all_of_it else None,
        after=after if all_of_it else None,
        sigma_m=0.003,
    )
    assert overlaps(drawing) == ()
    assert drawing.paper_size_mm[0] == pytest.approx(170.0, abs=0.011)
    assert drawing.paper_size_mm[1] <= 150.0


def test_values_stand_where_the_axes_say() -> None:
    """The height of a reading between the two limit lines is the reading's share of the limits."""
    drawing = lead_drawing(0.05, Voice(Unit.MM), readings=(RunReading.of(2.0, 0.02), RunReading.of(10.0, -0.01)))
    limits = sorted(i.a[1] for i in drawing.items if isinstance(i, Line) and i.layer is layers.LIMIT)
    assert len(limits) == 2
    dots = [i for i in drawing.items if isinstance(i, Circle) and i.layer is layers.POINT][:2]
    shares = [(d.centre[1] - limits[0]) / (limits[1] - limits[0]) for d in dots]
    assert shares == pytest.approx([0.7, 0.4])


def test_what_was_not_read_is_not_drawn() -> None:
    drawing = lead_drawing(0.05, Voice(Unit.MM), readings=(RunReading.of(2.0, 0.02), RunReading.of(10.0, -0.01)))
    assert "Closing" in lettered(drawing)
    assert "Opening" not in lettered(drawing)
    with pytest.raises(ValueError, match="needs a prediction"):
        lead_drawing(0.05, Voice(Unit.M), readings=(RunReading.of(2.0, current_a=4.0),))


def test_what_is_expected_read_and_explained_is_told_apart_without_colour() -> None:
    drawing = lead_drawing(
        0.05,
        Voice(Unit.M),
        prediction=cast(LeadPrediction, Expected(0.01)),
        readings=(RunReading.of(2.0, 0.02),),
        explained=lead_run(0.02),
    )
    kinds = (layers.CURVE, layers.CURVE_OTHER, layers.CURVE_THIN, layers.LIMIT)
    assert len({(k.style, k.weight_mm) for k in kinds}) == 4
    assert any(isinstance(i, Hatch) for i in drawing.items)
    assert {"expected", "explained by the causes found", "read"} <= lettered(drawing)


@given(st.floats(4, 16), st.floats(5, 400), st.sampled_from(list(Unit)), st.floats(10, 500), st.booleans())
@BOUNDED
def test_no_run_chart_has_text_over_text(travel: float, top: float, unit: Unit, rated: float, across: bool) -> None:
    size = (170.0, 54.0) if across else (170.0, 130.0)
    drawing = run_drawing(
        run("closing", travel, top),
        run("opening", travel, top),
        Voice(unit),
        rated_torque_nm=rated,
        size_mm=size,
        across=across,
    )
    assert overlaps(drawing) == ()
    curves = [i for i in drawing.items if isinstance(i, Polyline) and i.layer in (layers.CURVE, layers.CURVE_OTHER)]
    assert len(curves) == 4
