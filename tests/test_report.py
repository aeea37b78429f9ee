"""The terminal's words: a verdict first, why, then numbers; plain text; nothing corrected; nothing claimed."""

import pytest

from stringline.demo import demo_job_text
from stringline.job.read import read_job
from stringline.judging import Stage
from stringline.lengths import Unit
from stringline.plan import Plan, plan
from stringline.plan.checks.survey import survey_checks
from stringline.sheets.quantities import as_read, tiny
from stringline.sheets.voice import Voice
from stringline.survey.result import Survey
from stringline.system.read import load_system
from stringline.terminal.lines import table, wrapped
from stringline.terminal.plan_text import cuts_text, plan_text, survey_text
from stringline.terminal.running_text import diagnosis_text, lead_text
from stringline.worked import Kind

RUN = """
[run]
leads = [["5' 0\\"", "5/8\\"", "-1/2\\""], ["15' 0\\"", "3/4\\"", "-3/8\\""], ["25' 0\\"", "1/2\\"", "-1/2\\""]]
"""


def _plan(text: str) -> Plan:
    job = read_job(text, "demo")
    return plan(job, load_system(job.system))


@pytest.fixture(scope="module")
def demo() -> Plan:
    return _plan(demo_job_text())


def test_the_survey_says_what_to_re_tape_before_any_number(demo: Plan) -> None:
    assert isinstance(demo.survey, Survey)
    checks = survey_checks(demo.survey)
    text = survey_text(demo.job.name, demo.survey, checks, demo.job.stage, demo.job.unit)
    lines = text.splitlines()
    assert lines[2].startswith("Stop.")
    assert text.index("Re-tape 2–4") < text.index("RE-TAPE 2–4") < text.index("Readings") < text.index("Points")
    assert "Nothing was corrected" in text
    assert all(len(line) <= 80 for line in lines)
    assert "40' 9\"" in text
    assert "40' 3\"" in text
    assert "\x1b" not in text


def test_a_plan_that_nothing_holds_still_promises_nothing(demo: Plan) -> None:
    early = demo.changed(checks=(), held=())
    text = plan_text(early)
    assert "as far as these readings tell" in text
    for said in (text, plan_text(demo), cuts_text(demo), lead_text(demo)):
        for claim in ("complies", "compliant", "is safe", "certified"):
            assert claim not in said.lower()


def test_every_piece_is_printed_with_working_that_adds_up(demo: Plan) -> None:
    text = " ".join(cuts_text(demo).split())
    assert "T-L" in text
    assert "pulley-spacer: practice, no source" in text
    assert "[measured" in text


def test_the_plan_lists_the_cuts_and_which_stick_gives_what_without_what_only_paper_has(demo: Plan) -> None:
    text = plan_text(demo)
    listed = text[text.index("Cut cards\n") : text.index("\nTaken for granted\n")].split("\n\n")
    assert listed[0].splitlines()[1] == "=" * len("Cut cards")
    heads = [line.split() for part in listed for line in part.splitlines() if line.startswith("  Mark")]
    assert heads == [["Mark", "Piece", "Count", "Length", "From"]]
    assert any("Sticks of the tracks:" in part for part in listed)
    sticks = next(part for part in listed if "Cut from it, in this order" in part)
    assert "Track, left, last piece 6' 4 1/4\"" in " ".join(sticks.split())


def test_sections_without_input_say_what_they_need() -> None:
    text = demo_job_text()
    bare = text[: text.index("[pool]")]
    found = _plan(bare)
    assert "Layout needs:" in plan_text(found)
    assert "[pool]" in plan_text(found)
    assert "Not yet: lead" in lead_text(found)


def test_leads_in_the_job_are_diagnosed_with_a_caution() -> None:
    found = _plan(demo_job_text() + RUN)
    text = diagnosis_text(found)
    assert "that it is the main cause" in text
    assert "100 %" not in text
    assert "nobody is in the pool" in " ".join(text.split())


def test_no_leads_says_what_to_measure() -> None:
    found = _plan(demo_job_text().replace('stage = "fit-out"', 'stage = "run-in"'))
    assert found.job.stage is Stage.RUN_IN
    assert "[run]" in diagnosis_text(found)


def test_columns_are_as_wide_as_their_widest_cell() -> None:
    lines = table(("a", "number"), [("long name", "1"), ("b", "1234567")])
    assert len({len(line.rstrip()) for line in lines}) == 1
    assert lines[1].endswith("1")


def test_a_length_is_not_folded_in_its_middle() -> None:
    said = "Cut the tube to 18' 9 1/16\" and file 1040 mm of it, for 23.1 m² of cover."
    for width in range(14, 40):
        text = "\n".join(wrapped(said, width=width))
        assert "18' 9 1/16\"" in text
        assert "1040 mm" in text
        assert "23.1 m²" in text
        assert " ".join(text.split()) == said


def test_bare_readings_carry_their_unit_and_the_columns_are_explained() -> None:
    assert as_read("8003", Unit.MM) == "8003 mm"
    assert as_read("28.64", Unit.FT) == "28.64 ft"
    assert as_read("24-0", Unit.FT_IN) == "24-0"
    assert as_read("9.92 m", Unit.MM) == "9.92 m"
    assert as_read("0", Unit.FT_IN) == "0"
    assert tiny(0.0001, Unit.MM) == "0.1 mm"
    assert Voice(Unit.M).spread(1e-9, Kind.FORCE) == "± under 1 N"
    text = plan_text(_plan(demo_job_text()))
    assert "100.0 %" not in text


def test_that_the_track_suits_the_mount_is_said_to_be_taken_for_granted() -> None:
    on_deck = demo_job_text().replace('mount = "under-coping"', 'mount = "on-deck"')
    assert "made for mounting on-deck: the catalogue does not say" in " ".join(plan_text(_plan(on_deck)).split())
