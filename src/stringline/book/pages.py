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
from stringline.book.pages_words import UNIT_WORDS
from stringline.cutting.result import CutList
from stringline.drawing.canvas import Drawing
from stringline.form.result import Fit
from stringline.layout.result import Layout
from stringline.lead.result import Diagnosis, LeadPrediction
from stringline.mechanics.result import Mechanics
from stringline.ordering.result import Order
from stringline.plan import Plan
from stringline.sheets.cards import cut_cards, index_sheet
from stringline.sheets.diagnosis import diagnosis_sheet
from stringline.sheets.difference import difference_sheet
from stringline.sheets.ends import ends_sheet
from stringline.sheets.fill_in import fit_out_sheet, run_in_sheet
from stringline.sheets.labels import cut_labels
from stringline.sheets.layout import layout_sheet
from stringline.sheets.lead import lead_sheet
from stringline.sheets.levels import levels_sheet
from stringline.sheets.mechanics import mechanics_sheet
from stringline.sheets.order import order_sheet
from stringline.sheets.remedy import remedy_sheet
from stringline.sheets.sources import sources_sheet
from stringline.sheets.survey import survey_sheet
from stringline.sheets.taping import taping_sheet
from stringline.sheets.today import today_sheet
from stringline.sheets.voice import Voice
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
    voice = Voice(job.unit)
    sheets: list[dict[str, Any]] = []
    if drawn is None:
        tell("drawings")
        drawn = drawings(plan, size)
    tell("what must be right today")
    sheets.append(sheet_data(today_sheet(plan, voice), drawn))
    if plan.taping is not None:
        sheets.append(sheet_data(taping_sheet(plan.taping, voice), drawn))
    if isinstance(plan.survey, Survey):
        sheets.append(sheet_data(survey_sheet(plan.survey, voice), drawn))
    if plan.levelled is not None:
        sheets.append(sheet_data(levels_sheet(plan.levelled, voice), drawn))
    layout, system = plan.layout, plan.system
    lead = plan.lead if isinstance(plan.lead, LeadPrediction) else None
    if isinstance(layout, Layout) and "plan" in drawn:
        fit = plan.fit if isinstance(plan.fit, Fit) else None
        sheets.append({**sheet_data(layout_sheet(layout, fit, voice), drawn), **beside(drawn["plan"], size)})
    if plan.remedy is not None and (remedy := remedy_sheet(plan.remedy, voice)) is not None:
        sheets.append(sheet_data(remedy, drawn))
    if plan.ends:
        sheets.append(sheet_data(ends_sheet(plan.ends, voice), drawn))
    if isinstance(plan.order, Order):
        tell("order sheet")
        sheets.append(sheet_data(order_sheet(plan, voice), drawn))
    if plan.difference is not None:
        sheets.append(sheet_data(difference_sheet(plan, voice), drawn))
    if isinstance(plan.cuts, CutList) and plan.cuts.pieces:
        tell("cut cards and labels")
        cards = cut_cards(plan, plan.cuts, voice)
        index = index_sheet(plan.cuts, cards, plan.sticks, voice)
        sheets.append(cards_data(index, cards, drawn, size.free_mm, voice))
        shown = revision_shown(revision)
        sheets.append(labels_data(cut_labels(plan, plan.cuts, one_line(revision), shown, voice)))
    if isinstance(layout, Layout) and system is not None:
        tell("cards to fill in")
        sheets.append(sheet_data(fit_out_sheet(job.as_built, layout, system, voice), drawn))
        sheets.append(sheet_data(run_in_sheet(job.run, layout, system, lead, voice), drawn))
    if isinstance(plan.mechanics, Mechanics):
        sheets.append(sheet_data(mechanics_sheet(plan.mechanics, voice), drawn))
    if lead is not None:
        sheets.append(sheet_data(lead_sheet(lead, voice), drawn))
    if isinstance(plan.diagnosis, Diagnosis):
        sheets.append(sheet_data(diagnosis_sheet(plan.diagnosis, voice), drawn))
    tell("sources")
    sheets.append(sheet_data(sources_sheet(plan, sheets, voice), drawn))
    data = {
        "job": one_line(job.name),
        "block": {
            "job": shortened(job.name, size.width_mm - LEFT - RIGHT - 61.0, 5.8, lines=2),
            "catalogue": shortened("none named" if system is None else system.name, 40.0, 6.0, lines=2),
            "revision": shortened(revision, 10.5, 6.0, lines=1),
        },
        "stage": job.stage.value,
        "units": UNIT_WORDS[job.unit],
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
