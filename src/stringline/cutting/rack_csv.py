"""The firm's rack as a list in CSV: offcuts of track that kept one factory end, each with the label chalked on it."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from stringline.faults import Fault, Faults
from stringline.lengths import FOOT_M, INCH_M, Unit, format_length
from stringline.nesting.stock_csv import cells, is_blank, length_of

COLUMNS = ("label", "length", "count", "profile")
MOST = 2000
_FORMULA = ("=", "+", "-", "@")
_STEPS = {
    Unit.FT_IN: INCH_M / 16,
    Unit.FT: FOOT_M / 200,
    Unit.M: Fraction(1, 1000),
    Unit.MM: Fraction(1, 1000),
}


@dataclass(frozen=True, slots=True)
class RackPiece:
    """One offcut. ``text`` is its length as written; ``profile`` is "" where the rack holds one profile only."""

    label: str
    length_m: float
    text: str
    profile: str = ""


def read_rack(text: str, document: str, unit: Unit) -> tuple[RackPiece, ...]:
    """Read the list: columns ``length`` and, where wanted, ``label``, ``count`` and ``profile``.

    A row with a count above 1 stands for so many alike; an empty count is 1. Pieces without a label get one. Empty
    lines and lines that begin with # are left alone. Raises Faults with every fault, each with its line.
    """
    faults: list[Fault] = []
    lines = text.removeprefix("\ufeff").splitlines()
    first = next((i for i, line in enumerate(lines) if not is_blank(line)), None)
    if first is None:
        raise Faults(document, [Fault("empty", "rack", "the list is empty", "begin with the line label,length,count")])
    mark = max(",;\t", key=lines[first].count)
    heading = [h.strip().casefold() for h in cells(lines[first], mark)]
    if "length" not in heading:
        wrong, right = "the heading has no column 'length'", "begin with the line label,length,count"
        raise Faults(document, [Fault("missing", "rack", wrong, right, first + 1)])
    found: list[RackPiece] = []
    for n, line in enumerate(lines[first + 1 :], first + 2):
        if is_blank(line):
            continue
        row = cells(line, mark)
        if len(row) > len(heading):
            wrong = f"the line has {len(row)} cells under {len(heading)} headings"
            faults.append(Fault("item-count", "rack", wrong, "put a text that holds a comma in quotes", n))
            continue
        found += _pieces(dict(zip(heading, row, strict=False)), unit, n, faults)
    labels = [p.label for p in found if p.label]
    for label in sorted({x for x in labels if labels.count(x) > 1}):
        wrong = f"'{label}' stands on two pieces"
        faults.append(Fault("name-twice", "rack.label", wrong, "give every piece a label of its own"))
    if len(found) > MOST:
        faults.append(Fault("out-of-range", "rack", f"more than {MOST} pieces", "leave the shortest ones out"))
    if faults:
        raise Faults(document, faults)
    return _labelled(found)


def rack_csv(pieces: Iterable[RackPiece]) -> str:
    """The list as text, longest first within a profile; :func:`read_rack` reads it back to the same pieces."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for p in sorted(pieces, key=lambda p: (p.profile, -p.length_m, p.label)):
        writer.writerow([p.label, p.text, 1, p.profile])
    return out.getvalue()


def rack_after(
    rack: Sequence[RackPiece], used: Iterable[str], back: Mapping[str, Sequence[float]], unit: Unit
) -> tuple[tuple[RackPiece, ...], tuple[RackPiece, ...]]:
    """The rack without the pieces whose labels are ``used`` and with what comes back; and what came back, labelled.

    ``back`` are lengths in metres by profile; they are written down to the unit's step, never up.
    """
    gone = set(used)
    kept = [p for p in rack if p.label not in gone]
    named = any(p.profile for p in rack) or len(back) > 1
    new = [
        RackPiece("", m, format_length(_down(m, unit), unit), profile if named else "")
        for profile, lengths in back.items()
        for m in sorted(lengths, reverse=True)
    ]
    whole = _labelled([*rack, *new])  # a label is never given twice, not even one that is on a piece just cut up
    fresh = whole[len(rack) :]
    return (*kept, *fresh), fresh


def _pieces(row: Mapping[str, str], unit: Unit, line: int, faults: list[Fault]) -> list[RackPiece]:
    before = len(faults)
    raw = row.get("length", "").strip()
    length = length_of(raw, unit, "rack.length", line, faults)
    if length is not None and length == 0:
        faults.append(Fault("zero-length", "rack.length", "the length is nothing", "write a length above 0", line))
    text = row.get("count", "").strip() or "1"
    if not (text.isascii() and text.isdigit() and len(text) < 5):
        faults.append(Fault("wrong-type", "rack.count", f"'{text}' is not a count", "write a whole number", line))
    label = row.get("label", "").strip()
    for key in ("label", "profile"):
        if row.get(key, "").strip()[:1] in _FORMULA:
            wrong = f"'{row[key].strip()}' would be taken for a formula in a spreadsheet"
            faults.append(Fault("bad-name", f"rack.{key}", wrong, "begin it with a letter or a number", line))
    count = int(text) if text.isascii() and text.isdigit() and len(text) < 5 else 0
    if label and count > 1:
        wrong = f"one label, '{label}', for {count} pieces"
        faults.append(Fault("name-twice", "rack.label", wrong, "write a line for each, or leave the label empty", line))
    if length is None or len(faults) > before:
        return []
    written = format_length(length, unit) if raw.replace(".", "", 1).isdigit() else raw
    return [RackPiece(label, float(length), written, row.get("profile", "").strip())] * count


def _down(m: float, unit: Unit) -> Fraction:
    """The length cut down to what the unit's tape reads, so that no piece is written longer than it is."""
    step = _STEPS[unit]
    return Fraction(m + 1e-7) // step * step


def _labelled(pieces: Sequence[RackPiece]) -> tuple[RackPiece, ...]:
    """Give each piece without a label the next free one: R1, R2, …"""
    taken = {p.label for p in pieces}
    last = max((int(x[1:]) for x in taken if x[:1] == "R" and x[1:].isascii() and x[1:].isdigit()), default=0)
    out = []
    for p in pieces:
        if not p.label:
            last += 1
        out.append(p if p.label else replace(p, label=f"R{last}"))
    return tuple(out)
