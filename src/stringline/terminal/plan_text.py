"""A plan for a terminal: the verdict first, then why, then the numbers. Plain words carry every meaning."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from stringline.finding import finding
from stringline.judging import Check, Stage
from stringline.lengths import Unit
from stringline.plan import Needs, Plan
from stringline.sheets.cards import list_sheet
from stringline.sheets.index import sheets_of
from stringline.sheets.levels import levels_sheet
from stringline.sheets.model import Sheet
from stringline.sheets.needs import needs_blocks
from stringline.sheets.sources import assumptions_sheet
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


# Cards to fill in, and what has a verb of its own: the survey's whole sheet, how it rolls, the lead, why it is crooked.
_ELSEWHERE = ("today", "survey", "fit-out", "run-in", "mechanics", "lead", "diagnosis")


def plan_text(plan: Plan) -> str:
    """Write the whole plan: what must be right today, what is contradicted, then every section that it has."""
    voice = Voice(plan.job.unit)
    title = voice.say(finding("plan.sheet.of-job", job=plan.job.name, stage=plan.job.stage))
    out = [heading(title), *blocks_lines(today_sheet(plan, voice, later=False).blocks)]
    if isinstance(plan.survey, Survey) and plan.survey.suspects:
        out += ["", *blocks_lines(suspect_blocks(plan.survey, voice))]
    sheets = [sheet for _, sheet in sheets_of(plan, voice, without=_ELSEWHERE)]
    if plan.assumptions:
        sheets.append(assumptions_sheet(plan, voice))
    return "\n".join([*out, "", sheets_text(sheets)])


def cuts_text(plan: Plan) -> str:
    """Write the cut list with every card: working, steps and cautions."""
    voice = Voice(plan.job.unit)
    verdict = verdict_blocks(plan.held, plan.job.stage, voice)
    if isinstance(plan.cuts, Needs):
        title = voice.say(finding("cuts.list-title", job=plan.job.name))
        return sheet_text(Sheet("cuts", title, (*verdict, *needs_blocks(plan.cuts, voice))))
    return sheet_text(list_sheet(plan, plan.cuts, verdict, voice))
