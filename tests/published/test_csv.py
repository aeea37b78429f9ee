"""Comma-separated values: the tables that a book leaves for a spreadsheet."""

from __future__ import annotations

import re

import pytest

from stringline.cutting.result import CutList, PartLine, Parts, Piece
from stringline.lengths import Unit
from stringline.ordering.result import Order, OrderLine
from stringline.sheets.voice import Voice
from stringline.tables.csv_tables import CUT_COLUMNS, cuts_csv, order_csv, parts_csv
from stringline.worked import Figure, Kind, Origin

# The grammar of section 2, with characters beyond ASCII let in as the charset parameter of section 3 allows.
_FIELD = r'(?:"(?:[^"]|"")*"|[^",\r\n]*)'
_RECORD = re.compile(rf"{_FIELD}(?:,{_FIELD})*\r\n")


def records(text: str) -> list[list[str]]:
    """Read a file by the grammar alone; raises AssertionError where it does not follow it."""
    found, at = [], 0
    while at < len(text):
        match = _RECORD.match(text, at)
        assert match is not None, text[at : at + 40]
        fields = re.findall(rf"({_FIELD})(?:,|\r\n)", match[0])
        found.append([f[1:-1].replace('""', '"') if f.startswith('"') else f for f in fields])
        at = match.end()
    return found


def piece(text: str) -> Piece:
    return Piece("key", "M", text, "left", 1, Figure.single("length", 1.5, Origin.MEASURED), "survey", text, ())


@pytest.mark.parametrize("text", ["aaa", 'b"bb', "b\r\nbb", "c,cc", " kept ", "", "é池"])
def test_fields_are_enclosed_and_doubled_as_the_rules_say(text: str) -> None:
    """Source: RFC 4180 (2005), Common Format and MIME Type for CSV Files, section 2, rules 4 to 7 — verified.

    The rules' own cases (a comma, a line break, a quotation mark, spaces kept) read back unchanged by a reader
    made from the grammar alone.
    """
    back = records(cuts_csv(CutList((piece(text),)), Voice(Unit.FT_IN)))
    assert back[1][CUT_COLUMNS.index("name")] == text
    assert back[1][CUT_COLUMNS.index("material")] == text


def test_every_record_has_as_many_fields_as_the_header() -> None:
    """Source: RFC 4180 (2005), section 2, rules 1, 3 and 4 — verified: CRLF, one header, equal fields."""
    cuts = CutList((piece("a,b"), piece('c"d'), piece("")))
    lines = (OrderLine("k", 'x "y", z', "s", 1, (piece("").figure,) * 2, "n\n"), OrderLine("k", "", "s", 2, ()))
    counts = tuple(PartLine("p", "q", Figure.single("n", 3.0, Origin.CHOSEN, kind=Kind.COUNT)) for _ in range(3))
    for text in (
        cuts_csv(cuts, Voice(Unit.M)),
        order_csv(Order("b", lines), Voice(Unit.FT_IN)),
        parts_csv(Parts(counts), Voice(Unit.M)),
    ):
        found = records(text)
        assert len(found) == 4
        assert {len(r) for r in found} == {len(found[0])}
