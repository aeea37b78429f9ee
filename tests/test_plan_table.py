"""The plan as a table: sections made when they are asked for, once, from what their line names."""

from __future__ import annotations

from dataclasses import replace

import pytest

from job_texts import job_texts
from stringline.demo import demo_job_text
from stringline.job.read import read_job
from stringline.judging import Stage
from stringline.plan import Plan, plan
from stringline.plan.checking import holding
from stringline.plan.model import Section, sections_of
from stringline.system.read import load_system
from stringline.terminal.plan_text import plan_text


def test_each_section_needs_only_what_stands_above_it() -> None:
    known = {"job", "system", "others", "itself"}
    for name, section in sections_of(Plan).items():
        assert set(section.needs) <= known, name
        known.add(name)


def test_a_section_is_made_once_and_only_when_it_is_asked_for() -> None:
    made: list[str] = []

    def noting(name: str, value: int) -> int:
        made.append(name)
        return value

    class Small:
        first = Section(lambda: noting("first", 1))
        second = Section(lambda one: noting("second", one + 1), "first")

    small = Small()
    assert made == []
    assert (small.second, small.second, small.first) == (2, 2, 1)
    assert made == ["first", "second"]


def test_a_plan_cannot_be_changed_and_knows_its_sections() -> None:
    job = read_job(demo_job_text(), "demo")
    whole = plan(job, load_system(job.system))
    with pytest.raises(AttributeError):
        whole.layout = None  # type: ignore[assignment]
    with pytest.raises(TypeError):
        Plan(job, None, roof=1)
    other = whole.changed(checks=())
    assert other.checks == ()
    assert other.survey is whole.survey


def test_to_know_what_holds_an_early_stage_no_later_section_is_made() -> None:
    text = demo_job_text().replace('stage = "fit-out"', 'stage = "layout"')
    job = read_job(text, "demo")
    whole = plan(job, load_system(job.system))
    assert whole.held
    assert not {"lead", "mechanics", "ready", "cut"} & vars(whole).keys()


@pytest.mark.parametrize("name", ["made-03", "made-05", "made-09", "made-12"])
def test_what_holds_is_the_same_whether_or_not_all_checks_are_made(name: str) -> None:
    job = read_job(job_texts()[name], name)
    system = load_system(job.system) if job.system else None
    checks = plan(job, system).checks
    for stage in Stage:
        there = plan(job, system).changed(job=replace(job, stage=stage))
        want = [c.code for c in checks if c.stops and c.stage.rank <= stage.rank]
        assert [c.code for c in there.held] == want


RUN = {"roll-clearance", "reel-freeboard", "rope-strength", "motor-torque", "drum-sag", "slider-jam"}
LEAD = {"lead-expected", "lead-measured"}
ORDERED = {"order-changed", "order-width", "order-leading-edge", "order-length"}


@pytest.mark.parametrize("name", ["tern-cottage", "heron-yard"])
@pytest.mark.parametrize("stage", [Stage.SURVEY, Stage.FIT_OUT, Stage.HANDOVER])
def test_what_holds_a_verb_are_the_checks_of_its_groups(name: str, stage: Stage) -> None:
    job = replace(read_job(demo_job_text(name), name), stage=stage)
    whole = plan(job, load_system(job.system))

    def stopping(last: Stage, codes: set[str]) -> list[str]:
        return [
            c.code for c in whole.checks if c.stops and c.stage.rank <= last.rank and (not codes or c.code in codes)
        ]

    assert [c.code for c in holding(whole, Stage.ORDER)] == stopping(Stage.ORDER, set())
    assert [c.code for c in holding(whole, of=("parts", "run"))] == stopping(stage, RUN | LEAD)
    assert [c.code for c in holding(whole, of=("run",))] == stopping(stage, LEAD)
    assert [c.code for c in holding(whole, Stage.SERVICE, of=("ordered",))] == stopping(Stage.SERVICE, ORDERED)
    assert stopping(Stage.SERVICE, set())  # some hold, or nothing would be compared


def test_the_terminal_makes_no_section_of_a_later_stage() -> None:
    job = read_job(demo_job_text(), "demo")
    whole = plan(job, load_system(job.system))
    assert "Fit-out" in plan_text(whole)
    assert not {"lead", "diagnosis"} & vars(whole).keys()
