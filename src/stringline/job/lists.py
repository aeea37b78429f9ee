"""Lists in CSV that a person keeps beside the jobs: pieces and sticks to cut, and the firm's rack of offcuts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from stringline.document.csv_rows import Columns, Row, read_count, read_length, read_rows
from stringline.faults import Fault, Faults
from stringline.finding import finding
from stringline.lengths import Unit
from stringline.nesting.listed import Listed, in_the_way

MOST_ON_RACK = 2000
FORMULA = ("=", "+", "-", "@")  # what begins with one of these is a formula to a spreadsheet

_STOCK = Columns(needed=("name", "length"), known=("count",), example="name,length,count")
_RACK = Columns(
    needed=("length",), known=("label", "count", "profile"), example="label,length,count", may_be_empty=True
)


@dataclass(frozen=True, slots=True)
class StockLists:
    """Pieces, sticks and the width of the saw."""

    pieces: tuple[Listed, ...]
    sticks: tuple[Listed, ...]
    kerf_m: Fraction


@dataclass(frozen=True, slots=True)
class RackPiece:
    """One offcut of track that kept a factory end. ``text`` is its length as written on it, None for one just cut.

    ``profile`` is "" where the rack holds one profile only.
    """

    label: str
    length_m: float
    text: str | None
    profile: str = ""


def read_stock(pieces: str, sticks: str, kerf: str = "0", unit: Unit = Unit.MM) -> StockLists:
    """Read the two lists: columns ``name,length,count`` in any order; any other column is passed over.

    An empty count is 1 for a piece and no end for a stick. Lengths are text with a unit, or bare numbers in ``unit``.
    Raises Faults with every fault of both lists and of the kerf, and with why no plan can be made of them.

    >>> lists = read_stock("name,length,count\\nrail,4' 6 1/2\\",2\\n", "name,length\\nstick,20'\\n")
    >>> lists.pieces[0].length_m, lists.sticks[0].count
    (Fraction(13843, 10000), None)
    """
    faults: list[Fault] = []
    wanted = _listed("pieces", pieces, unit, faults, without=1)
    stock = _listed("sticks", sticks, unit, faults, without=None)
    width = read_length(kerf, unit, "kerf", None, faults)
    faults += in_the_way(wanted, stock)
    if faults or width is None:
        raise Faults("cutting-lists", faults, unit)
    return StockLists(wanted, stock, width)


def _listed(what: str, text: str, unit: Unit, faults: list[Fault], *, without: int | None) -> tuple[Listed, ...]:
    """The lines that can be read; ``without`` is the count of one that gives none."""
    found = []
    for row in read_rows(text, what, _STOCK, faults):
        before = len(faults)
        if not row["name"]:
            faults.append(Fault("empty", f"{what}.name", "lists.no-name", "lists.write-name", row.line))
        length = _above_zero(row, unit, what, faults)
        count = without
        if row["count"]:
            right = "lists.whole-number" if without is not None else "lists.whole-number-or-none"
            count = read_count(row["count"], f"{what}.count", row.line, faults, right)
        if length is not None and len(faults) == before:
            found.append(Listed(row["name"], length, count, row.line))
    return tuple(found)


def _above_zero(row: Row, unit: Unit, what: str, faults: list[Fault]) -> Fraction | None:
    length = read_length(row["length"], unit, f"{what}.length", row.line, faults)
    if length == 0:
        faults.append(Fault("zero-length", f"{what}.length", "lists.length-nothing", "lists.above-nothing", row.line))
    return length


def read_rack(text: str, document: str, unit: Unit) -> tuple[RackPiece, ...]:
    """Read the rack: column ``length`` and, where wanted, ``label``, ``count`` and ``profile``.

    A row with a count above 1 stands for so many alike; an empty count is 1. Pieces without a label get one. Raises
    Faults with every fault, each with its line.

    >>> [(p.label, p.length_m) for p in read_rack("label,length,count\\nA9,1.5 m,\\n,900 mm,2\\n", "rack", Unit.M)]
    [('A9', 1.5), ('R1', 0.9), ('R2', 0.9)]
    """
    faults: list[Fault] = []
    found = [p for row in read_rows(text, "rack", _RACK, faults) for p in _offcuts(row, unit, faults)]
    labels = [p.label for p in found if p.label]
    for label in sorted({x for x in labels if labels.count(x) > 1}):
        wrong = finding("lists.label-twice", label=label)
        faults.append(Fault("name-twice", "rack.label", wrong, "lists.own-label"))
    if len(found) > MOST_ON_RACK:
        wrong = finding("lists.rack-too-long", most=MOST_ON_RACK)
        faults.append(Fault("out-of-range", "rack", wrong, "lists.leave-shortest"))
    if faults:
        raise Faults(document, faults, unit)
    return labelled(found)


def _offcuts(row: Row, unit: Unit, faults: list[Fault]) -> list[RackPiece]:
    before = len(faults)
    length = _above_zero(row, unit, "rack", faults)
    count = read_count(row["count"] or "1", "rack.count", row.line, faults)
    for column in ("label", "profile"):
        if row[column].startswith(FORMULA):
            wrong = finding("lists.formula", text=row[column])
            faults.append(Fault("bad-name", f"rack.{column}", wrong, "lists.begin-plainly", row.line))
    if count is not None and count > MOST_ON_RACK:
        wrong = finding("lists.rack-too-long", most=MOST_ON_RACK)
        faults.append(Fault("out-of-range", "rack.count", wrong, "lists.leave-shortest", row.line))
    elif row["label"] and count is not None and count > 1:
        wrong = finding("lists.label-for-many", label=row["label"], count=count)
        faults.append(Fault("name-twice", "rack.label", wrong, "lists.line-each", row.line))
    if length is None or count is None or len(faults) > before:
        return []
    bare = row["length"].replace(".", "", 1).replace(",", "", 1).isdigit()
    text = " ".join([row["length"], unit.value]) if bare else row["length"]  # so that it reads the same in any job
    return [RackPiece(row["label"], float(length), text, row["profile"])] * count


def labelled(pieces: Iterable[RackPiece]) -> tuple[RackPiece, ...]:
    """Give each piece without a label the next free one: R1, R2, …

    >>> [p.label for p in labelled([RackPiece("R7", 2.0, "2 m"), RackPiece("", 1.5, None)])]
    ['R7', 'R8']
    """
    listed: Sequence[RackPiece] = tuple(pieces)
    last = max((int(p.label[1:]) for p in listed if _numbered(p.label)), default=0)
    out = []
    for p in listed:
        last += not p.label
        out.append(p if p.label else replace(p, label=f"R{last}"))
    return tuple(out)


def _numbered(label: str) -> bool:
    return label[:1] == "R" and label[1:].isascii() and label[1:].isdigit()
