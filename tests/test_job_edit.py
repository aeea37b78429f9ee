"""Adding to a job file without disturbing it."""

from __future__ import annotations

import difflib
import random
import tomllib
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from job_makers import jobs
from stringline.demo import demo_job_text
from stringline.document.toml_text import toml_value
from stringline.faults import Fault, Faults
from stringline.job.edit import append_reading, append_tape, fresh_id, readings_of, set_choice, strike
from stringline.job.model import Job
from stringline.job.read import read_job
from stringline.job.readings import (
    AsBuilt,
    Built,
    Coordinate,
    Level,
    Marked,
    Offset,
    Run,
    RunReading,
    Tape,
)
from stringline.job.rows import rows_of
from stringline.job.write import job_toml
from stringline.lengths import Unit
from stringline.sheets.job_file import new_job_text

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


def strike_tape(text: str, line: int, reason: str) -> str:
    """The reading on that line set aside."""
    (path,) = [r.path for r in readings_of(text) if r.line == line]
    return strike(text, path, reason)


def kept(before: str, after: str) -> bool:
    """Whether the new text is the old one, every sign in its order, with something put in."""
    rest = iter(after)
    return all(sign in rest for sign in before)


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
    text = new_job_text("New", "m")
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
        strike(text, ("survey", "tapes", 0), "why")


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
    ("place", "reason", "code"),
    [(0, " ", "empty"), (3, "why", "no-such-reading"), (1, "why", "struck-already")],
)
def test_what_cannot_be_set_aside_is_told(place: int, reason: str, code: str) -> None:
    text = strike(JOB, ("survey", "tapes", 1), "before")
    with pytest.raises(Faults) as caught:
        strike(text, ("survey", "tapes", place), reason)
    assert [f.code for f in caught.value.faults] == [code]


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


def test_ids_are_short_and_never_given_twice() -> None:
    draws = iter([0, 0, 0, 0, 0, 1, 2, 3, 4, 5])
    assert fresh_id(["x", None, "33333"], lambda below: next(draws) % below) == "4679a"
    signs = {fresh_id([], lambda below, k=k: k % below)[0] for k in range(20)}  # type: ignore[misc]
    assert len(signs) == 20
    assert not signs & set("01258bgilosuvz")


# --- layouts that were trouble before --------------------------------------------------------------------------------


def test_a_job_with_a_sketch_of_its_own_and_no_tapes() -> None:
    text = '[job]\nunit = "m"\n\n# rough\n[survey.sketch]\nA = [1, 2]  # stake\n'
    after = append_tape(text, "A", "B", "3 m")
    assert tomllib.loads(after)["survey"] == {"sketch": {"A": [1, 2]}, "tapes": [["A", "B", "3 m"]]}
    assert kept(text, after)
    assert append_tape(after, "A", "C", "4 m").count("[survey]") == 1


def test_a_remark_between_the_last_reading_and_its_comma() -> None:
    text = '[survey]\ntapes = [\n  ["A", "B", "3 m"] # first\n  , # and its comma\n]\n'
    after = append_tape(text, "A", "C", "4 m")
    assert after == text.replace("\n]", '\n  ["A", "C", "4 m"],\n]')


@pytest.mark.parametrize(
    "text",
    [
        '[job]\r\nunit = "m"\n[survey]\r\ntapes = [\n  ["A", "B", "3 m"]\r\n]\n',
        '[job]\nunit = "m"\r\n[survey]\ntapes = [["A", "B", "3 m"]]\r\n# end',
        '[job]\r\nunit = "m"\r\n[survey]\n',
    ],
)
def test_mixed_line_ends_stay_as_they_are(text: str) -> None:
    after = append_tape(text, "A", "C", "4 m")
    assert kept(text, after)
    assert len(tomllib.loads(after)["survey"]["tapes"]) == text.count('"B"') + 1
    struck = strike(after, ("survey", "tapes", 0), "why")
    assert kept(after, struck)
    assert tomllib.loads(struck)["survey"]["tapes"][0][-1] == {"struck": "why"}


def test_a_list_made_of_sections_is_told_and_left_alone() -> None:
    text = '[[order.earlier]]\nmark = "a"\n[survey]\ntapes.x = 1\n'
    with pytest.raises(Faults) as caught:
        append_tape(text, "A", "B", "3 m")
    assert [f.code for f in caught.value.faults] == ["no-place"]


# --- any job, any layout ---------------------------------------------------------------------------------------------

MANY = settings(
    max_examples=50,
    deadline=None,
    derandomize=True,
    phases=[Phase.explicit, Phase.generate],  # whole jobs shrink too slowly to wait for
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example],
)


def loosened(text: str, chance: random.Random) -> str:
    """The same values as somebody might have laid them out: remarks, odd spaces, line ends of either kind, no end."""
    out = []
    for line in text.split("\n"):
        if line.startswith("  [") or line == "]":
            line = " " * chance.randint(0, 5) + line.strip()
            if chance.random() < 0.2:
                out.append("  # between")
        elif " = " in line and chance.random() < 0.3:
            line = line.replace(" = ", chance.choice(["=", "  =\t", " =  "]), 1)
        if line.endswith("],") and chance.random() < 0.2:
            line = line[:-1] + chance.choice([" # late comma\n  ,", "  ,"])
        elif line and chance.random() < 0.3:
            line += chance.choice([" # ]", '  # "quoted" [remark', "\t#"])
        out.append(line)
        if chance.random() < 0.1:
            out.append("" if chance.random() < 0.5 else "# alone")
    whole = "\n".join(out)
    ends = chance.choice([["\n"], ["\r\n"], ["\n", "\r\n"]])
    *lines, last = whole.split("\n")
    whole = "".join(line + chance.choice(ends) for line in lines) + last
    whole = whole.rstrip("\r\n") if chance.random() < 0.3 else whole
    return ("\ufeff" if chance.random() < 0.2 else "") + whole


