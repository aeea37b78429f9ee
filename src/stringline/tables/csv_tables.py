"""Cuts, order and parts as CSV: RFC 4180, UTF-8, every length once in the job's unit and once in metres.

The columns are named by keys, for programs and for reading back. A text cell that a spreadsheet would take for a
formula is written with an apostrophe before it.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from stringline.cutting.rack import written_on
from stringline.cutting.result import CutList, Parts
from stringline.finding import finding, nested
from stringline.job.lists import RackPiece
from stringline.lengths import format_length
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


def cuts_csv(cuts: CutList, voice: Voice) -> str:
    """One row a piece."""
    say = voice.say
    return _write(
        CUT_COLUMNS,
        (
            (
                p.key, p.mark, say(p.name), p.side, p.count, _amount(p.figure, voice), p.figure.value, p.figure.sigma,
                p.basis, p.when, say(p.material), _working(p.figure, voice),
            )
            for p in cuts.pieces
        ),
    )  # fmt: skip


def order_csv(order: Order, voice: Voice) -> str:
    """One row a figure of each line; a line without figures has one row."""
    rows: list[tuple[object, ...]] = []
    say = voice.say
    for line in order.lines:
        head = (line.key, say(line.supplier), say(line.item), line.count)
        note = say(line.note) if line.note else ""
        if not line.figures:
            rows.append((*head, "", "", None, "", None, "", note))
        rows.extend(
            (*head, say(f.label), _amount(f, voice), f.value, f.kind.value, f.sigma, _working(f, voice), note)
            for f in line.figures
        )
    return _write(ORDER_COLUMNS, rows)


def parts_csv(parts: Parts, voice: Voice) -> str:
    """One row a part, with the rule that counts it."""
    rows = ((p.key, voice.say(p.item), round(p.count.value), _rule(p.count, voice)) for p in parts.lines)
    return _write(PART_COLUMNS, rows)


def rack_csv(pieces: Iterable[RackPiece], voice: Voice) -> str:
    """The rack, longest first within a profile; :func:`stringline.job.lists.read_rack` reads the same pieces back."""
    say = voice.say
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


def _amount(figure: Figure, voice: Voice) -> str:
    return _size(figure.value, figure.kind, voice)


def _size(value: float, kind: Kind, voice: Voice) -> str:
    """A length in the person's unit, anything else as the bare number in SI."""
    return format_length(value, voice.unit) if kind is Kind.LENGTH else f"{value:g}"


def _working(figure: Figure, voice: Voice) -> str:
    if figure.rule is not None:
        return voice.say(figure.rule)
    parts = []
    for n, term in enumerate(figure.terms):
        code = "tables.minus" if term.value < 0 else "tables.plus" if n else "tables.term"
        size = _size(abs(term.value), term.kind or figure.kind, voice)
        parts.append(voice.say(finding(code, size=size, label=nested(term.label))))
    return ", ".join(parts)


def _rule(figure: Figure, voice: Voice) -> str:
    if figure.rule is not None:
        return voice.say(figure.rule)
    terms = (finding("tables.term", size=f"{t.value:g}", label=nested(t.label)) for t in figure.terms)
    return ", ".join(voice.all(terms))
