"""Sheets of a plan that knows how its cover rolls, what lead to expect, and why it runs crooked."""

from __future__ import annotations

import datetime
import json
import xml.etree.ElementTree as ET
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from book_makers import full, with_run
from book_reader import inside_frames, squeezed, text_of
from makers import make_system
from sheet_reader import bullets, column, headline, tables
from stringline.book.blocks import sheet_data
from stringline.book.pages import book_data
from stringline.book.pdf import pdf
from stringline.cli import main
from stringline.demo import demo_job_text
from stringline.finding import finding
from stringline.judging import Verdict
from stringline.layout.result import Layout
from stringline.lead.diagnosis import diagnose_job
from stringline.lead.predict import predict_lead
from stringline.lead.result import Diagnosis, LeadPrediction, Lesson
from stringline.lengths import Unit
from stringline.mechanics.assemble import mechanics
from stringline.mechanics.result import Mechanics, Refusal
from stringline.plan import Needs, Plan
from stringline.sheets.cautions import for_card
from stringline.sheets.diagnosis import diagnosis_sheet
from stringline.sheets.fill_in import run_in_sheet
from stringline.sheets.lead import lead_sheet
from stringline.sheets.mechanics import mechanics_sheet
from stringline.sheets.model import Cautions, Cell, Depth, Notice
from stringline.sheets.needs import needs_blocks
from stringline.sheets.voice import Voice
from stringline.terminal.render import blocks_lines, sheet_text
from stringline.worked import Kind

DAY = datetime.date(2026, 5, 4)
VOICE = Voice(Unit.FT_IN)


@lru_cache(maxsize=1)
def running() -> Plan:
    plan = with_run(full(system=make_system()))
    assert isinstance(plan.layout, Layout)
    assert plan.system is not None
    return plan.changed(
        mechanics=mechanics(plan.system, plan.layout),
        lead=predict_lead(plan.system, plan.layout, rng=np.random.default_rng(1), samples=256),
        diagnosis=diagnose_job(plan.job, plan.system, plan.layout),
    )


def moving() -> tuple[Mechanics, LeadPrediction, Diagnosis]:
    plan = running()
    assert isinstance(plan.mechanics, Mechanics)
    assert isinstance(plan.lead, LeadPrediction)
    assert isinstance(plan.diagnosis, Diagnosis)
    return plan.mechanics, plan.lead, plan.diagnosis


def sheets(plan: Plan) -> dict[str, dict[str, Any]]:
    return {s.get("key", s["kind"]): s for s in book_data(plan, today=DAY)["sheets"]}


def test_every_figure_of_the_mechanics_is_printed_and_stays_inside() -> None:
    plan = running()
    content = pdf(book_data(plan, today=DAY), today=DAY)
    inside_frames(content, "letter")
    whole, voice = squeezed("".join(text_of(content))), Voice(plan.job.unit)
    for figure in moving()[0].figures:
        assert squeezed(voice.say(figure.label)) in whole
    assert squeezed(voice.say(moving()[2].verdict)) in whole
    for cause in moving()[2].causes:
        assert squeezed(voice.say(cause.title)) in whole
        # A hyphen at the end of a line is read back as a place to break.
        assert squeezed(voice.say(cause.action)).replace("-", "") in whole.replace("-", "")


def test_the_run_in_card_shows_what_to_expect_beside_room_for_what_is_read() -> None:
    plan = running()
    assert isinstance(plan.layout, Layout)
    assert plan.system is not None
    expected = tables(run_in_sheet(plan.job.run, plan.layout, plan.system, moving()[1], VOICE))["expected"]
    assert len(expected.rows) == len(moving()[1].card)
    assert column(expected, 1)[0].count("in") == 1
    assert all(isinstance(c, Cell) and c.blank for row in expected.rows for c in (row[2], row[4], row[6]))
    assert "expected" not in tables(run_in_sheet(None, plan.layout, plan.system, None, VOICE))


def test_a_refusal_stands_first_with_the_nearest_that_would_do() -> None:
    refused = replace(
        moving()[0],
        refusals=(Refusal("reel-full", finding("mechanics.part-reel"), finding("mechanics.rope-weak"), None),),
    )
    first = mechanics_sheet(refused, VOICE).blocks[0]
    assert isinstance(first, Notice)
    assert first.verdict is Verdict.FAIL
    assert first.lines == (
        "This rope reel does not do: the rope's knotted strength is below its highest pull.",
        "Nearest that would: nothing in the catalogue at hand.",
    )
    plan = running().changed(mechanics=refused)
    assert squeezed(first.lines[0]) in squeezed("".join(text_of(pdf(book_data(plan, today=DAY), today=DAY))))


def test_every_figure_of_the_mechanics_stands_with_its_rule() -> None:
    table = tables(mechanics_sheet(moving()[0], VOICE))["figures"]
    assert column(table) == [VOICE.label(f) for f in moving()[0].figures]
    rules = [c.notes for c in (row[-1] for row in table.rows) if isinstance(c, Cell)]
    assert rules == [() if f.rule is None else (VOICE.say(f.rule),) for f in moving()[0].figures]


def test_the_lead_to_expect_is_judged_as_its_check_is() -> None:
    lead = moving()[1]
    for limit, verdict in ((2 * lead.worst.value, Verdict.PASS), (lead.worst.value / 2, Verdict.FAIL)):
        sheet = lead_sheet(replace(lead, limit_m=limit), VOICE)
        assert headline(sheet).verdict is verdict
        assert VOICE.figure(lead.worst) in headline(sheet).text
        assert VOICE.amount(limit, Kind.LENGTH) in headline(sheet).text
    shares = tables(lead_sheet(lead, VOICE))["shares"]
    assert [c.value for c in (row[1] for row in shares.rows) if isinstance(c, Cell)] == [
        s.share for s in lead.shares if s.share >= 0.02
    ]


