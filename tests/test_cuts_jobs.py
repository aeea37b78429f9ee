"""Several jobs cut together: the rack, cut diagrams, and what is told."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from makers import FOOT, INCH, make_job, make_layout, make_system
from sheet_reader import headline, said, tables
from stringline.as_json.write import jobs_json
from stringline.cutting.along import tracks
from stringline.cutting.basis import Given
from stringline.cutting.jobs import JobsPlan, cut_jobs
from stringline.job.model_later import Rack
from stringline.lengths import Unit, parse
from stringline.nesting.diagram import Strip, stock_strip
from stringline.nesting.stock import Stick, StockPiece, cut_stock
from stringline.sheets.stock import jobs_sheet
from stringline.sheets.voice import Voice

SAY = Voice(Unit.FT_IN).say


def three() -> dict[str, Given]:
    return {
        f"Invented {k}": Given(make_job(), make_system(), make_layout(channel_m=c * FOOT))
        for k, c in (("one", 33.5), ("two", 38.25), ("three", 44))
    }


def plan() -> JobsPlan:
    return cut_jobs(three(), seconds=20.0, rack_m=(7.3 * FOOT, 9.1 * FOOT))


def check_filled(strip: Strip) -> None:
    """Spans lie end to end and fill the stick."""
    at = 0.0
    for span in strip.spans:
        assert span.start_m == pytest.approx(at, abs=1e-6)
        at += span.length_m
    assert at == pytest.approx(strip.stick_m, abs=1e-6)


def test_jobs_share_sticks_and_every_run_is_made() -> None:
    found = plan()
    (track,) = found.tracks
    assert len(track.plan.runs) == 6
    assert found.proven
    alone = sum(tracks(g).plan.bought for g in three().values())
    assert track.plan.bought <= alone
    pieces = {s.key: s.length_m for strip in track.strips for s in strip.spans if s.kind == "piece"}
    for run in track.plan.runs:
        made = sum(run.variant.wholes) + round(pieces.get(run.run.key, 0.0) * 8_000_000)
        assert made == run.run.length


def test_diagrams_fill_their_sticks_and_keep_factory_ends() -> None:
    found = plan()
    for strip in [s for t in found.tracks for s in t.strips] + [s for p in found.plain for s in p.strips]:
        check_filled(strip)
    for strip in found.tracks[0].strips:
        assert strip.left_end
        assert strip.right_end is not strip.from_rack
        assert strip.spans[0].kind == "piece"
        pieces = [s for s in strip.spans if s.kind == "piece"]
        if len(pieces) == 2:
            assert pieces[1].start_m + pieces[1].length_m == pytest.approx(strip.stick_m, abs=1e-6)


def test_plain_stock_is_enough_for_filler_and_fascia() -> None:
    found = plan()
    assert {p.material for p in found.plain} == {"cards.of-filler", "cards.of-fascia"}
    for p in found.plain:
        cut = sum(s.length_m * strip.times for strip in p.strips for s in strip.spans if s.kind == "piece")
        if p.material == "cards.of-filler":
            assert cut == pytest.approx(2 * (33.5 + 38.25 + 44) * FOOT - 6 * 0.5 * INCH, abs=1e-6)


def test_jobs_on_different_tracks_do_not_share() -> None:
    jobs = three()
    other = make_system(name="Another invented track")
    jobs["Invented two"] = replace(jobs["Invented two"], system=other)
    found = cut_jobs(jobs, seconds=20.0)
    assert sorted(len(t.plan.runs) for t in found.tracks) == [2, 4]


def test_json_and_text_say_the_same() -> None:
    found = plan()
    data = jobs_json(found, Unit.FT_IN)
    assert json.loads(json.dumps(data)) == data
    sheet = jobs_sheet(found, {}, Voice(Unit.FT_IN))
    assert sheet.blocks[0] is headline(sheet)
    assert headline(sheet).more[0].startswith("Invented track: buy ")
    assert ("proven" in headline(sheet).more[0]) is data["tracks"][0]["proven"]
    assert len(tables(sheet)["runs-1"].rows) == len(data["tracks"][0]["runs"]) == 6


def test_a_job_that_is_held_is_told_before_anything_else() -> None:
    sheet = jobs_sheet(plan(), {"Invented one": ["survey"]}, Voice(Unit.FT_IN))
    assert "HOLD Invented one: survey." in said(sheet.blocks[0])


def rack(*offcuts: str) -> Rack:
    return Rack(tuple(parse(text, Unit.FT_IN) for text in offcuts))


def test_the_rack_of_a_job_saves_a_stick_in_its_own_cut_list() -> None:
    plain = Given(make_job(), make_system(), make_layout(channel_m=33.5 * FOOT))
    with_rack = replace(plain, job=replace(plain.job, rack=rack("19' 11\"", "15' 11\"")))
    saved = tracks(with_rack)
    assert saved.plan.bought < tracks(plain).plan.bought
    assert any("from the rack" in SAY(s) for p in saved.pieces for s in p.steps)


def test_a_plain_diagram_shows_kerf_and_what_is_left() -> None:
    found = cut_stock([StockPiece("a", 300, 2), StockPiece("b", 100, 1)], [Stick("s", 1000)], 5)
    (pattern,) = found.patterns
    strip = stock_strip(pattern, 5, 1000)
    check_filled(strip)
    assert [s.kind for s in strip.spans] == ["piece", "kerf", "piece", "kerf", "piece", "kerf", "offcut"]
    assert strip.spans[-1].length_m == pytest.approx(0.285)
    (pattern,) = cut_stock([StockPiece("a", 498, 2)], [Stick("s", 1000)], 3).patterns
    full = stock_strip(pattern, 3, 1000)
    check_filled(full)
    assert full.spans[-1].kind == "scrap"
