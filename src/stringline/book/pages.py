"""Turn a plan into the data of a book: a list of sheets, plain JSON, every text already in words."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from typing import Any

from stringline.book.blocks import sheet_data
from stringline.book.labels import labels_data, revision_shown
from stringline.book.pages_cards import cards_data
from stringline.book.pages_paper import BLOCK, BOTTOM, HEADING, INSET, LEFT, PAPERS, RIGHT, TOP
from stringline.book.pages_pictures import beside, drawings
from stringline.book.pages_text import one_line, printable, shortened
from stringline.cutting.result import CutList
from stringline.drawing.canvas import Drawing
from stringline.plan import Plan
from stringline.sheets.cards import cut_cards
from stringline.sheets.index import sheets_of
from stringline.sheets.labels import cut_labels
from stringline.sheets.sources import sources_sheet
from stringline.sheets.voice import Voice


def book_data(
    plan: Plan,
    *,
    paper: str = "letter",
    revision: str = "A",
    today: datetime.date,
    drawn: Mapping[str, Drawing] | None = None,
    progress: Callable[[str], None] | None = None,
) -> dict[str, Any]:
    """Everything that the book prints, as JSON-able data. Raises KeyError for an unknown paper.

    ``drawn`` holds the drawings where the caller has made them already (:func:`pages_pictures.drawings`).
    """
    size = PAPERS[paper]
    tell = progress or (lambda _: None)
    job = plan.job
    voice = Voice(job.unit)
    sheets: list[dict[str, Any]] = []
    if drawn is None:
        tell("drawings")
        drawn = drawings(plan, size)
    made: list[object] = []
    for key, sheet in sheets_of(plan, voice):
        tell(sheet.title)
        made.append(sheet)
        sheets.append(sheet_data(sheet, drawn))
        if key == "layout" and "plan" in drawn:
            sheets[-1] |= beside(drawn["plan"], size)
        if key == "cuts" and isinstance(plan.cuts, CutList):
            cards = cut_cards(plan, plan.cuts, voice)
            made.append(cards)
            sheets[-1] = cards_data(sheet, cards, drawn, size.free_mm, voice)
            labels = cut_labels(plan, plan.cuts, one_line(revision), revision_shown(revision), voice)
            sheets.append(labels_data(labels))
    sheets.append(sheet_data(sources_sheet(plan, made, voice), drawn))
    system = plan.system
    data = {
        "job": one_line(job.name),
        "block": {
            "job": shortened(job.name, size.width_mm - LEFT - RIGHT - 61.0, 5.8, lines=2),
            "catalogue": shortened("none named" if system is None else system.name, 40.0, 6.0, lines=2),
            "revision": shortened(revision, 10.5, 6.0, lines=1),
        },
        "stage": job.stage.value,
        "units": voice.say(f"common.unit.{job.unit.value}"),
        "revision": one_line(revision),
        "date": today.isoformat(),
        "invented": job.invented,
        "page": {
            "width": size.width_mm, "height": size.height_mm, "left": LEFT, "right": RIGHT, "top": TOP,
            "bottom": BOTTOM, "inset": INSET, "block": BLOCK, "heading": HEADING,
        },
        "sheets": sheets,
    }  # fmt: skip
    printed: dict[str, Any] = printable(data)
    # The document's own title is not lettered: it keeps the name as it was written.
    called = "".join(c for c in one_line(job.name) if c.isprintable()) or "unnamed"
    return {**printed, "called": called}
