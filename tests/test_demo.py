"""The invented demo job: its readings come from a pool that is known, and one of them was misread."""

from __future__ import annotations

import math

import numpy as np
import pytest

from demo_truth import MISREAD, MISREAD_TOO_MANY_M, TRUE_XY
from stringline.demo import demo_job_text
from stringline.finding import finding
from stringline.job import Job
from stringline.job.read import read_job
from stringline.survey.run import survey


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(demo_job_text(), "demo")


def corrected() -> str:
    text = demo_job_text()
    wrong = '["2", "4", "40\' 9\\""]'
    assert text.count(wrong) == 1
    return text.replace(wrong, '["2", "4", "40\' 3\\""]')


def test_every_reading_but_one_is_what_a_class_two_tape_would_say(job: Job) -> None:
    for t in job.survey.tapes:
        true = math.dist(TRUE_XY[t.a], TRUE_XY[t.b])
        error = t.length.m - true - (MISREAD_TOO_MANY_M if (t.a, t.b) == MISREAD else 0.0)
        sigma = math.hypot(0.0005 * (0.3 + 0.2 * math.ceil(true)), 0.002)
        assert abs(error) < 3 * sigma + 0.0254 / 32, (t.a, t.b, error)


def test_the_misreading_is_named_with_its_likely_value(job: Job) -> None:
    found = survey(job.survey)
    (suspect,) = found.suspects
    assert (suspect.frm, suspect.to) == MISREAD
    assert suspect.likely_m == pytest.approx(suspect.read_m - MISREAD_TOO_MANY_M)
    assert abs(suspect.expected_m - math.dist(TRUE_XY["2"], TRUE_XY["4"])) < 3 * suspect.sigma_m
    assert suspect.odds > 10
    assert suspect.slip == finding("survey.inches-many", n=6)
    assert not found.global_test.pass_
    assert min(t.redundancy for t in found.tapes) >= 0.2


def test_without_it_nothing_is_accused_and_the_pool_comes_back(job: Job) -> None:
    found = survey(read_job(corrected(), "demo").survey)
    assert found.suspects == ()
    assert found.global_test.pass_
    for p in found.points:
        if p.fixed or p.name in ("A", "B"):
            continue
        off = found.at(p.name) - np.array(TRUE_XY[p.name])
        assert off @ np.linalg.solve(found.cov_of(p.name), off) < 13.8  # 99.9 % of a χ² with two degrees


def test_nothing_in_it_is_a_real_persons() -> None:
    assert demo_job_text().startswith("# An invented job: no real pool, address, person or product.")
