"""Lists in CSV, as people write them and as spreadsheets and instruments export them: the one reader of all of them.

The first line that says anything names the columns; commas, semicolons or tabs part the cells, whichever stands there
most often. Empty lines and lines that begin with # are left alone, and so is a byte-order mark. A cell in quotes keeps
the marks in it; an inch mark in a cell that does not begin with one stays.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from stringline.faults import Fault
from stringline.finding import Code, finding
from stringline.lengths import Length, LengthError, Unit, parse

MARKS = ",;\t"


@dataclass(frozen=True, slots=True)
class Columns:
    """What columns a list has.

    ``needed`` must be there. ``also`` are other names for a column. With ``passed_over`` any column beside those known
    and those passed over is a fault; None passes over all. ``example`` is a heading line to write. ``every_cell`` asks
    for a cell in every column of every row: a cell that was dropped shifts those behind it. A list that
    ``may_be_empty`` may have a heading alone.
    """

    needed: tuple[str, ...]
    known: tuple[str, ...]
    example: str
    also: Mapping[str, str] = field(default_factory=dict)
    passed_over: frozenset[str] | None = None
    every_cell: bool = False
    may_be_empty: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a list: its cells by column, without the spaces around them."""

    line: int
    cells: Mapping[str, str]

    def __getitem__(self, column: str) -> str:
        """The cell in a column; "" where the row has none."""
        return self.cells.get(column, "")


def read_rows(text: str, where: str, columns: Columns, faults: list[Fault]) -> list[Row]:
    """The rows of a list that can be read; what is wrong is added to ``faults``, each with its line.

    >>> told: list[Fault] = []
    >>> rows = read_rows("name;length\\nrail;1,5 m\\n", "pieces", Columns(("name",), ("length",), "name,length"), told)
    >>> rows[0].line, rows[0]["name"], rows[0]["length"], told
    (2, 'rail', '1,5 m', [])
    """
    lines = [(n, s) for n, s in enumerate(text.removeprefix("\ufeff").splitlines(), 1) if not _says_nothing(s)]
    if not lines:
        faults.append(Fault("csv-empty", where, "lists.nothing", finding("lists.begin-rows", example=columns.example)))
        return []
    first, heading = lines[0]
    mark = max(MARKS, key=heading.count)
    names = _named(_cells(heading, mark), columns, where, first, faults)
    if names is None:
        return []
    rows: list[Row] = []
    for n, line in lines[1:]:
        cells = _cells(line, mark)
        if len(cells) > len(names) or (columns.every_cell and len(cells) < len(names)):
            wrong = finding("lists.cells", count=len(cells), columns=len(names))
            faults.append(Fault("csv-cells", where, wrong, "lists.one-cell-each", n))
            continue
        rows.append(Row(n, {name: cell for name, cell in zip(names, cells, strict=False) if name is not None}))
    if len(lines) == 1 and not columns.may_be_empty:
        faults.append(Fault("csv-empty", where, "lists.only-heading", "lists.write-rows", first))
    return rows


def read_length(
    text: str, unit: Unit, where: str, line: int | None, faults: list[Fault], *, signed: bool = False
) -> Fraction | None:
    """The length in metres, exactly; None with a fault added where it cannot be read.

    ``unit`` is what a bare number counts in.

    >>> read_length("12' 1 1/2\\"", Unit.MM, "pieces.length", 3, [])
    Fraction(36957, 10000)
    """
    found = read_written(text, unit, where, line, faults, signed=signed)
    return None if found is None else found.exact_m


def read_written(
    text: str, unit: Unit, where: str, line: int | None, faults: list[Fault], *, signed: bool = False
) -> Length | None:
    """The length as it was written; None with a fault added where it cannot be read."""
    try:
        return parse(text, unit, signed=signed)
    except LengthError as why:
        faults.append(Fault("length", where, why.wrong, why.right, line))
        return None


def read_count(text: str, where: str, line: int, faults: list[Fault], right: Code = "lists.whole-number") -> int | None:
    """A whole number of 0 or more; None with a fault added where it is none.

    >>> read_count("22", "pieces.count", 2, [])
    22
    """
    if text.isascii() and text.isdigit() and len(text) < 10:
        return int(text)
    faults.append(Fault("wrong-type", where, finding("lists.no-count", text=text), right, line))
    return None


def _says_nothing(line: str) -> bool:
    return not line.strip(" " + MARKS) or line.lstrip().startswith("#")


def _cells(line: str, mark: str) -> list[str]:
    try:
        return [c.strip() for c in next(csv.reader(io.StringIO(line), delimiter=mark, skipinitialspace=True))]
    except csv.Error:  # a cell of more than 131,072 signs: whatever it is, it is no cell of a list
        return [c.strip() for c in line.split(mark)]


def _named(heading: list[str], columns: Columns, where: str, line: int, faults: list[Fault]) -> list[str | None] | None:
    """The column that each place of a row belongs to, None where it is passed over; None where one is missing."""
    known = {name: name for name in (*columns.needed, *columns.known)} | dict(columns.also)
    found: list[str | None] = []
    for i, name in enumerate(heading, 1):
        what = known.get(name.casefold())
        if what is None and columns.passed_over is not None and name.casefold() not in columns.passed_over:
            right = finding("lists.use-columns", columns=tuple(dict.fromkeys(known.values())))
            place = f"{where}[{i}]"
            faults.append(Fault("csv-column", place, finding("lists.unknown-column", name=name), right, line))
        elif what is not None and what in found:
            twice = finding("lists.column-twice", name=what)
            faults.append(Fault("csv-column", f"{where}[{i}]", twice, "lists.keep-one", line))
            what = None
        found.append(what)
    missing = tuple(c for c in columns.needed if c not in found)
    if missing:
        wrong = finding("lists.no-column", names=missing)
        faults.append(Fault("csv-column", where, wrong, finding("lists.begin-with", example=columns.example), line))
        return None
    return found
