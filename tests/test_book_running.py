"""Sheets of a plan that knows how its cover rolls, what lead to expect, and why it runs crooked."""

from __future__ import annotations

import datetime
from dataclasses import replace
from functools import lru_cache
from typing import Any

import numpy as np

from book_makers import full, with_run
from book_reader import inside_frames, squeezed, text_of
from makers import make_system
from stringline.book.pages import book_data
from stringline.book.pdf import pdf
from stringline.layout.result import Layout
from stringline.mechanics.result import Mechanics, Refusal
from stringline.mechanics.whole import mechanics
from stringline.plan import Needs, Plan
from stringline.running.predict import predict_lead
from stringline.running.result import Diagnosis, LeadPrediction
from stringline.running.whole import diagnose_job

DAY = datetime.date(2026, 5, 4)


@lru_cache(maxsize=1)
def running() -> Plan:
    plan = with_run(full(system=make_system()))
    assert isinstance(plan.layout, Layout)
    assert plan.system is not None
    return replace(
        plan,
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
    return {s["kind"]: s for s in book_data(plan, today=DAY)["sheets"]}


def test_every_figure_of_the_mechanics_is_printed_and_stays_inside() -> None:
    plan = running()
    content = pdf(book_data(plan, today=DAY), today=DAY)
    inside_frames(content, "letter")
    whole = squeezed("".join(text_of(content)))
    for figure in moving()[0].figures:
        assert squeezed(figure.label) in whole
    assert squeezed(moving()[2].verdict) in whole
    for cause in moving()[2].causes:
        assert squeezed(cause.title) in whole
        assert squeezed(cause.action) in whole


def test_the_run_in_card_shows_what_to_expect_beside_room_for_what_is_read() -> None:
    found = sheets(running())["run-in"]
    assert len(found["expected"]) == len(moving()[1].card)
    assert found["expected"][0]["closing"].count("in") == 1
    assert sheets(full())["run-in"]["expected"] == []


def test_a_refusal_stands_first_with_the_nearest_that_would_do() -> None:
    refused = replace(moving()[0], refusals=(Refusal("reel-full", "rope reel", "it would be over-full", None),))
    plan = replace(running(), mechanics=refused)
    whole = squeezed("".join(text_of(pdf(book_data(plan, today=DAY), today=DAY))))
    assert squeezed("This rope reel does not do: it would be over-full.") in whole


def test_a_section_that_only_says_what_it_needs_has_no_sheet() -> None:
    plan = replace(full(), mechanics=Needs("mechanics", ("the layout",)))
    assert not {"rolling", "crooked"} & set(sheets(plan))
