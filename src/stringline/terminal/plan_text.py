"""A plan for a terminal: the verdict first, then why, then the numbers. Plain words carry every meaning."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from stringline.cutting.result import CutList
from stringline.finding import finding
from stringline.judging import Check, Stage
from stringline.lengths import Unit, format_length
from stringline.plan import Needs, Plan
from stringline.quantities import (
    as_read,
    decimal,
    length,
    odds,
    small,
    spread,
)
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
from stringline.sheets.taping import taping_sheet
from stringline.sheets.today import brief_table, today_sheet, verdict_blocks
from stringline.sheets.voice import Voice
from stringline.survey.levels.falls import Levelled
from stringline.survey.result import Survey, Suspect
from stringline.terminal.lines import heading, table
from stringline.terminal.render import blocks_lines, sheet_text
from stringline.worked import Kind

if TYPE_CHECKING:
    from stringline.survey.design.untaped import Taping

DASH = "–"
READING_WORDS = (
    "residual: adjusted less read. r: how far the other readings check this one, 0 not at all, 1 wholly.",
    "w: the residual in its own σ; beyond ± 3.3 the others contradict it. slip seen from: a smaller slip stays hidden.",
)


def survey_text(name: str, survey: Survey, checks: Sequence[Check], stage: Stage, unit: Unit) -> str:
    """Write the survey: what is wrong first, then readings, points and what to tape next."""
    voice = Voice(unit)
    held = [c for c in checks if c.stops and c.stage.rank <= stage.rank]
    out = [heading(f"{name} {DASH} survey"), *blocks_lines(verdict_blocks(held, stage, voice))]
    for suspect in survey.suspects:
        out += ["", *suspect_lines(suspect, unit)]
    others = brief_table("checks", [c for c in checks if c not in held], voice)
    out += [
        "",
        *([] if others is None else blocks_lines([others])),
        "",
        *_notes(Voice(unit).all(survey.notes)),
        *readingtable(survey, unit),
        "",
        *pointtable(survey, unit),
    ]
    if survey.next_tapes:
        out += ["", "Tape next:"]
        say = Voice(unit).say
        out += [
            f"  {t.frm} to {t.to}, about {format_length(t.expected_m, unit)}: {say(t.buys)}" for t in survey.next_tapes
        ]
    elif survey.freedom > 0 and not survey.suspects and survey.global_test.statistic <= survey.global_test.high:
        out += ["", "Tape next: nothing. Every reading is checked by the others; more tapes would change little."]
    if survey.levels is not None:
        out += ["", sheet_text(levels_sheet(Levelled(survey.levels, "points", None), Voice(unit)))]
    return "\n".join(out)


def taping_text(name: str, taping: Taping, unit: Unit) -> str:
    """Write what to tape."""
    voice = Voice(unit)
    title = voice.say(finding("taping.sheet.of-job", job=name))
    return sheet_text(replace(taping_sheet(taping, voice), title=title))


def plan_text(plan: Plan) -> str:
    """Write the whole plan."""
    unit = plan.job.unit
    out = [
        heading(f"{plan.job.name} {DASH} plan at stage '{plan.job.stage.value}'"),
        *blocks_lines(today_sheet(plan, Voice(unit)).blocks),
    ]
    if plan.taping is not None:
        return "\n".join([*out, "", sheet_text(taping_sheet(plan.taping, Voice(unit)))])
    if isinstance(plan.survey, Survey):
        for suspect in plan.survey.suspects:
            out += ["", *suspect_lines(suspect, unit)]
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


def suspect_lines(s: Suspect, unit: Unit) -> list[str]:
    """What was read, what the others expect, the likely slip and its odds; nothing is corrected."""
    voice = Voice(unit)
    lines = [
        f"RE-TAPE {s.frm} to {s.to}" + (f" (line {s.line})" if s.line is not None else ""),
        f"  read            {format_length(s.read_m, unit)}",
        f"  others expect   {format_length(s.expected_m, unit)} {spread(s.sigma_m, Kind.LENGTH, unit)}",
        f"  likely slip     {voice.say(s.slip)}, odds {odds(s.odds)}",
    ]
    if s.likely_m is not None:
        lines.append(f"  without it      {format_length(s.likely_m, unit)}")
    if s.rivals:
        lines.append(f"  can't be told from {', '.join(voice.all(s.rivals))}")
    if s.would_tell is not None:
        lines.append(f"  {voice.say(s.would_tell)}")
    lines.append("  The reading stays in the file as it was taken; nothing has been corrected.")
    return lines


def readingtable(survey: Survey, unit: Unit) -> list[str]:
    """Readings as written, with adjusted value, residual, redundancy and standardised residual."""
    suspects = {(s.frm, s.to) for s in survey.suspects}
    rows = [
        (
            f"{t.frm}{DASH}{t.to}",
            as_read(t.text, unit),
            length(t.adjusted_m, unit),
            small(t.residual_m, unit, sign=True),
            f"{t.redundancy:.2f}",
            DASH if t.w is None else decimal(t.w, 2),
            DASH if t.smallest_slip_m is None else length(t.smallest_slip_m, unit),
            "<< re-tape" if (t.frm, t.to) in suspects else "",
        )
        for t in survey.tapes
    ]
    rows += [
        (
            Voice(unit).say(o.label),
            length(o.read_m, unit),
            length(o.adjusted_m, unit),
            small(o.residual_m, unit, sign=True),
            f"{o.redundancy:.2f}",
            DASH if o.w is None else decimal(o.w, 2),
            DASH if o.smallest_slip_m is None else length(o.smallest_slip_m, unit),
            "",
        )
        for o in survey.others
    ]
    out = ["Readings"]
    out += table(("line", "read", "adjusted", "residual", "r", "w", "slip seen from", ""), rows)
    out += [f"  {line}" for line in READING_WORDS]
    out += [f"  {s.frm}{DASH}{s.to}: {as_read(s.length.text, unit)} struck, {s.reason}" for s in survey.struck]
    return out


def pointtable(survey: Survey, unit: Unit) -> list[str]:
    """Points with coordinates and the standard error ellipse."""
    rows = [
        (
            p.name,
            length(p.x_m, unit),
            length(p.y_m, unit),
            small(p.sx_m, unit),
            small(p.sy_m, unit),
            "held fixed" if p.fixed else f"{small(p.ellipse.major_m, unit)} × {small(p.ellipse.minor_m, unit)}",
        )
        for p in survey.points
    ]
    return ["Points", *table(("name", "x", "y", "σx", "σy", "ellipse, 1 σ"), rows)]


def _notes(notes: Iterable[str]) -> list[str]:
    return [f"  note: {n}" for n in notes]
