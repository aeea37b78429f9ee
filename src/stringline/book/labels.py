"""Labels as data of pages, each with its text in a QR code."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from stringline.book.pages_text import shortened
from stringline.sheets.labels import Label, Labels


def labels_data(made: Labels) -> dict[str, Any]:
    """Labels in the order of the cut list, ready to be cut apart; further pieces alike have small ones at the end."""
    codes: dict[str, str] = {}
    mask: int | None = None
    for label in made.labels:
        codes[label.text], mask = qr_svg(label.text, mask)

    def rows(labels: Sequence[Label]) -> list[dict[str, Any]]:
        return [{**asdict(label), "qr": codes[label.text]} for label in labels]

    return {
        "kind": "labels",
        "title": made.title,
        "note": made.note,
        "job-line": shortened(made.job, 52.0, 5.5, lines=1),
        "labels": rows(made.labels),
        "twins": rows(made.twins),
    }


def revision_shown(revision: str) -> str:
    """As much of a revision's mark as a label has room for."""
    return shortened(revision, 20.0, 6.8, lines=1)


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
