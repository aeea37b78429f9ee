"""Turn a plan into the data of a book: a list of sheets, plain JSON, every text already in words."""

from __future__ import annotations

import datetime
import unicodedata
from collections.abc import Callable, Mapping
from typing import Any

from stringline.book import lettering
from stringline.book.drawing import Drawing
from stringline.book.labels import labels_sheet
from stringline.book.pages_cards import cards_sheet
from stringline.book.pages_order import order_sheet
from stringline.book.pages_paper import BLOCK, BOTTOM, INSET, LEFT, PAPERS, RIGHT, TOP
from stringline.book.pages_pictures import drawings
from stringline.book.pages_plan import plan_sheet
from stringline.book.pages_run import fit_out_sheet, run_in_sheet
from stringline.book.pages_sources import sources_sheet
from stringline.book.pages_survey import survey_sheet
from stringline.book.pages_today import today_sheet
from stringline.book.pages_words import UNIT_WORDS
from stringline.cutting.result import CutList, Order
from stringline.layout.result import Layout
from stringline.plan import Plan
from stringline.survey.result import Survey


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
    sheets: list[dict[str, Any]] = []
    if drawn is None:
        tell("drawings")
        drawn = drawings(plan, size)
    tell("what must be right today")
    sheets.append(today_sheet(plan))
    if isinstance(plan.survey, Survey):
        sheets.append(survey_sheet(plan, plan.survey, drawn["survey"]))
    layout, system = plan.layout, plan.system
    if isinstance(layout, Layout) and "plan" in drawn:
        sheets.append(plan_sheet(plan, layout, drawn["plan"]))
    if isinstance(plan.order, Order):
        tell("order sheet")
        sheets.append(order_sheet(plan, plan.order))
    if isinstance(plan.cuts, CutList) and plan.cuts.pieces:
        tell("cut cards and labels")
        sheets.append(cards_sheet(plan, plan.cuts, size.free_mm))
        sheets.append(labels_sheet(plan, plan.cuts, revision))
    if isinstance(layout, Layout) and system is not None:
        tell("cards to fill in")
        sheets.append(fit_out_sheet(plan, layout, system))
        sheets.append(run_in_sheet(plan, layout, system))
    tell("sources")
    sheets.append(sources_sheet(plan, sheets))
    data = {
        "job": job.name,
        "stage": job.stage.value,
        "units": UNIT_WORDS[job.unit],
        "revision": revision,
        "date": today.isoformat(),
        "invented": job.invented,
        "catalogue": "" if plan.system is None else plan.system.name,
        "catalogue_invented": plan.system is not None and plan.system.invented,
        "page": {
            "width": size.width_mm, "height": size.height_mm, "left": LEFT, "right": RIGHT, "top": TOP,
            "bottom": BOTTOM, "inset": INSET, "block": BLOCK,
        },
        "sheets": sheets,
    }  # fmt: skip
    return printable(data)  # type: ignore[no-any-return]


def printable(value: Any) -> Any:
    """Make every text one that the book's font can set and a line can hold.

    A character that the font lacks is printed as its code point, so that a name stays tellable from another; control
    and direction characters are dropped; a word too long to break gets places to break at.
    """
    if isinstance(value, dict):
        return {k: (_in_svg(v) if k in ("svg", "qr") else printable(v)) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [printable(v) for v in value]
    if isinstance(value, str):
        return _breakable(_in_font(value))
    return value


def _in_svg(svg: str) -> str:
    return svg if svg.isascii() else _in_font(svg)


def _in_font(text: str) -> str:
    if text.isascii() and text.isprintable():
        return text
    kept = "".join(c if c.isprintable() else ("\n" if c == "\n" else " " if c.isspace() else "") for c in text)
    for c in lettering.missing(kept.replace("\n", "")):
        kept = kept.replace(c, _stand_in(c))
    return kept


def _stand_in(c: str) -> str:
    """A plain letter for a raised or lowered one that the font lacks; else the code point."""
    if unicodedata.decomposition(c).startswith(("<super>", "<sub>")):
        plain = unicodedata.normalize("NFKC", c)
        if not lettering.missing(plain):
            return plain
    return f"[U+{ord(c):04X}]"


def _breakable(text: str) -> str:
    if all(len(word) <= 28 for word in text.split()):
        return text
    return " ".join(
        "\u200b".join(w[k : k + 14] for k in range(0, len(w), 14)) if len(w) > 28 else w for w in text.split(" ")
    )
