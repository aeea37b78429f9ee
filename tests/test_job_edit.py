"""Adding to a job file without disturbing it."""

from __future__ import annotations

import difflib
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringline.demo import demo_job_text
from stringline.faults import Faults
from stringline.job.edit import append_tape, strike_tape
from stringline.job.read import read_job
from stringline.job.template import job_template

JOB = """\
# the job of today
[job]
unit = "ft-in"   # as the tape is marked

[survey]
baseline = ["A", "B"]
tapes = [
  ["A", "B", "24-0"],   # first
  # between
  ["A", "1", "25-0", { by = "JD" }],
  ["B", "1", "26-0"]  # no comma behind it
  # at the end
]   # after

[pool]   # to come
water = ["A", "B", "1"]
"""


def lines_lost(before: str, after: str) -> list[str]:
    """Lines of the old text that the new one does not have."""
    return [line[2:] for line in difflib.ndiff(before.splitlines(), after.splitlines()) if line.startswith("- ")]


def test_a_new_reading_goes_behind_the_others() -> None:
    after = append_tape(JOB, "A", "1", "25' 0 1/16\"", by="JD", at="09:40")
    tapes = read_job(after, "x").survey.tapes
    assert [t.length.text for t in tapes] == ["24-0", "25-0", "26-0", "25' 0 1/16\""]
    assert (tapes[3].by, tapes[3].at) == ("JD", "09:40")
    assert lines_lost(JOB.replace('"26-0"]  #', '"26-0"],  #'), after) == []
    assert after.count("\n") == JOB.count("\n") + 1


def test_the_demo_keeps_every_line() -> None:
    after = append_tape(demo_job_text(), "2", "4", "40' 3\"")
    assert lines_lost(demo_job_text(), after) == []
    assert len(read_job(after, "x").survey.tapes) == 43


def test_the_first_reading_of_a_new_job() -> None:
    text = job_template("New", "m")
    after = append_tape(text, "A", "B", "7.315")
    assert lines_lost(text, after) == []
    assert [t.length.m for t in read_job(after, "x").survey.tapes] == [7.315]


@pytest.mark.parametrize(
    "text",
    [
        '[job]\nunit = "m"\n[survey]\nbaseline = ["A", "B"]\n',
        '[job]\nunit = "m"\n[survey]\nbaseline = ["A", "B"]\n[pool]\nwater = []\n',
        '[job]\nunit = "m"\n[survey]\ntapes = []\n',
        '[job]\nunit = "m"\n[survey]\ntapes = [["A", "B", 1]]\n',
        '[job]\nunit = "m"\n[survey]\ntapes = [["A", "B", 1], ]',
        'survey.tapes = [["A", "B", 1]]\n[job]\nunit = "m"\n',
        'survey = { tapes = [["A", "B", 1]] }\n[job]\nunit = "m"\n',
        '[job]\nunit = "m"\n',
        "",
    ],
)
def test_any_layout_can_be_added_to(text: str) -> None:
    before = tomllib.loads(text).get("survey", {}).get("tapes", [])
    after = append_tape(append_tape(text, "A", "2", "3 m"), "A", "3", 4)
    assert tomllib.loads(after)["survey"]["tapes"] == [*before, ["A", "2", "3 m"], ["A", "3", 4]]


@pytest.mark.parametrize("text", [JOB.replace("\n", "\r\n"), "\ufeff" + JOB])
def test_line_ends_and_a_byte_order_mark_stay(text: str) -> None:
    after = append_tape(text, "A", "2", "3 m")
    assert after.startswith("\ufeff") == text.startswith("\ufeff")
    assert after.replace("\r\n", "").count("\n") == text.replace("\r\n", "").count("\n") + (0 if "\r\n" in text else 1)
    assert strike_tape(text, 8, "why").count("\n") == text.count("\n")


@pytest.mark.parametrize(
    ("a", "b", "reading", "code"),
    [
        ("A", "A", "3 m", "same-point"),
        ("A", "", "3 m", "bad-name"),
        ("A", "2", "3", "bad-length"),
        ("A", "2", 0, "zero-length"),
        ("A", "2", "3' 14\"", "bad-length"),
    ],
)
def test_a_faulty_reading_is_kept_out(a: str, b: str, reading: str | int, code: str) -> None:
    with pytest.raises(Faults) as caught:
        append_tape(JOB, a, b, reading)
    assert [f.code for f in caught.value.faults] == [code]


def test_a_fault_elsewhere_does_not_keep_a_reading_out() -> None:
    faulty = JOB.replace('unit = "ft-in"', 'unit = "ft-in"\nnonsense = 1')
    assert "27-0" in append_tape(faulty, "A", "2", "27-0")


@pytest.mark.parametrize("text", ["[survey\n", '[survey]\ntapes = "none"\n', "survey = 3\n"])
def test_what_cannot_be_added_to_is_told(text: str) -> None:
    with pytest.raises(Faults):
        append_tape(text, "A", "B", "3 m")
    with pytest.raises(Faults):
        strike_tape(text, 2, "why")


def test_setting_a_reading_aside_keeps_it() -> None:
    once = strike_tape(JOB, 8, "the hook slipped")
    twice = strike_tape(once, 10, 'read "upside down"')
    tapes = read_job(append_tape(twice, "A", "1", "25-1"), "x").survey.tapes
    assert [(t.length.text, t.struck) for t in tapes[:3]] == [
        ("24-0", "the hook slipped"),
        ("25-0", 'read "upside down"'),
        ("26-0", None),
    ]
    assert tapes[1].by == "JD"
    assert len(lines_lost(JOB, twice)) == 2
    assert "# first" in twice


@pytest.mark.parametrize(
    ("line", "reason", "code"),
    [(9, "why", "no-such-reading"), (1, "why", "no-such-reading"), (99, "why", "no-such-reading"), (8, " ", "empty")],
)
def test_what_cannot_be_set_aside_is_told(line: int, reason: str, code: str) -> None:
    with pytest.raises(Faults) as caught:
        strike_tape(JOB, line, reason)
    assert [(f.code, f.line) for f in caught.value.faults] == [(code, line)]


def test_twice_set_aside_and_two_on_a_line_are_told() -> None:
    with pytest.raises(Faults) as caught:
        strike_tape(strike_tape(JOB, 8, "why"), 8, "again")
    assert [f.code for f in caught.value.faults] == ["struck-already"]
    with pytest.raises(Faults) as caught:
        strike_tape('[survey]\ntapes = [["A", "B", 1], ["A", "C", 2]]\n', 2, "why")
    assert [f.code for f in caught.value.faults] == ["no-such-reading"]


REMARK = st.text(alphabet=st.characters(codec="utf-8", exclude_characters="\r"), min_size=1, max_size=12).filter(
    str.strip
)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.lists(st.tuples(st.sampled_from("A12"), st.sampled_from("BC3"), st.integers(1, 90), REMARK), max_size=5))
def test_readings_add_up_whatever_is_remarked(rows: list[tuple[str, str, int, str]]) -> None:
    text = JOB
    for a, b, feet, remark in rows:
        text = append_tape(text, a, b, f"{feet}-0", by=remark)
    tapes = read_job(text, "x").survey.tapes
    assert [(t.a, t.b, t.length.text, t.by) for t in tapes[3:]] == [(a, b, f"{f}-0", r) for a, b, f, r in rows]
    for i, tape in enumerate(tapes[3:]):
        assert tape.line is not None
        assert read_job(strike_tape(text, tape.line, "why"), "x").survey.tapes[3 + i].struck == "why"
