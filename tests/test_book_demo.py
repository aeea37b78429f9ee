"""From the demo's raw readings to its printed book, nothing made by hand on the way."""

from __future__ import annotations

import datetime
from functools import lru_cache
from pathlib import Path

import pytest

from book_reader import inside_frames, squeezed, text_of
from stringline.book.pages import book_data
from stringline.book.pdf import pdf
from stringline.book.write import write_book
from stringline.cutting.result import CutList, Order
from stringline.demo import demo_job_text
from stringline.job.read import read_job
from stringline.plan import Plan, plan
from stringline.quantities import amount, length
from stringline.survey.result import Survey
from stringline.system.read import load_system

DAY = datetime.date(2026, 5, 4)


@lru_cache(maxsize=1)
def demo() -> Plan:
    job = read_job(demo_job_text().encode(), "the demo")
    return plan(job, load_system(job.system, base_dir=Path()))


@lru_cache(maxsize=2)
def printed(paper: str) -> bytes:
    return pdf(book_data(demo(), paper=paper, today=DAY), today=DAY)


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_it_stays_inside_its_frames(paper: str) -> None:
    inside_frames(printed(paper), paper)


def test_it_names_the_misreading_and_the_reading_expected() -> None:
    survey = demo().survey
    assert isinstance(survey, Survey)
    assert survey.suspects
    first = survey.suspects[0]
    whole = squeezed("".join(text_of(printed("letter"))))
    assert squeezed(f"Re-tape {first.frm}–{first.to}.") in whole
    assert squeezed(length(first.expected_m, demo().job.unit)) in whole


def test_every_check_stands_on_the_first_sheet_or_the_next() -> None:
    front = squeezed("".join(text_of(printed("letter"))[:2]))
    for check in demo().checks:
        assert squeezed(check.title) in front


def test_every_length_step_and_caution_is_printed() -> None:
    made = demo()
    assert isinstance(made.cuts, CutList)
    assert isinstance(made.order, Order)
    whole = squeezed("".join(text_of(printed("letter"))))
    for piece in made.cuts.pieces:
        assert squeezed(length(piece.figure.value, made.job.unit)) in whole
        for said in (piece.name, *piece.steps, *piece.cautions):
            assert squeezed(said) in whole
    for line in made.order.lines:
        assert squeezed(line.item) in whole
        for figure in line.figures:
            assert squeezed(amount(figure.value, figure.kind, made.job.unit)) in whole


def test_files_of_the_same_day_are_the_same_bytes(tmp_path: Path) -> None:
    one, two = ({p.name: p.read_bytes() for p in write_book(demo(), tmp_path / n, today=DAY)} for n in "ab")
    assert one == two
