"""Cut pieces: every figure against the same sum done by hand, and what as-built readings change."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from makers import FOOT, INCH, make_job, make_layout, make_system
from stringline.cutting.pieces import cut_list, parts
from stringline.cutting.result import CutList
from stringline.form.result import Fit, GaugeAt
from stringline.job.readings import AsBuilt
from stringline.lengths import Unit
from stringline.mechanics.assemble import mechanics
from stringline.ordering.difference import difference
from stringline.ordering.order import order
from stringline.sheets.voice import Voice
from stringline.worked import Figure, Origin

EXACT = 1e-9
SAY = Voice(Unit.FT_IN).say


def by_hand(cuts: CutList, key: str) -> float:
    return cuts.piece(key).figure.value / INCH


def test_figures_without_as_built_are_the_sums_a_person_would_do() -> None:
    cuts = cut_list(make_job(), make_system(), make_layout())
    # channel 40', gauge 18', travel 38', all in inches below
    assert by_hand(cuts, "track-left") == pytest.approx(480 + 1, abs=EXACT)
    assert by_hand(cuts, "filler-left") == pytest.approx(480 - 0.5, abs=EXACT)
    assert by_hand(cuts, "wedge-right") == pytest.approx((480 - 1.5) - 9 * 48, abs=EXACT)
    half_turn = math.pi * 0.025 / INCH
    assert by_hand(cuts, "rope-left") == pytest.approx(48 + 108 + 480 + half_turn + (480 - 108), abs=EXACT)
    assert by_hand(cuts, "leading-edge") == pytest.approx(216 - 16, abs=EXACT)
    assert by_hand(cuts, "drum") == pytest.approx(216 - 5, abs=EXACT)
    assert by_hand(cuts, "cover-width") == pytest.approx(216 + 4, abs=EXACT)
    assert by_hand(cuts, "cover-length") == pytest.approx(38 * 12 + 0.225 / INCH + 72 + 6, abs=EXACT)
    # housing inside 216 + 20; lid 236 + 2 = 238 = 4 panels of 48, 4 gaps of 1/8, and the rest
    assert cuts.piece("lid-panel").count == 4
    assert by_hand(cuts, "lid-last") == pytest.approx(238 - 4 * 48.125, abs=EXACT)
    assert by_hand(cuts, "fascia-centre") == pytest.approx(236 - 16, abs=EXACT)
    assert cuts.piece("fascia-end").count == 2
    assert {p.basis for p in cuts.pieces} == {"survey"}


def test_every_term_says_where_it_comes_from_and_adds_up() -> None:
    cuts = cut_list(make_job(), make_system(), make_layout())
    for piece in cuts.pieces:
        for term in piece.figure.terms:
            assert term.label
            assert term.origin is not None
            if term.origin in (Origin.CATALOGUE, Origin.PRACTICE):
                assert term.source, f"{piece.key}: {term.label} has no source"
        if piece.figure.terms:
            assert sum(t.value for t in piece.figure.terms) == pytest.approx(piece.figure.value, abs=EXACT)
        assert piece.steps
    assert len({p.key for p in cuts.pieces}) == len(cuts.pieces)
    assert len({p.mark for p in cuts.pieces}) == len(cuts.pieces)


def test_the_spacer_is_deducted_for_a_two_channel_track_only() -> None:
    one = cut_list(make_job(), make_system(channels=1), make_layout())
    two = cut_list(make_job(), make_system(channels=2), make_layout())
    assert by_hand(one, "track-left") - by_hand(two, "track-left") == pytest.approx(1.5, abs=EXACT)
    assert any(t.source == "pulley-spacer" for t in two.piece("track-left").figure.terms)
    assert not any(t.source == "pulley-spacer" for t in one.piece("track-left").figure.terms)


def test_as_built_replaces_the_survey_for_what_is_cut_after_the_pour_only() -> None:
    built = AsBuilt.of(
        gauge=((0.3, 18 * FOOT + 0.5 * INCH), (6.0, 18 * FOOT - 0.25 * INCH), (11.0, 18 * FOOT)),
        channel_left_m=40 * FOOT + 1 * INCH,
        fascia_clear_m=219.5 * INCH,
        lid_opening_m=235 * INCH,
        sigma_m=0.002,
    )
    cuts = cut_list(make_job(built), make_system(), make_layout())
    assert by_hand(cuts, "track-left") == pytest.approx(482, abs=EXACT)
    assert cuts.piece("track-left").basis == "as-built"
    assert cuts.piece("track-right").basis == "survey"  # that channel was not measured
    assert by_hand(cuts, "leading-edge") == pytest.approx(216 - 0.25 - 16, abs=EXACT)  # the narrowest place
    assert by_hand(cuts, "drum") == pytest.approx(216.5 - 5, abs=EXACT)  # the place nearest the housing
    assert by_hand(cuts, "fascia-centre") == pytest.approx(219.5, abs=EXACT)
    lid = cuts.piece("lid-panel").count * 48.125 + by_hand(cuts, "lid-last")
    assert lid == pytest.approx(237, abs=EXACT)
    assert cuts.piece("cover-width").basis == "survey"
    assert by_hand(cuts, "cover-width") == pytest.approx(220, abs=EXACT)
    assert any(t.origin is Origin.MEASURED and t.sigma == 0.002 for t in cuts.piece("track-left").figure.terms)


def test_gauges_come_from_the_fit_where_it_was_made_from_as_built_readings() -> None:
    gauge = Figure.single("gauge", 17 * FOOT, Origin.MEASURED, sigma=0.001)
    stations = (GaugeAt(2.0, gauge, Figure.single("deviation", -FOOT, Origin.DERIVED)),)
    built = cut_list(make_job(), make_system(), make_layout(), Fit("as-built", None, None, None, None, None, stations))
    before = cut_list(make_job(), make_system(), make_layout(), Fit("survey", None, None, None, None, None, stations))
    assert by_hand(built, "leading-edge") == pytest.approx(17 * 12 - 16, abs=EXACT)
    assert by_hand(before, "leading-edge") == pytest.approx(18 * 12 - 16, abs=EXACT)


def test_both_ropes_are_cut_at_the_point_that_the_job_chooses() -> None:
    cuts = cut_list(make_job(rope_cut=10 * FOOT), make_system(), make_layout())
    for side in ("left", "right"):
        assert [t.value / INCH for t in cuts.piece(f"rope-{side}").figure.terms][-1] == pytest.approx(-120, abs=EXACT)
        assert sum("10'" in SAY(s) for s in cuts.piece(f"rope-{side}").steps) == 2


@pytest.mark.parametrize("channels", [1, 2])
@pytest.mark.parametrize("cut_ft", [8, 9, 10])
def test_a_rope_as_cut_is_the_rope_that_the_run_needs(channels: int, cut_ft: int) -> None:
    system, layout = make_system(channels=channels), make_layout()
    cuts = cut_list(make_job(rope_cut=cut_ft * FOOT), system, layout)
    needed = mechanics(system, layout).rope_length.value
    for side in ("left", "right"):
        assert cuts.piece(f"rope-{side}").figure.value == pytest.approx(needed, abs=EXACT)


def test_a_closed_cover_leaves_on_the_drum_what_the_catalogue_says() -> None:
    system, layout = make_system(), make_layout()
    sheet = cut_list(make_job(), system, layout).piece("cover-length").figure.value - system.fabric.front_hem_m
    machine = mechanics(system, layout).machine
    for station in (0.0, machine.closed_m / 3, machine.closed_m):
        assert sheet - machine.hem_free_m(station) == pytest.approx(machine.wound_m(station), abs=EXACT)
    assert machine.wound_m(machine.closed_m) == pytest.approx(system.fabric.on_drum_m, abs=EXACT)


def test_a_cut_point_outside_practice_is_noted() -> None:
    assert any("cut point" in SAY(n) for n in cut_list(make_job(rope_cut=7 * FOOT), make_system(), make_layout()).notes)


def test_the_crew_is_told_the_facts_of_the_trade_where_the_step_is() -> None:
    cuts = cut_list(make_job(), make_system(channels=2), make_layout())
    words = {p.key: " ".join(map(SAY, p.steps)) for p in cuts.pieces}
    assert '1/4"' in words["track-left"]
    assert "channel top, track and channel bottom" in words["track-left"]
    assert '11/64"' in words["leading-edge"]
    assert "through the leading edge alone" in words["leading-edge"]
    assert '3/4"' in words["leading-edge"]
    assert 'about 6"' in words["leading-edge"]
    assert "snug, then back it off slightly" in words["leading-edge"]
    assert "one same point" in words["rope-left"]
    assert '1 1/2" short' in words["wedge-left"]
    assert "clear distance between the fixed end pieces" in words["fascia-centre"]
    cautions = {p.key: " ".join(map(SAY, p.cautions)) for p in cuts.pieces}
    assert "Saw" in cautions["last-left"]
    assert "eye" in cautions["last-left"]
    assert "conduit" in cautions["track-left"]
    assert "locked" in cautions["drum"]
    assert "drowns" in cautions["leading-edge"]


def test_screws_sit_three_quarters_from_the_inner_end_of_each_adjustable_end() -> None:
    edge = cut_list(make_job(), make_system(), make_layout()).piece("leading-edge")
    screws = [m.at_m / INCH for m in edge.marks if m.kind == "screw"]
    assert screws == pytest.approx([18 - 8 - 0.75, 200 - (18 - 8 - 0.75)], abs=EXACT)


def test_a_channel_of_whole_wedges_needs_no_cut() -> None:
    piece = cut_list(make_job(), make_system(), make_layout(channel_m=8 * FOOT + 1.5 * INCH)).piece("wedge-left")
    assert piece.count == 2
    assert piece.figure.value == pytest.approx(4 * FOOT)
    assert not piece.cautions


def test_a_track_on_the_deck_has_no_wedges_and_no_filler() -> None:
    job = make_job()
    assert job.cover is not None
    job = replace(job, cover=replace(job.cover, mount="on-deck"))
    system, layout = make_system(), make_layout()
    cuts = cut_list(job, system, layout)
    keys = {p.key for p in cuts.pieces}
    assert not {k for k in keys if k.startswith(("wedge", "filler"))}
    assert any("on the deck" in SAY(n) for n in cuts.notes)
    assert "into the deck" in " ".join(map(SAY, cuts.piece("track-left").steps))
    assert not {line.key for line in order(job, system, layout).lines} & {"wedge", "filler-1"}
    assert "wedge" not in {line.key for line in parts(job, system, layout, cuts).lines}
    assert {line.key for line in difference(job, system, layout).lines} & {"track-left", "drum"}
