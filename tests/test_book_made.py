"""The book's sheets on what is bought and made: order readiness, what the pour changed, sticks, void cards."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from book_reader import squeezed, text_of
from sheet_reader import column, headline, said, tables
from sheet_reader import text_of as text_of_cell
from stringline.book.pages import book_data
from stringline.book.pdf import pdf
from stringline.demo import demo_job_text
from stringline.job.read import read_job
from stringline.judging import Verdict
from stringline.lengths import Unit
from stringline.nesting.diagram import Span, Strip
from stringline.ordering.result import Order
from stringline.plan import Plan, plan
from stringline.sheets.difference import difference_sheet
from stringline.sheets.model import Blanks, Cell, Notice, Sheet, Workings, walk
from stringline.sheets.order import order_sheet
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


def order(of: Plan) -> Sheet:
    return order_sheet(of, Voice(of.job.unit))


def difference(of: Plan) -> Sheet:
    return difference_sheet(of, Voice(of.job.unit))


def notices(sheet: Sheet) -> list[str]:
    return [line for b in walk(sheet.blocks) if isinstance(b, Notice) for line in b.lines]


def test_before_the_order_the_order_sheet_says_how_likely_it_fits() -> None:
    sheet = order(made(built=False))
    ready = tables(sheet)["ready"]
    assert "\nOrder now: over 99.9 % that all parts fit.\n" in said(sheet)
    assert column(ready)[0] == "Order now"
    assert column(ready, 1)[0] == "over 99.9 %"
    assert "ready" not in tables(order(made()))
    assert "ready" not in tables(order(made(built=False, more=PLACED)))


def test_costs_price_the_choices() -> None:
    plain = tables(order(made(built=False)))["ready"]
    priced = "\n[order]\nwrong_order_cost = 9000\nday_cost = 400\ndays_to_wait = 10\n"
    ready = tables(order(made(built=False, more=priced)))["ready"]
    assert len(ready.columns) == len(plain.columns) + 1
    assert column(ready, len(ready.columns) - 1)[-1] == "4000"


def test_an_order_that_changed_is_loud_on_the_order_and_the_difference_sheet() -> None:
    found = made(built=False, more=PLACED)
    assert found.held
    for sheet in (order(found), difference(found)):
        assert notices(sheet)[0].startswith("THE ORDER HAS CHANGED since it went out: cover width")
    assert headline(order(found)).verdict is Verdict.FAIL
    assert "today's plan is" in headline(difference(found)).more[0]
    assert notices(order(made())) == []


def test_each_supplier_has_a_table_its_workings_and_room_to_sign() -> None:
    found = made()
    sheet = order(found)
    assert isinstance(found.order, Order)
    lists = [t for key, t in tables(sheet).items() if key.startswith("order-")]
    assert [row[0] for t in lists for row in t.rows] != []
    assert sum(len(t.rows) for t in lists) == len(found.order.lines)
    assert len([b for b in walk(sheet.blocks) if isinstance(b, Blanks)]) == len(lists)
    worked = [w for b in walk(sheet.blocks) if isinstance(b, Workings) for w in b.figures]
    keys = {f.key for line in found.order.lines for f in line.figures}
    assert {w.key for w in worked} == keys
    both = next(w for w in worked if w.label == "Rope, left; Rope, right")
    assert len(both.rows) > 2


def test_the_difference_sheet_names_each_part_and_the_void_cards_by_what_they_said() -> None:
    found = made(gauge="18' 9 1/2\\\"")
    page = tables(difference(found))
    lines = {text_of_cell(row[0]): row for row in page["difference"].rows}
    assert text_of_cell(lines["Drum"][5]).startswith("Take up: ")
    assert isinstance(lines["Drum"][0], Cell)
    assert lines["Drum"][0].verdict is Verdict.PASS
    assert text_of_cell(lines["Track, left"][5]).startswith("Trim: ")
    void = {text_of_cell(row[0]): row for row in page["void"].rows}
    cards = {c["mark"]: c for c in sheet(found, "cards")["cards"]}
    for mark, row in void.items():
        old, new = text_of_cell(row[2]), text_of_cell(row[3])
        assert old != new or mark in ("T-L", "T-R")
        assert old in cards[mark]["void"]
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
