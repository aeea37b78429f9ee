"""Cuts, order and parts as CSV: RFC 4180, UTF-8, every length once in the job's unit and once in metres.

A text cell that a spreadsheet would take for a formula is written with an apostrophe before it.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from stringline.cutting.rack import written_on
from stringline.cutting.result import CutList, Parts
from stringline.job.lists import RackPiece
from stringline.lengths import Unit, format_length
from stringline.ordering.result import Order
from stringline.sheets.voice import Voice
from stringline.worked import Figure, Kind

CUT_COLUMNS = (
    "key", "mark", "name", "side", "count", "length", "length_m", "sigma_m", "basis", "stage", "material", "working",
)  # fmt: skip
ORDER_COLUMNS = (
    "key", "supplier", "item", "count", "figure", "amount", "value_si", "kind", "sigma_si", "working", "note",
)  # fmt: skip
PART_COLUMNS = ("key", "item", "count", "rule")
RACK_COLUMNS = ("label", "length", "count", "profile")

# Characters that begin a formula in one spreadsheet or another, full-width forms included.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def cuts_csv(cuts: CutList, unit: Unit) -> str:
    """One row a piece."""
    say = Voice(unit).say
    return _write(
        CUT_COLUMNS,
        (
            (
                p.key, p.mark, say(p.name), p.side, p.count, _amount(p.figure, unit), p.figure.value, p.figure.sigma,
                p.basis, p.when, say(p.material), _working(p.figure, unit),
            )
            for p in cuts.pieces
        ),
    )  # fmt: skip


def order_csv(order: Order, unit: Unit) -> str:
    """One row a figure of each line; a line without figures has one row."""
    rows: list[tuple[object, ...]] = []
    say = Voice(unit).say
    for line in order.lines:
        head = (line.key, say(line.supplier), say(line.item), line.count)
        note = say(line.note) if line.note else ""
        if not line.figures:
            rows.append((*head, "", "", None, "", None, "", note))
        rows.extend(
            (*head, say(f.label), _amount(f, unit), f.value, f.kind.value, f.sigma, _working(f, unit), note)
            for f in line.figures
        )
    return _write(ORDER_COLUMNS, rows)


def parts_csv(parts: Parts) -> str:
    """One row a part, with the rule that counts it."""
    say = Voice(Unit.M).say  # counts: no value in them is read in a unit
    return _write(PART_COLUMNS, ((p.key, say(p.item), round(p.count.value), _rule(p.count)) for p in parts.lines))


def rack_csv(pieces: Iterable[RackPiece], unit: Unit) -> str:
    """The rack, longest first within a profile; :func:`stringline.job.lists.read_rack` reads the same pieces back."""
    say = Voice(unit).say
    ordered = sorted(pieces, key=lambda p: (p.profile, -p.length_m, p.label))
    return _write(RACK_COLUMNS, ((p.label, say(written_on(p)), 1, p.profile) for p in ordered))


def cell(value: object) -> str:
    """One cell: numbers plain (never rounded), None empty, and text made inert."""
    if value is None:
        return ""
    if isinstance(value, int | float):
        return repr(value)
    text = str(value).replace("\x00", "")
    return (
        f"'{text}"
        if text.lstrip(" \u00a0\u3000\ufeff\u200b").startswith(_FORMULA) or text.startswith(_FORMULA)
        else text
    )


def _write(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    for row in rows:
        writer.writerow([cell(v) for v in row])
    return out.getvalue()


def _amount(figure: Figure, unit: Unit) -> str:
    if figure.kind is Kind.LENGTH:
        return format_length(figure.value, unit)
    return f"{figure.value:g}"


def _working(figure: Figure, unit: Unit) -> str:
    if figure.rule is not None:
        return Voice(unit).say(figure.rule)
    parts = []
    for n, term in enumerate(figure.terms):
        sign = "minus " if term.value < 0 else ("plus " if n else "")
        size = format_length(abs(term.value), unit) if figure.kind is Kind.LENGTH else f"{abs(term.value):g}"
        parts.append(f"{sign}{size} {Voice(unit).say(term.label)}")
    return ", ".join(parts)


def _rule(figure: Figure) -> str:
    say = Voice(Unit.M).say  # a count: no value in it is read in a unit
    return say(figure.rule) if figure.rule else ", ".join(f"{t.value:g} {say(t.label)}" for t in figure.terms)
