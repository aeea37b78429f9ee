"""The CSV files: RFC 4180, nothing a spreadsheet would run, nothing rounded."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from book_makers import full, pieces
from stringline.cutting.result import CutList, Parts
from stringline.finding import finding
from stringline.lengths import Unit
from stringline.ordering.result import Order
from stringline.sheets.voice import Voice
from stringline.tables.csv_tables import CUT_COLUMNS, ORDER_COLUMNS, PART_COLUMNS, cell, cuts_csv, order_csv, parts_csv


def rows(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


def test_cuts_round_trip_with_exact_metres() -> None:
    made = rows(cuts_csv(CutList(pieces()), Voice(Unit.FT_IN)))
    assert tuple(made[0]) == CUT_COLUMNS
    assert [float(r[6]) for r in made[1:]] == [p.figure.value for p in pieces()]
    assert made[1][5] == "38' 9 7/8\""
    assert made[1][11].startswith('38\' 9 5/8" channel, housing face to far end, plus 1" past')


def test_order_and_parts_have_their_columns() -> None:
    plan = full()
    assert isinstance(plan.order, Order)
    assert isinstance(plan.parts, Parts)
    order = rows(order_csv(plan.order, Voice(Unit.M)))
    assert tuple(order[0]) == ORDER_COLUMNS
    assert [r[0] for r in order[1:]] == ["cover", "cover", "track-24", "lid"]
    assert order[1][5] == "5.700 m"
    parts = rows(parts_csv(plan.parts, Voice(Unit.M)))
    assert tuple(parts[0]) == PART_COLUMNS
    assert parts[1][:3] == ["pins", "Pins", "20"]


def test_lines_end_as_the_standard_says() -> None:
    text = cuts_csv(CutList(pieces()), Voice(Unit.FT_IN))
    assert text.count("\r\n") == text.count("\n") == len(pieces()) + 1


def test_formulas_are_written_as_text() -> None:
    for bad in ("=1+1", "+1", "-1", "@A1", "\t=1", " =1", "\u3000=1", "＝1", "\r=1"):
        assert cell(bad).startswith("'")
    assert cell("24' 0\"") == "24' 0\""
    assert cell(-0.5) == "-0.5"
    assert cell(None) == ""
    assert cell(0.0) == "0.0"


@settings(max_examples=60, derandomize=True, deadline=None)
@given(st.text(st.characters(codec="utf-8", exclude_characters="\x00"), max_size=30))
def test_any_text_comes_back_and_never_starts_a_formula(text: str) -> None:
    as_written = finding("common.as-written", text=text)
    piece = replace(pieces()[0], name=as_written, material=as_written)
    back = rows(cuts_csv(CutList((piece,)), Voice(Unit.FT_IN)))[1]
    assert back[2] in (text, f"'{text}")
    assert not back[2].lstrip().startswith(("=", "+", "-", "@"))
