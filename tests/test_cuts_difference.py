"""Designed, ordered, built: what a foreman would say to each difference."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import Any

import pytest

from makers import FOOT, INCH, make_job, make_layout, make_system
from spoken import said
from stringline.finding import code_of, finding, in_turn, nested
from stringline.job.model_later import FIGURES, Ordering, PlacedOrder
from stringline.job.readings import AsBuilt
from stringline.judging import Verdict
from stringline.lengths import Unit, parse
from stringline.nesting.runs import lacking
from stringline.nesting.variants import RunRules, StickRun
from stringline.ordering import placed
from stringline.ordering.difference import difference
from stringline.ordering.order import order
from stringline.ordering.placed import mark_of, placed_order, record
from stringline.ordering.result import Difference, Does
from stringline.plan.checks.made import order_checks

GAUGE, CHANNEL = 18 * FOOT, 40 * FOOT


def built(gauge: float = GAUGE, channel: float = CHANNEL, **more: Any) -> AsBuilt:
    stations = tuple((s, gauge) for s in (0.2, 6.0, 12.0))
    given = {"channel_left_m": channel, "channel_right_m": channel, "sigma_m": 0.0008, **more}
    return AsBuilt.of(gauge=stations, **given)


def compared(as_built: AsBuilt | None, **order_section: Any) -> Difference:
    job = make_job(as_built)
    if order_section:
        job = replace(job, order=Ordering(**order_section))
    return difference(job, make_system(), make_layout())


def test_built_as_designed_fits_and_no_card_is_void() -> None:
    found = compared(built(fascia_clear_m=220 * INCH, lid_opening_m=236 * INCH))
    assert {line.does for line in found.lines} == {Does.FITS}
    assert found.verdict == "ordering.all-fits"
    assert found.reissued == ()


def test_nothing_measured_says_so() -> None:
    found = compared(None)
    assert {line.does for line in found.lines} == {Does.NOT_MEASURED}
    assert found.verdict == "ordering.nothing-measured"
    assert said(found.basis).endswith("not built yet.")


@pytest.mark.parametrize(
    ("change", "width", "edge", "drum"),
    [
        (0.5, Does.TAKE_UP, Does.TAKE_UP, Does.TAKE_UP),
        (-0.5, Does.TAKE_UP, Does.TAKE_UP, Does.TAKE_UP),
        # catalogue: hems take up 1 1/2", ends 3", drum has just under 1" of room
        (1.25, Does.TAKE_UP, Does.TAKE_UP, Does.REORDER),
        (-1.25, Does.TAKE_UP, Does.TAKE_UP, Does.TRIM),
        (2.5, Does.REORDER, Does.TAKE_UP, Does.REORDER),
        (-2.5, Does.REORDER, Does.TAKE_UP, Does.TRIM),
        (4.0, Does.REORDER, Does.REORDER, Does.REORDER),
        (-4.0, Does.REORDER, Does.TRIM, Does.TRIM),
        (1.5, Does.MEASURE, Does.TAKE_UP, Does.REORDER),
    ],
)
def test_a_changed_gauge_asks_of_each_part_what_it_can_give(change: float, width: Does, edge: Does, drum: Does) -> None:
    found = compared(built(GAUGE + change * INCH))
    assert found.line("cover-width").does is width
    assert found.line("leading-edge").does is edge
    assert found.line("drum").does is drum
    moved = found.line("leading-edge").change
    assert moved is not None
    assert moved.value == pytest.approx(change * INCH, abs=1e-9)
    if width is Does.REORDER:
        assert "Cover, width" in said(found.verdict)
        assert code_of(found.verdict) == "ordering.order-again"


def test_the_words_carry_the_amounts() -> None:
    found = compared(built(GAUGE + 0.5 * INCH))
    assert (
        said(found.line("cover-width").says, Unit.FT_IN)
        == 'The gauge is 1/2" wider at the worst place: the hems take it up.'
    )
    assert said(found.line("leading-edge").says, Unit.FT_IN) == (
        '1/2" shorter than the tracks ask: leave the tube at 16\' 8", and set each adjustable end 1/4" further out.'
    )
    hair = said(compared(built(GAUGE - INCH / 20)).line("leading-edge").says, Unit.FT_IN)
    assert 'each adjustable end half of 1/16" further in' in hair
    tight = compared(built(GAUGE - 4 * INCH))
    assert "Cut the tube to 16' 4\"" in said(tight.line("leading-edge").says, Unit.FT_IN)


def test_the_worst_station_speaks_for_the_cover_and_the_narrowest_for_the_edge() -> None:
    stations = ((0.2, GAUGE), (6.0, GAUGE + 2.5 * INCH), (12.0, GAUGE - 0.25 * INCH))
    found = compared(built().but(gauge=stations))
    assert found.line("cover-width").does is Does.REORDER
    edge = found.line("leading-edge").change
    assert edge is not None
    assert edge.value == pytest.approx(-0.25 * INCH, abs=1e-9)
    assert found.line("drum").does is Does.FITS


def test_a_longer_channel_is_cut_from_what_was_ordered_as_long_as_it_lasts() -> None:
    little = compared(built(channel=CHANNEL + 1 * INCH))
    assert little.line("track-left").does is Does.TRIM
    assert code_of(little.line("track-left").says) == "ordering.track-longer"
    assert little.line("cover-length").does is Does.TAKE_UP
    assert little.line("rope-left").does is Does.TAKE_UP
    assert code_of(little.line("rope-left").says) == "ordering.rope-farther"
    much = compared(built(channel=CHANNEL + 6 * FOOT))
    assert much.line("track-left").does is Does.REORDER
    assert code_of(much.line("track-left").says) == "ordering.sticks-lack"
    assert much.line("cover-length").does is Does.REORDER
    assert much.line("wedge").does is Does.REORDER
    assert much.line("rope-left").does is Does.REORDER
    short = compared(built(channel=CHANNEL - 2 * FOOT))
    assert short.line("cover-length").does is Does.TRIM
    assert short.line("rope-right").does is Does.TRIM


def test_cards_that_change_are_reissued_and_the_old_ones_named() -> None:
    found = compared(built(GAUGE - 0.5 * INCH, CHANNEL + 1 * INCH))
    marks = {r.mark: r for r in found.reissued}
    assert {"T-L", "T-R", "LE", "DR", "R-L"} <= set(marks)
    assert marks["LE"].new.value - marks["LE"].old.value == pytest.approx(-0.5 * INCH, abs=1e-9)
    assert all(r.revision == "B" for r in found.reissued)
    assert "CW" not in marks


def test_an_order_is_recorded_as_it_went_out_and_a_later_survey_says_so_loudly() -> None:
    system = make_system()
    sent = record(order(make_job(), system, make_layout()), make_job(), "2026-05-02")
    assert sent["figures"]["cover_width"] == "18' 4\""
    figures = {key: parse(text, Unit.FT_IN) for key, text in sent["figures"].items()}
    job = replace(make_job(), order=Ordering(placed=PlacedOrder(figures, sent["date"], sent["mark"])))
    same = difference(job, system, make_layout())
    assert not same.changed_since_order
    assert f"from plan {sent['mark']}; today's plan is {sent['mark']}" in said(same.basis)
    moved = difference(job, system, make_layout(gauge_m=GAUGE + 1 * INCH))
    assert moved.changed_since_order
    assert said(moved.verdict).startswith("The survey has changed since the order.")
    assert code_of(moved.notes[0]) == "ordering.survey-changed"
    assert 'cover width +1"' in said(moved.notes[0], Unit.FT_IN)
    line = moved.line("cover-width")
    assert line.ordered is not None
    assert line.designed is not None
    assert line.designed.value - line.ordered.value == pytest.approx(1 * INCH, abs=1e-9)
    # what was built is held against what was ordered, not against the newer design
    later = replace(job, as_built=built(GAUGE + 1 * INCH))
    change = difference(later, system, make_layout(gauge_m=GAUGE + 1 * INCH)).line("cover-width").change
    assert change is not None
    assert change.value == pytest.approx(1 * INCH, abs=1e-9)


def test_the_verdict_names_the_worst_first_and_then_what_there_is_to_do() -> None:
    cut = compared(built(GAUGE - 4 * INCH, channel=CHANNEL - 1 * INCH))
    assert code_of(cut.verdict) == "ordering.order-again"
    assert said(cut.verdict).endswith("Order again: Cover, width.")
    will_do = compared(built(GAUGE + 0.5 * INCH))
    assert will_do.verdict == in_turn(
        "ordering.all-does",
        finding("ordering.to-cut", items=[nested(f"ordering.item-{x}") for x in ("lid", "fascia")]),
        finding("ordering.to-take-up", items=[nested(f"ordering.item-{x}") for x in ("width", "edge", "drum")]),
    )
    one_side = built(channel_right_m=None, fascia_clear_m=220 * INCH, lid_opening_m=236 * INCH)
    partly = compared(one_side)
    right = [finding(f"ordering.item-{x}", side="right") for x in ("track", "rope")]
    assert partly.verdict == in_turn("ordering.measured-fits", finding("ordering.not-measured", items=right))


def test_the_mark_changes_with_any_figure() -> None:
    system = make_system()
    a, b = (mark_of(order(make_job(), system, make_layout(gauge_m=g))) for g in (GAUGE, GAUGE + 0.001))
    assert a != b
    assert a == mark_of(order(make_job(), system, make_layout()))


def test_a_job_without_an_order_that_went_out_has_none_placed() -> None:
    assert placed_order(replace(make_job(), order=Ordering(day_cost=3.0))) is None
    assert set(placed.FIGURES) == set(FIGURES)


def test_what_is_lacking_is_the_cheapest_that_makes_both_tracks() -> None:
    rules = RunRules(min_last=10, kerf=2)
    left, right = StickRun("l", 140), StickRun("r", 140)
    assert lacking(Counter({100: 3}), left, right, (100,), rules)[0] == ()
    assert lacking(Counter({100: 2}), left, right, (100, 90), rules)[0] == (90,)
    assert lacking(Counter({100: 2}), left, right, (100,), rules, (45, 41))[0] == ()
    assert lacking(Counter({100: 2}), left, right, (100,), rules, (45,))[0] == (100,)
    assert lacking(Counter(), left, right, (100,), rules)[0] == (100, 100, 100)


def test_a_tube_at_the_end_of_what_its_ends_reach_is_cut_rather_than_measured_for_ever() -> None:
    edge = compared(built(GAUGE - 2 * make_system().leading_edge.adjust_m)).line("leading-edge")
    assert edge.does is Does.TRIM
    assert code_of(edge.says) == "ordering.edge-too-long"


def test_a_shorter_run_never_asks_for_more_filler() -> None:
    for feet in (0.5, 1, 2, 3, 5):
        assert compared(built(channel=CHANNEL - feet * FOOT)).line("filler").does is Does.FITS


@pytest.mark.parametrize("change", [0.0, 0.5, -2.5, 4.0, -4.0])
def test_the_checks_say_what_the_difference_page_says(change: float) -> None:
    found = compared(built(GAUGE + change * INCH, CHANNEL - 3 * FOOT if change < 0 else CHANNEL))
    agreed = {
        Does.FITS: Verdict.PASS,
        Does.TAKE_UP: Verdict.PASS,
        Does.TRIM: Verdict.WATCH,
        Does.REORDER: Verdict.FAIL,
    }
    checks = {c.code: c for c in order_checks(found, make_system())}
    for code, key in (
        ("order-width", "cover-width"),
        ("order-leading-edge", "leading-edge"),
        ("order-length", "cover-length"),
    ):
        assert checks[code].verdict is agreed[found.line(key).does]


def test_one_channel_alone_is_enough_to_judge_the_length() -> None:
    found = compared(AsBuilt.of(channel_left_m=CHANNEL - 3 * FOOT))
    checks = {c.code: c.verdict for c in order_checks(found, make_system())}
    assert checks["order-length"] is Verdict.WATCH
    assert checks["order-width"] is Verdict.NOT_MEASURED


def test_readings_without_a_sigma_of_their_own_have_the_catalogue_s() -> None:
    room = make_system().fabric.length_take_up_m
    near = AsBuilt.of(channel_left_m=CHANNEL + room - 0.003)
    assert compared(near).line("cover-length").does is Does.MEASURE
    assert compared(replace(near, sigma_m=0.0005)).line("cover-length").does is Does.TAKE_UP


def test_an_order_that_waited_for_the_pour_is_made_from_what_was_built() -> None:
    found = compared(built(GAUGE + 2.5 * INCH, channel=CHANNEL + 1 * FOOT), after_pour=True)
    for key in ("cover-width", "cover-length", "leading-edge", "drum", "rope-left"):
        assert found.line(key).does is Does.FITS, key
    assert found.line("cover-width").designed != found.line("cover-width").ordered
    assert "what was built would order" in said(found.basis)
    assert not found.notes
