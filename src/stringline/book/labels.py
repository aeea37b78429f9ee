"""QR labels: one for each thing cut, with the mark and length large and the same in a code."""

from __future__ import annotations

import io
from typing import Any

from stringline.book import pages_words as words
from stringline.book.pages_cards import stands_on
from stringline.book.pages_text import shortened
from stringline.cutting.result import CutList, Piece
from stringline.plan import Plan
from stringline.sheets.voice import Voice

MOST_OF_ONE = 24  # more pieces alike than this share one label that says how many

_SIDES = {"left": "left", "right": "right", "both": "left and right", "none": ""}


def labels_sheet(plan: Plan, cuts: CutList, revision: str) -> dict[str, Any]:
    """Labels in the order of the cut list, ready to be cut apart; further pieces alike have small ones at the end."""
    rows: list[dict[str, Any]] = []
    twins: list[dict[str, Any]] = []
    mask: int | None = None
    say = Voice(plan.job.unit).say
    for piece in cuts.pieces:
        copies = piece.count if piece.count <= MOST_OF_ONE else 1
        text = label_text(plan, piece, revision)
        code, mask = qr_svg(text, mask)
        label = {
            "mark": piece.mark,
            "length": words.amount(piece.figure.value, piece.figure.kind, plan.job.unit),
            "name": say(piece.name),
            "side": _SIDES.get(piece.side, piece.side),
            "basis": stands_on(piece),
            "text": text,
            "qr": code,
        }
        numbered = [{**label, "number": _number(piece, k, copies)} for k in range(copies)]
        rows.append(numbered[0])
        twins.extend(numbered[1:])
    return {
        "kind": "labels",
        "title": "Labels",
        "job-line": shortened(plan.job.name, 52.0, 5.5, lines=1),
        "revision-line": shortened(revision, 20.0, 6.8, lines=1),
        "labels": rows,
        "twins": twins,
    }


def label_text(plan: Plan, piece: Piece, revision: str) -> str:
    """What the code holds: ``stringline:job:piece:length:revision``, each part with its colons and % escaped."""
    length = words.amount(piece.figure.value, piece.figure.kind, plan.job.unit)
    parts = (plan.job.name, piece.key, length, revision)
    return ":".join(["stringline", *(part.replace("%", "%25").replace(":", "%3A") for part in parts)])


def qr_svg(text: str, mask: int | None = None) -> tuple[str, int]:
    """A QR code as SVG with one path, one unit a module, without a quiet zone (the label leaves it); and its mask.

    ``mask`` is one of a code's eight patterns, any of which reads. Without it the best is looked for, which takes
    longer than all the rest: labels of one book are so alike that the first one's will do for all.
    """
    import segno

    # A name in any script makes a long code; error level L keeps its modules large enough to read from a phone.
    error = "m" if len(text.encode()) <= 90 else "l"
    code = segno.make_qr(text, error=error, mask=mask, boost_error=False)
    out = io.BytesIO()
    code.save(out, kind="svg", border=0, xmldecl=False, svgns=True, nl=False, unit="mm")
    return out.getvalue().decode("utf-8"), code.mask


def _number(piece: Piece, index: int, copies: int) -> str:
    if piece.count == 1:
        return ""
    return f"{index + 1} of {piece.count}" if copies > 1 else f"{piece.count} alike"
