"""One job in three forms: as it is held, as the text of a file, as rows; from each to each without loss."""

from __future__ import annotations

import json
import random
import re
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from job_makers import jobs
from job_texts import job_texts
from stringline.demo import demo_job_text
from stringline.job.coordinates import coordinates_csv
from stringline.job.model import Job
from stringline.job.read import read_job
from stringline.job.rows import job_of, rows_of
from stringline.job.write import job_toml
from stringline.sheets.job_file import job_text
from stringline.sheets.words import chapter

MANY = settings(
    max_examples=80,
    deadline=None,
    derandomize=True,
    phases=[Phase.explicit, Phase.generate],  # whole jobs shrink too slowly to wait for
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


def read_back(job: Job) -> Job:
    listed = coordinates_csv(job.survey.coordinates)
    return read_job(job_toml(job), "x", lambda name: listed if name == job.survey.coordinate_file else "")


@MANY
@given(jobs())
def test_any_job_is_the_same_after_its_text(job: Job) -> None:
    assert read_back(job) == job


@MANY
@given(jobs(), st.randoms(use_true_random=False))
def test_any_job_is_the_same_after_its_rows_in_any_order(job: Job, chance: random.Random) -> None:
    rows = rows_of(job)
    for row in rows:
        assert all(value is None or isinstance(value, str | int | float) for value in row.values())
    chance.shuffle(rows)
    assert job_of(json.loads(json.dumps(rows))) == job


@settings(MANY, max_examples=40)
@given(jobs(beside=True))
def test_coordinates_of_a_list_beside_the_job_come_back(job: Job) -> None:
    assert read_back(job) == job
    assert job_of(rows_of(job)) == job


def made_texts() -> dict[str, str]:
    return {"tern-cottage": demo_job_text(), "heron-yard": demo_job_text("heron-yard"), **job_texts()}


@pytest.mark.parametrize("name", made_texts())
def test_jobs_as_people_write_them(name: str) -> None:
    job = read_job(made_texts()[name], name)
    assert read_back(job) == job
    assert job_of(rows_of(job)) == job
    for tape in job.survey.tapes:
        assert json.dumps(tape.length.text, ensure_ascii=False) in job_toml(job)


def test_a_reading_is_one_row_with_what_was_read_as_it_was_written() -> None:
    job = read_job(demo_job_text(), "x")
    rows = [r for r in rows_of(job) if r["kind"] == "tape"]
    assert [(r["a"], r["b"], r["length"]) for r in rows] == [(t.a, t.b, t.length.text) for t in job.survey.tapes]
    assert [r["place"] for r in rows] == list(range(len(rows)))
    assert {len(r) for r in rows} == {3 + 3 + 1 + 5}


def test_a_new_row_without_a_place_stands_behind_the_others() -> None:
    job = read_job('[job]\nunit = "m"\n[survey]\nbaseline = ["A", "B"]\ntapes = [["A", "B", 3.5]]\n', "x")
    new = {"kind": "tape", "path": '["survey", "tapes"]', "a": "A", "b": "B", "length": "3.501", "by": "JD"}
    tapes = job_of([new, *rows_of(job)]).survey.tapes
    assert [(t.length.text, t.by) for t in tapes] == [("3.5", None), ("3.501", "JD")]


def test_the_text_of_a_job_has_remarks_where_they_are_wanted() -> None:
    job = read_job('[job]\nunit = "m"\n[survey]\nbaseline = ["A", "B"]\ntapes = [["A", "B", 3.5]]\n', "x")
    text = job_toml(job, {(): "first\nsecond", ("survey",): "what was read", ("survey", "tapes"): "each as it was"})
    assert text.startswith('# first\n# second\n\n[job]\nname = "Unnamed job"\nunit = "m"\n')
    assert "\n\n# what was read\n[survey]\n" in text
    assert '# each as it was\ntapes = [\n  ["A", "B", "3.5"],\n]\n' in text
    assert read_job(text, "x") == job


def test_a_fresh_file_has_remarks_that_fit_and_reads_back() -> None:
    page = Path(__file__).parent.parent / "docs" / "job-file.md"
    (whole,) = re.findall(r"```toml\n(.*?)```", page.read_text("utf-8"), re.DOTALL)
    job = read_job(whole, "x")
    text = job_text(job)
    assert read_job(text, "x") == job
    assert text.index("# From, to, reading.\ntapes = [\n") < text.index("# The water's edge in order")
    about = {tuple(code.split(".")[2:]) for code in chapter("file") if code.startswith("file.about")}
    here = {(), *((s,) for s in tomllib.loads(text)), *((s, k) for s, v in tomllib.loads(text).items() for k in v)}
    absent = {("survey", k) for k in ("sketch", "known", "coordinates", "blocked")}  # a job cannot have all at once
    assert about - here <= absent


def test_where_a_reading_stands_is_no_part_of_it() -> None:
    job = read_job('[job]\nunit = "m"\n[survey]\nbaseline = ["A", "B"]\ntapes = [["A", "B", 3.5]]\n', "x")
    (tape,) = job.survey.tapes
    assert tape.line == 5
    assert replace(tape, line=9) == tape
    assert replace(tape, sigma_m=0.002) != tape
