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
from stringline.book.pages import book_data
from stringline.book.pdf import pdf
from stringline.cli import main
from stringline.demo import demo_job_text
from stringline.finding import finding
from stringline.layout.result import Layout
from stringline.lead.diagnosis import diagnose_job
from stringline.lead.predict import predict_lead
from stringline.lead.result import Diagnosis, LeadPrediction
from stringline.mechanics.assemble import mechanics
from stringline.mechanics.result import Mechanics, Refusal
from stringline.plan import Needs, Plan
from stringline.sheets.voice import Voice

DAY = datetime.date(2026, 5, 4)


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
        assert squeezed(voice.say(cause.action)) in whole


def test_the_run_in_card_shows_what_to_expect_beside_room_for_what_is_read() -> None:
    found = sheets(running())["run-in"]
    assert len(found["expected"]) == len(moving()[1].card)
    assert found["expected"][0]["closing"].count("in") == 1
    assert sheets(full())["run-in"]["expected"] == []


def test_a_refusal_stands_first_with_the_nearest_that_would_do() -> None:
    refused = replace(
        moving()[0],
        refusals=(Refusal("reel-full", finding("mechanics.part-reel"), finding("mechanics.rope-weak"), None),),
    )
    plan = running().changed(mechanics=refused)
    whole = squeezed("".join(text_of(pdf(book_data(plan, today=DAY), today=DAY))))
    assert squeezed("This rope reel does not do: the rope's knotted strength is below its highest pull.") in whole


def test_a_section_that_only_says_what_it_needs_has_no_sheet() -> None:
    plan = full().changed(mechanics=Needs("mechanics", ("the layout",)))
    assert not {"rolling", "crooked"} & set(sheets(plan))


def test_the_section_torque_speed_and_leads_stand_in_the_book() -> None:
    found = sheets(running())
    assert [p["title"] for p in found["rolling"]["pictures"]] == ["Section through the housing", "Torque and speed"]
    assert "the lead expected" in found["run-in"]["picture"]["alt"]
    assert "the explanation found" in found["crooked"]["picture"]["alt"]
    assert sheets(full())["run-in"]["picture"] is None


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