def test_cautions_of_running_are_not_left_to_a_second_look() -> None:
    for sheet in (lead_sheet(moving()[1], VOICE), diagnosis_sheet(moving()[2], VOICE)):
        (cautions,) = (b for b in sheet.blocks if isinstance(b, Cautions))
        assert cautions.depth is Depth.FIRST
        assert cautions.items == for_card("run-in", VOICE)
        for item in cautions.items:
            assert squeezed(item.text) in squeezed(sheet_text(sheet))
        assert VOICE.say("mechanics.nobody-in-the-water") not in bullets(sheet)  # the cautions say it more fully
    assert VOICE.say("mechanics.nobody-in-the-water") in bullets(mechanics_sheet(moving()[0], VOICE))


@pytest.mark.parametrize("fits", [True, False])
@pytest.mark.parametrize("sure", [True, False])
def test_an_explanation_that_does_not_meet_the_readings_is_never_sure(fits: bool, sure: bool) -> None:
    sheet = diagnosis_sheet(replace(moving()[2], fits=fits, sure=sure), VOICE)
    found = headline(sheet)
    assert found.verdict is (Verdict.WATCH if fits and sure else Verdict.CANNOT_TELL)
    words = "The explanation meets all 14 readings" if fits else "No explanation meets all 14 readings"
    assert found.more[0].startswith(words)
    assert squeezed(found.more[0]) in squeezed(sheet_text(sheet))
    assert squeezed(found.more[0]) in squeezed(json.dumps(sheet_data(sheet, {}), ensure_ascii=False))


def test_what_an_earlier_action_did_stands_beside_what_was_expected_of_it() -> None:
    lesson = Lesson(
        finding("lead.take-up-rope", amount_m=0.0254, side="drive"),
        np.array([3.0, 6.0]),
        ("closing", "opening"),
        np.array([0.01, -0.02]),
        np.array([0.011, -0.019]),
        np.array([0.003, 0.003]),
        "lead.did-what-was-expected",
    )
    sheet = diagnosis_sheet(replace(moving()[2], lessons=(lesson,)), Voice(Unit.M))
    table = tables(sheet)["lesson"]
    assert [column(table, n) for n in (1, 2, 3)] == [
        ["closing", "opening"],
        ["+10.0 mm", "−20.0 mm"],
        ["+11.0 mm", "−19.0 mm"],
    ]
    for text in (sheet_text(sheet), json.dumps(sheet_data(sheet, {}), ensure_ascii=False)):
        assert "Earlier: Take up 25 mm on the drive-side rope." in text
        assert "The action did what it was expected to." in text


def test_a_section_of_a_later_stage_lacks_nothing_yet() -> None:
    later, lacking = (blocks_lines(needs_blocks(Needs("diagnosis", m), VOICE)) for m in ((), ("plan.water",)))
    assert later == ["Not yet: diagnosis. Nothing is asked for it at this stage; it comes later."]
    assert lacking[0] == "Not yet: diagnosis. It needs:"
    assert "[pool]" in " ".join(lacking[1:])


def test_a_section_that_only_says_what_it_needs_has_no_sheet() -> None:
    plan = full().changed(mechanics=Needs("mechanics", ("the layout",)))
    assert not {"mechanics", "lead", "diagnosis"} & set(sheets(plan))


def test_the_section_torque_speed_and_leads_stand_in_the_book() -> None:
    found = sheets(running())
    shown = {key: pictures(sheet["blocks"]) for key, sheet in found.items() if "blocks" in sheet}
    assert [p["title"] for p in shown["mechanics"]] == ["Torque and speed", "Section through the housing"]
    assert "the lead expected" in shown["run-in"][0]["alt"]
    assert "the explanation found" in shown["diagnosis"][0]["alt"]
    assert pictures(sheets(full())["run-in"]["blocks"]) == []


def pictures(blocks: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The drawings of a sheet's data, those of its groups too."""
    return [p for b in blocks for p in (pictures(b["blocks"]) if b["block"] == "group" else [b.get("picture")]) if p]


def test_lead_and_diagnose_write_their_plots(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = demo_job_text().replace('stage = "fit-out"', 'stage = "run-in"')
    text += '\n[run]\nleads = [["4 ft", "1/2 in"], ["20 ft", "5/8 in", "1/4 in"], ["36 ft", "7/8 in"]]\n'
    job, plain = tmp_path / "job.toml", tmp_path / "plain.toml"
    job.write_text(text, encoding="utf-8")
    plain.write_text(demo_job_text(), encoding="utf-8")
    for verb, said in (("lead", "95 in 100 runs expected here"), ("diagnose", "explained by the causes found")):
        path = tmp_path / f"{verb}.svg"
        assert main([verb, str(job), "--json", "--svg", str(path)]) in (0, 1)
        json.loads(capsys.readouterr().out)
        words = {e.text for e in ET.fromstring(path.read_text("utf-8")).iter() if e.tag.endswith("text")}
        assert {said, "read", "INVENTED: no real job"} <= words
    assert main(["diagnose", str(plain), "--svg", str(tmp_path / "none.svg")]) == 2
    assert "nothing to draw yet" in capsys.readouterr().err
    assert main(["lead", str(plain), "--svg", str(tmp_path / "no" / "such.svg")]) == 2
    assert sorted(p.name for p in tmp_path.glob("*.svg")) == ["diagnose.svg", "lead.svg"]