@st.composite
def two_jobs(draw: st.DrawFn) -> tuple[Job, Job]:
    """Two jobs in one unit."""
    unit = draw(st.sampled_from(Unit))
    return draw(jobs(unit=unit)), draw(jobs(unit=unit))


def read_or_told(text: str) -> tuple[tuple[Fault, ...], Job | None]:
    try:
        return (), read_job(text, "x")
    except Faults as faults:
        return faults.faults, None


def readings(job: Job) -> list[Marked]:
    s = job.survey
    built = () if job.as_built is None else job.as_built.readings
    return [*s.tapes, *s.offsets, *s.levels, *s.coordinates, *built, *(() if job.run is None else job.run.readings)]


def with_one_more(job: Job, new: Marked) -> Job:
    """The job with one more reading, as the program holds it."""
    lists = {Tape: "tapes", Offset: "offsets", Level: "levels", Coordinate: "coordinates"}
    if type(new) in lists:
        name = lists[type(new)]
        changes: Any = {name: (*getattr(job.survey, name), new)}
        return replace(job, survey=replace(job.survey, **changes))
    if isinstance(new, Built):
        old = job.as_built or AsBuilt()
        return replace(job, as_built=AsBuilt((*old.readings, new), old.sigma_m))
    assert isinstance(new, RunReading)
    run = job.run or Run()
    return replace(job, run=replace(run, readings=(*run.readings, new)))


@MANY
@given(two_jobs(), st.randoms(use_true_random=False))
def test_readings_of_any_kind_are_added_in_any_layout(both: tuple[Job, Job], chance: random.Random) -> None:
    job, other = both
    text = loosened(job_toml(job), chance)
    assert read_job(text, "x") == job
    for reading in chance.sample(readings(other), min(3, len(readings(other)))):
        new = replace(reading, id=fresh_id([r.id for r in readings_of(text)], chance.randrange))
        after = append_reading(text, new, job.unit)
        assert kept(text, after)
        job = with_one_more(job, new)
        assert read_job(after, "x") == job
        text = after


@MANY
@given(jobs(), st.randoms(use_true_random=False))
def test_any_reading_is_set_aside_in_any_layout(job: Job, chance: random.Random) -> None:
    text = loosened(job_toml(job), chance)
    one = chance.choice([r for r in readings_of(text) if r.struck is None])
    assert read_job(text, "x") == job
    after = strike(text, one.path, 'why "not"')
    assert kept(text, after)
    told, read = read_or_told(after)
    assert {f.code for f in told} <= {"not-reached", "no-levels"}  # where it was the only one that reached a point
    if read is not None:
        changed = [(a, b) for a, b in zip(rows_of(read_job(text, "x")), rows_of(read), strict=True) if a != b]
        assert [{**a, "struck": 'why "not"'} for a, _ in changed] == [b for _, b in changed]
        assert len(changed) == 1, changed


def alike(a: str, b: str) -> int:
    """How many signs two texts have alike from their beginning."""
    return next((k for k, (x, y) in enumerate(zip(a, b, strict=False)) if x != y), min(len(a), len(b)))


CHOICES: list[tuple[tuple[str, ...], Any]] = [
    (("job", "stage"), "order"),
    (("job", "invented"), True),
    (("survey", "tape_class"), "III"),
    (("survey", "sigma"), "2 mm"),
    (("survey", "conditions", "celsius"), 12.5),
    (("as_built", "sigma"), "1 mm"),
    (("order", "day_cost"), 250),
    (("order", "after_pour"), True),
    (("rack", "offcuts"), ["1.5 m", "2 m"]),
    (("power", "conductor"), "10 AWG"),
    (("drain", "fall"), 0.02),
    (("control", "eye"), "1.6 m"),
    (("tasks", "list"), [{"name": "pour", "days": 2.0}]),
]


@MANY
@given(jobs(), st.sampled_from(CHOICES), st.randoms(use_true_random=False))
def test_a_choice_is_made_in_any_layout(job: Job, choice: tuple[Any, Any], chance: random.Random) -> None:
    path, value = choice
    text = loosened(job_toml(job), chance)
    after = set_choice(text, path, value)
    expected = tomllib.loads(text.removeprefix("\ufeff"))
    inner = expected
    for step in path[:-1]:
        inner = inner.setdefault(step, {})
    old = inner.get(path[-1])
    inner[path[-1]] = value
    assert tomllib.loads(after.removeprefix("\ufeff")) == expected
    read_job(after, "x")
    if old is None:
        assert kept(text, after)
    else:  # one value is another one: what stands before and behind is as it was
        same = alike(text, after)
        rest = alike(text[same:][::-1], after[same:][::-1])
        gone = text[same : len(text) - rest]
        assert len(gone) <= len(toml_value(old)) + gone.count("\r") + 80 * gone.count("#") + 40 * gone.count("\n")


def test_a_choice_that_cannot_be_is_told_and_a_reading_is_no_choice() -> None:
    with pytest.raises(Faults) as caught:
        set_choice(JOB, ("survey", "tape_class"), "IV")
    assert [(f.code, f.where) for f in caught.value.faults] == [("unknown-word", "survey.tape_class")]
    with pytest.raises(Faults):
        set_choice(JOB, ("survey", "sigmma"), "1 mm")
    with pytest.raises(TypeError):
        set_choice(JOB, ("survey", "tapes", 0), ["A", "B", "25-0"])
    assert "curve = true\n" in set_choice(JOB, ("pool", "curve"), True)
