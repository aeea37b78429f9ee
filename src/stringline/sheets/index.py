"""Every sheet of a plan, in the order of a book: one line a sheet, None where the plan does not have it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from stringline.cutting.result import CutList
from stringline.form.result import Fit
from stringline.layout.result import Layout
from stringline.lead.result import Diagnosis, LeadPrediction
from stringline.mechanics.result import Mechanics
from stringline.ordering.result import Order
from stringline.plan import Needs, Plan
from stringline.sheets.cards import cut_cards, index_sheet
from stringline.sheets.diagnosis import diagnosis_sheet
from stringline.sheets.difference import difference_sheet
from stringline.sheets.ends import ends_sheet
from stringline.sheets.fill_in import fit_out_sheet, run_in_sheet
from stringline.sheets.layout import layout_sheet
from stringline.sheets.lead import lead_sheet
from stringline.sheets.levels import levels_sheet
from stringline.sheets.mechanics import mechanics_sheet
from stringline.sheets.model import Sheet
from stringline.sheets.order import order_sheet
from stringline.sheets.remedy import remedy_sheet
from stringline.sheets.survey import survey_sheet
from stringline.sheets.taping import taping_sheet
from stringline.sheets.today import today_sheet
from stringline.sheets.voice import Voice

Made = Sheet | None


def _layout(plan: Plan, voice: Voice) -> Made:
    if not isinstance(plan.layout, Layout):
        return None
    return layout_sheet(plan.layout, plan.fit if isinstance(plan.fit, Fit) else None, voice)


def _cuts(plan: Plan, voice: Voice) -> Made:
    if not isinstance(plan.cuts, CutList) or not plan.cuts.pieces:
        return None
    return index_sheet(plan.cuts, cut_cards(plan, plan.cuts, voice), plan.sticks, voice)


def _fit_out(plan: Plan, voice: Voice) -> Made:
    if plan.system is None or not isinstance(plan.layout, Layout):
        return None
    return fit_out_sheet(plan.job.as_built, plan.layout, plan.system, voice)


def _run_in(plan: Plan, voice: Voice) -> Made:
    if plan.system is None or not isinstance(plan.layout, Layout):
        return None
    lead = plan.lead if isinstance(plan.lead, LeadPrediction) else None
    return run_in_sheet(plan.job.run, plan.layout, plan.system, lead, voice)


def _lead(plan: Plan, voice: Voice) -> Made:
    return lead_sheet(plan.lead, voice, plan.tightened) if isinstance(plan.lead, LeadPrediction) else None


SHEETS: dict[str, Callable[[Plan, Voice], Made]] = {
    "today": today_sheet,
    "taping": lambda p, v: None if p.taping is None else taping_sheet(p.taping, v),
    "survey": lambda p, v: None if isinstance(p.survey, Needs) else survey_sheet(p.survey, v),
    "levels": lambda p, v: None if p.levelled is None else levels_sheet(p.levelled, v),
    "layout": _layout,
    "remedy": lambda p, v: None if p.remedy is None else remedy_sheet(p.remedy, v),
    "ends": lambda p, v: ends_sheet(p.ends, v) if p.ends else None,
    "order": lambda p, v: order_sheet(p, v) if isinstance(p.order, Order) else None,
    "difference": lambda p, v: None if p.difference is None else difference_sheet(p, v),
    "cuts": _cuts,
    "fit-out": _fit_out,
    "run-in": _run_in,
    "mechanics": lambda p, v: mechanics_sheet(p.mechanics, v) if isinstance(p.mechanics, Mechanics) else None,
    "lead": _lead,
    "diagnosis": lambda p, v: diagnosis_sheet(p.diagnosis, v) if isinstance(p.diagnosis, Diagnosis) else None,
}


def sheets_of(plan: Plan, voice: Voice, *, without: tuple[str, ...] = ()) -> Iterator[tuple[str, Sheet]]:
    """The sheets that a plan has, by key, each made when it is come to."""
    for key, make in SHEETS.items():
        if key not in without and (sheet := make(plan, voice)) is not None:
            yield key, sheet
