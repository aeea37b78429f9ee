"""A plan for a terminal: the verdict first, then why, then the numbers. Plain words carry every meaning."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from stringline.cutting.result import CutList
from stringline.finding import finding
from stringline.judging import Check, Stage
from stringline.lengths import Unit
from stringline.plan import Needs, Plan
from stringline.sheets.cards import cut_cards, index_sheet, list_sheet
from stringline.sheets.difference import difference_sheet
from stringline.sheets.ends import ends_sheet
from stringline.sheets.layout import layout_sheet
from stringline.sheets.levels import levels_sheet
from stringline.sheets.model import Sheet
from stringline.sheets.needs import needs_blocks
from stringline.sheets.order import order_sheet
from stringline.sheets.remedy import remedy_sheet
from stringline.sheets.sources import sources_sheet
from stringline.sheets.survey import survey_sheet, suspect_blocks
from stringline.sheets.taping import taping_sheet
from stringline.sheets.today import brief_table, today_sheet, verdict_blocks
from stringline.sheets.voice import Voice
from stringline.survey.levels.falls import Levelled
from stringline.survey.result import Survey
from stringline.terminal.lines import heading
from stringline.terminal.render import blocks_lines, sheet_text, sheets_text

if TYPE_CHECKING:
    from stringline.survey.design.untaped import Taping


def survey_text(name: str, survey: Survey, checks: Sequence[Check], stage: Stage, unit: Unit) -> str:
    """Write the survey: whether the stage may go on and what holds it, the other checks, then the survey's sheet."""
    voice = Voice(unit)
    held = [c for c in checks if c.stops and c.stage.rank <= stage.rank]
    others = brief_table("checks", [c for c in checks if c not in held], voice)
    blocks = [*verdict_blocks(held, stage, voice), *([] if others is None else [others])]
    sheets = [survey_sheet(survey, voice)]
    if survey.levels is not None:
        sheets.append(levels_sheet(Levelled(survey.levels, "points", None), voice))
    head = heading(voice.say(finding("survey.sheet.of-job", job=name)))
    return "\n".join([head, *blocks_lines(blocks), "", sheets_text(sheets)])


def taping_text(name: str, taping: Taping, unit: Unit) -> str:
    """Write what to tape."""
    voice = Voice(unit)
    title = voice.say(finding("taping.sheet.of-job", job=name))
    return sheet_text(replace(taping_sheet(taping, voice), title=title))


def plan_text(plan: Plan) -> str:
    """Write the whole plan."""
    unit = plan.job.unit
    out = [
        heading(Voice(unit).say(finding("plan.sheet.of-job", job=plan.job.name, stage=plan.job.stage))),
        *blocks_lines(today_sheet(plan, Voice(unit)).blocks),
    ]
    if plan.taping is not None:
        return "\n".join([*out, "", sheet_text(taping_sheet(plan.taping, Voice(unit)))])
    if isinstance(plan.survey, Survey) and plan.survey.suspects:
        out += ["", *blocks_lines(suspect_blocks(plan.survey, Voice(unit)))]
    fit = None if isinstance(plan.fit, Needs) else plan.fit
    sheets = (
        None if plan.levelled is None else levels_sheet(plan.levelled, Voice(unit)),
        None if isinstance(plan.layout, Needs) else layout_sheet(plan.layout, fit, Voice(unit)),
        None if plan.remedy is None else remedy_sheet(plan.remedy, Voice(unit)),
        ends_sheet(plan.ends, Voice(unit)) if plan.ends else None,
    )
    out += [line for s in sheets if s is not None for line in ("", sheet_text(s))]
    if isinstance(plan.cuts, CutList):
        voice = Voice(unit)
        out += ["", sheet_text(index_sheet(plan.cuts, cut_cards(plan, plan.cuts, voice), plan.sticks, voice))]
    if not isinstance(plan.order, Needs):
        out += ["", sheet_text(order_sheet(plan, Voice(unit)))]
    if plan.difference is not None:
        out += ["", sheet_text(difference_sheet(plan, Voice(unit)))]
    out += ["", sheet_text(sources_sheet(plan, (), Voice(unit)))]
    return "\n".join(out)


def cuts_text(plan: Plan) -> str:
    """Write the cut list with every card: working, steps and cautions."""
    voice = Voice(plan.job.unit)
    verdict = verdict_blocks(plan.held, plan.job.stage, voice)
    if isinstance(plan.cuts, Needs):
        title = voice.say(finding("cuts.list-title", job=plan.job.name))
        return sheet_text(Sheet("cuts", title, (*verdict, *needs_blocks(plan.cuts, voice))))
    return sheet_text(list_sheet(plan, plan.cuts, verdict, voice))


def needs_lines(needs: Needs, unit: Unit) -> list[str]:
    """What a section lacks."""
    return blocks_lines(needs_blocks(needs, Voice(unit)))
