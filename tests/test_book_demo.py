"""From the demo's raw readings to its printed book, nothing made by hand on the way."""

from __future__ import annotations

import datetime
import re
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from book_reader import PT_MM, inside_frames, pages, squeezed, text_of
from sheet_reader import tables
from stringline.book.pages import book_data
from stringline.book.pages_paper import BLOCK, BOTTOM, LEFT, PAPERS, RIGHT, TOP
from stringline.book.pages_pictures import drawings
from stringline.book.pdf import pdf
from stringline.book.write import write_book
from stringline.cutting.result import CutList
from stringline.demo import demo_job_text
from stringline.job.read import read_job
from stringline.ordering.result import Order
from stringline.plan import Plan, plan
from stringline.sheets.order import order_sheet
from stringline.sheets.quantities import length
from stringline.sheets.voice import Voice
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
    assert squeezed(f"RE-TAPE {first.frm}–{first.to} (line {first.line} of") in whole
    assert squeezed(length(first.expected_m, demo().job.unit)) in whole


def test_every_check_stands_on_the_first_sheet_or_the_next() -> None:
    front = squeezed("".join(text_of(printed("letter"))[:2]))
    for check in demo().checks:
        assert squeezed(Voice(demo().job.unit).say(check.title)) in front


def test_every_length_step_and_caution_is_printed() -> None:
    made = demo()
    assert isinstance(made.cuts, CutList)
    assert isinstance(made.order, Order)
    whole = squeezed("".join(text_of(printed("letter"))))
    say = Voice(made.job.unit).say
    for piece in made.cuts.pieces:
        assert squeezed(length(piece.figure.value, made.job.unit)) in whole
        for said in (piece.name, *piece.steps, *piece.cautions):
            assert squeezed(say(said)) in whole
    for line in made.order.lines:
        assert squeezed(say(line.item)) in whole
        for figure in line.figures:
            assert squeezed(Voice(made.job.unit).amount(figure.value, figure.kind)) in whole


def title_of(page: Any) -> str:
    """The sheet's name in its title block."""
    x, y = (LEFT + 0.5) / PT_MM, (BOTTOM + 0.5) / PT_MM
    words = page.get_textpage().get_text_bounded(x, y, x + 70 / PT_MM, y + 5 / PT_MM)
    return str(words).strip()


def filled(page: Any) -> float:
    """How far down its free height a page is drawn on."""
    dpi = 36
    image = page.render(scale=dpi / 72, grayscale=True).to_numpy()
    mm = dpi / 25.4
    top, foot = int((TOP + 2) * mm), int(image.shape[0] - (BOTTOM + BLOCK + 1) * mm)
    inner = image[top:foot, int((LEFT + 2) * mm) : int(-(RIGHT + 2) * mm)]
    return float((inner < 200).any(axis=1).nonzero()[0].max() / (foot - top))


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_no_sheet_is_mostly_white_but_the_last_of_its_kind(paper: str) -> None:
    found = [(title_of(p), filled(p)) for p in pages(printed(paper))]
    assert len(found) <= 26
    for (title, share), (following, _) in pairwise(found):
        assert title
        if title == following:
            assert share > 0.5, title
    # Cut cards pack: no card sheet but the last is less than half full.
    cards = [share for title, share in found if title == "Cut cards"]
    assert min(cards[:-1]) > 0.6


def test_the_index_of_cut_cards_names_the_sheet_where_each_one_is() -> None:
    made = demo()
    assert isinstance(made.cuts, CutList)
    whole = text_of(printed("letter"))
    say = Voice(made.job.unit).say
    start = next(n for n, t in enumerate(whole) if "Mark" in t and "Count" in t and "Sheet" in t)
    for piece in made.cuts.pieces:
        name = re.escape(say(piece.name))
        row = re.search(rf"^{re.escape(piece.mark)} +{name} .*? (\d+) *$", whole[start].replace("\r", ""), re.M)
        assert row is not None, piece.name
        said = whole[int(row[1]) - 1]
        assert squeezed(say(piece.steps[0])) in squeezed(said), piece.name


def test_the_plan_is_drawn_as_large_as_its_sheet_allows() -> None:
    assert "(1:64)" in "".join(text_of(printed("letter")))
    width, height = PAPERS["letter"].free_mm
    drawn = drawings(demo(), PAPERS["letter"])["plan"]
    assert drawn.paper_size_mm[0] <= width
    assert 0.9 * height < drawn.paper_size_mm[1] <= height


def test_files_of_the_same_day_are_the_same_bytes(tmp_path: Path) -> None:
    one, two = ({p.name: p.read_bytes() for p in write_book(demo(), tmp_path / n, today=DAY)} for n in "ab")
    assert one == two


def test_the_order_says_what_changes_once_the_line_is_taped_again() -> None:
    """Second route: the same job with that reading struck, planned from the start."""
    made = demo()
    assert isinstance(made.survey, Survey)
    assert isinstance(made.order, Order)
    first = made.survey.suspects[0]
    tapes = tuple(
        replace(t, struck="misread") if {t.a, t.b} == {first.frm, first.to} and t.length.m == first.read_m else t
        for t in made.job.survey.tapes
    )
    again = plan(replace(made.job, survey=replace(made.job.survey, tapes=tapes)), made.system)
    assert isinstance(again.order, Order)
    unit = made.job.unit
    say = Voice(unit).say

    def said(order: Order) -> dict[str, str]:
        return {say(f.label): Voice(unit).amount(f.value, f.kind) for line in order.lines for f in line.figures}

    now, then = said(made.order), said(again.order)
    changed = {name: (now[name], then[name]) for name in now if now[name] != then[name]}
    found = tables(order_sheet(made, Voice(unit)))["retaped"]
    assert {row[0]: row[1:] for row in found.rows} == changed
    assert "Cover, length" in changed
    assert squeezed(changed["Cover, length"][1]) in squeezed("".join(text_of(printed("letter"))))
    assert "retaped" not in tables(order_sheet(again, Voice(unit)))
