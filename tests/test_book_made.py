"""The book's sheets on what is bought and made: order readiness, what the pour changed, sticks, void cards."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from book_reader import squeezed, text_of
from stringline.book.pages import book_data
from stringline.book.pdf import pdf
from stringline.demo import demo_job_text
from stringline.job.read import read_job
from stringline.lengths import Unit
from stringline.nesting.diagram import Span, Strip
from stringline.plan import Plan, plan
from stringline.sheets.pictures.draw_sticks import sticks_drawing
from stringline.sheets.voice import Voice
from stringline.system.read import load_system

DAY = datetime.date(2026, 5, 4)
PLACED = (
    '\n[order]\ndate = "2026-05-01"\nmark = "abc123"\nfigures = { cover_width = "17\' 0\\"", drum = "18\' 5\\"" }\n'
)


def made(*, built: bool = True, gauge: str = "", more: str = "") -> Plan:
    """The demo without its slip; ``gauge`` stands for the first gauge as built."""
    text = demo_job_text().replace('["2", "4", "40\' 9\\""]', '["2", "4", "40\' 3\\""]')
    if gauge:
        text = text.replace('["0", "18\' 9\\""]', f'["0", "{gauge}"]')
    if not built:
        text = text[: text.index("# After the pour")].replace('"fit-out"', '"order"')
    job = read_job(text + more, "job")
    return plan(job, load_system(job.system))


def sheet(of: Plan, kind: str) -> dict[str, Any]:
    return next(s for s in book_data(of, today=DAY)["sheets"] if s.get("key", s["kind"]) == kind)


def test_before_the_order_the_order_sheet_says_how_likely_it_fits() -> None:
    ready = sheet(made(built=False), "order")["ready"]
    assert ready["why"].startswith("Order now")
    assert ready["choices"][0]["title"] == "Order now"
    assert ready["choices"][0]["all"] == "over 99.9 %"
    assert sheet(made(), "order")["ready"] is None
    assert sheet(made(built=False, more=PLACED), "order")["ready"] is None


def test_an_order_that_changed_is_loud_on_the_order_and_the_difference_sheet() -> None:
    found = made(built=False, more=PLACED)
    assert found.held
    for kind in ("order", "difference"):
        assert sheet(found, kind)["changed"].startswith("THE ORDER HAS CHANGED since it went out: cover width")
    assert "today's plan is" in sheet(found, "difference")["basis"]


def test_the_difference_sheet_names_each_part_and_the_void_cards_by_what_they_said() -> None:
    found = made(gauge="18' 9 1/2\\\"")
    page = sheet(found, "difference")
    lines = {x["item"]: x for x in page["lines"]}
    assert lines["Drum"]["does"] == "Take up"
    assert lines["Drum"]["sign"] == "pass"
    assert lines["Track, left"]["does"] == "Trim"
    void = {v["mark"]: v for v in page["void"]}
    cards = {c["mark"]: c for c in sheet(found, "cards")["cards"]}
    for mark, row in void.items():
        assert row["old"] != row["new"] or mark in ("T-L", "T-R")
        assert row["old"] in cards[mark]["void"]
    assert cards["CW CL"]["void"] == ""


def test_the_book_prints_them_and_the_drum_is_told_once() -> None:
    found = made(gauge="18' 9 1/2\\\"")
    text = squeezed(" ".join(text_of(pdf(book_data(found, today=DAY, revision="B"), today=DAY))))
    for words in ("What the pour changed", "Void cards", "Sticks of the tracks", "VOID: the card T-L"):
        assert squeezed(words) in text
    assert squeezed("its ends have room for that. Leave it at") in text
    assert squeezed("Cut the drum tube to") not in text


def test_a_stick_is_drawn_with_its_pieces_in_their_places() -> None:
    spans = (
        Span(0.0, 2.0, "piece", key="track-left"),
        Span(2.0, 0.5, "scrap", "nesting.scrap"),
        Span(2.5, 3.0, "piece", key="track-right"),
    )
    strip = Strip(5.5, spans, left_end=True, right_end=True)
    drawing = sticks_drawing((strip, strip), {"track-left": "T-L-1", "track-right": "T-R-1"}, Voice(Unit.M), 170.0)
    assert drawing.paper_size_mm[0] == 170.0
    assert "stick 5.500 m gives T-L-1, 2.000 m, scrap 0.500 m, T-R-1, 3.000 m" in drawing.alt
    with pytest.raises(ValueError, match="no stick"):
        sticks_drawing((), {}, Voice(Unit.M), 170.0)
