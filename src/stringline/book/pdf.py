"""Set a book's data as PDF with Typst: tagged (PDF/UA-1), archival (PDF/A-2a), the same bytes for the same input."""

from __future__ import annotations

import datetime
import json
from importlib.resources import as_file, files
from typing import Any


class BookError(RuntimeError):
    """The typesetter refused the book or warned about it; the message says why."""


def pdf(data: dict[str, Any], *, today: datetime.date) -> bytes:
    """Compile the book. ``today`` is its date in the metadata; raises BookError on an error or any warning."""
    out = _compile("book.typ", {"book": data}, today, format="pdf", pdf_standards=["a-2a", "ua-1"])
    assert isinstance(out, bytes)
    return out


def card_svg(card: dict[str, Any], title: str, *, width_mm: float, today: datetime.date) -> str:
    """One cut card of a book's data as a picture, its letters as outlines; raises BookError as :func:`pdf` does."""
    data = {"card": card, "title": title, "width": width_mm}
    out = _compile("card.typ", {"card": data}, today, format="svg")
    assert isinstance(out, bytes)
    return out.decode()


def _compile(main: str, inputs: dict[str, Any], today: datetime.date, **how: Any) -> object:
    import typst

    moment = datetime.datetime(today.year, today.month, today.day, tzinfo=datetime.UTC)
    with (
        as_file(files("stringline.book") / "typeset") as templates,
        as_file(files("font_source_sans_pro") / "files") as fonts,
    ):
        # Only this font: a character that it lacks is an error here, never a silent substitute.
        found = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(fonts)])
        try:
            out, warnings = typst.compile_with_warnings(
                str(templates / main),
                root=str(templates),
                font_paths=found,
                ignore_system_fonts=True,
                # Names travel as JSON values, so that markup in them stays inert.
                sys_inputs={key: json.dumps(value, ensure_ascii=False) for key, value in inputs.items()},
                timestamp=moment,
                **how,
            )
        except typst.TypstError as error:
            raise BookError(f"{error.message}\n{error.diagnostic}") from error
    if warnings:
        raise BookError("; ".join(w.message for w in warnings))
    return out
