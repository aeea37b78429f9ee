"""The workbook of parts, order and cuts: it opens, says what the tables say, and is the same every time."""

from __future__ import annotations

import datetime
import io
import zipfile

import openpyxl
import pytest

from book_makers import bare, full
from stringline.cutting.result import PartLine, Parts
from stringline.sheets.words import chapter, english
from stringline.tables.csv_tables import CUT_COLUMNS, ORDER_COLUMNS, PART_COLUMNS
from stringline.tables.workbook import workbook
from stringline.worked import Figure, Kind, Origin

DAY = datetime.date(2026, 5, 4)


def made(plan: object) -> bytes:
    content = workbook(plan, DAY)  # type: ignore[arg-type]
    assert content is not None
    return content


def test_it_opens_and_holds_every_table() -> None:
    plan = full()
    book = openpyxl.load_workbook(io.BytesIO(made(plan)))
    assert book.sheetnames == ["Parts", "Order", "Cuts"]
    for name, columns in (("Parts", PART_COLUMNS), ("Order", ORDER_COLUMNS), ("Cuts", CUT_COLUMNS)):
        assert [c.value for c in book[name][1]] == [english(f"tables.column.{key}") for key in columns]
    assert book["Cuts"]["F1"].value == "Length"
    heads = {f"tables.column.{key}" for key in (*PART_COLUMNS, *ORDER_COLUMNS, *CUT_COLUMNS)}
    assert heads == {code for code in chapter("tables") if code.startswith("tables.column.")}
    assert isinstance(plan.parts, Parts)
    rows = list(book["Parts"].iter_rows(min_row=2, values_only=True))
    assert [(r[1], r[2]) for r in rows] == [(p.item, p.count.value) for p in plan.parts.lines]


def test_the_same_plan_and_day_give_the_same_bytes() -> None:
    assert made(full()) == made(full())
    assert workbook(full(), DAY + datetime.timedelta(days=1)) != made(full())


@pytest.mark.parametrize("name", ["=1+1", "@now", "+cmd|' /c calc'!A0", "-2", "a\x01b"])
def test_no_text_becomes_a_formula(name: str) -> None:
    count = Figure.single("Pins", 4.0, Origin.DERIVED, kind=Kind.COUNT)
    plan = full().changed(parts=Parts((PartLine("pin", name, count),)))
    content = made(plan)
    cell = openpyxl.load_workbook(io.BytesIO(content))["Parts"]["B2"]
    assert cell.data_type == "s"
    assert str(cell.value).lstrip("'") == name.replace("\x01", "")
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        assert b"<f>" not in archive.read("xl/worksheets/sheet1.xml")


def test_a_plan_without_tables_has_no_workbook() -> None:
    assert workbook(bare(), DAY) is None
