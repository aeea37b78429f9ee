"""The sheet of what to tape: where the baseline goes, and the lines in order with a box for the reading of each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stringline.finding import Code, finding, in_turn
from stringline.judging import Stage
from stringline.sheets.cautions import for_stage
from stringline.sheets.model import (
    Align,
    Blanks,
    Block,
    Bullets,
    Cautions,
    Cell,
    Column,
    Depth,
    Group,
    Heading,
    Notice,
    Picture,
    Sheet,
    Table,
    Text,
)
from stringline.sheets.quantities import roughly
from stringline.sheets.voice import Voice

if TYPE_CHECKING:
    from stringline.survey.design.taping_plan import TapingPlan
    from stringline.survey.design.untaped import Taping

_SPARE_ROWS = 2
_BLANKS = ("taping.sheet.taped-by", "taping.sheet.tape", "taping.sheet.date")


def taping_sheet(taping: Taping, voice: Voice) -> Sheet:
    """Where to set the baseline, what to pull, and what that will be worth."""
    say, plan = voice.say, taping.plan
    blocks: list[Block] = [
        Notice(tuple(voice.all((taping.where, _pull(plan), _worth(plan))))),
        Picture("taping", say("taping.sheet.places"), scaled=True, joined=True),
        Text(say("taping.sheet.signs"), "note", depth=Depth.PAPER),
        Heading(say("taping.sheet.lines"), joined=True),
        _lines(plan, voice),
        Text(
            say(finding("taping.sheet.in-the-job", a=plan.baseline[0], b=plan.baseline[1])),
            depth=Depth.SCREEN,
        ),
    ]
    if notes := voice.all(taping.notes):
        blocks.append(Bullets(tuple(notes)))
    blocks.append(Group((Cautions(for_stage(Stage.SURVEY, voice)), Blanks(tuple(voice.all(_BLANKS))))))
    return Sheet("taping", say("taping.sheet.title"), tuple(blocks))


def _pull(plan: TapingPlan) -> Code:
    lines = len(plan.lines)
    if plan.needed == lines:
        return finding("taping.sheet.pull", lines=lines)
    return finding("taping.sheet.pull-then-check", lines=lines, needed=plan.needed)


def _worth(plan: TapingPlan) -> Code:
    worst = max(plan.axis_m, key=lambda k: plan.axis_m[k])
    checked, alone_m = plan.checked_worst_m, plan.two_point_worst_m
    if plan.needed < len(plan.lines):
        worth = finding(
            "taping.sheet.worth-checked", point=worst, checked_m=checked, known_m=plan.worst_m, needed=plan.needed
        )
    else:
        worth = finding("taping.sheet.worth", point=worst, checked_m=checked)
    alone = () if alone_m is None else (finding("taping.sheet.two-stakes", alone_m=alone_m),)
    return in_turn(worth, *alone, finding("taping.sheet.weakest", r=plan.weakest_r))


def _lines(plan: TapingPlan, voice: Voice) -> Table:
    say, blank = voice.say, Cell(blank=True)
    columns = (
        Column(say("taping.sheet.number"), Align.RIGHT, 8.0),
        Column(say("taping.sheet.line"), width_mm=26.0),
        Column(say("taping.sheet.about"), Align.RIGHT, 26.0),
        Column(say("taping.sheet.why"), width_mm=25.0),
        Column(say("taping.sheet.read"), paper=True),
        Column(say("taping.sheet.read-again"), paper=True),
        Column(say("taping.sheet.by"), width_mm=16.0, paper=True),
    )
    rows = tuple(
        (
            str(n),
            Cell(say(finding("survey.line", a=x.frm, b=x.to)), strong=True),
            Cell(roughly(x.length_m, voice.unit), value=x.length_m),
            say("taping.sheet.checks" if x.check else "taping.sheet.needed"),
            *(blank,) * 3,
        )
        for n, x in enumerate(plan.lines, 1)
    )
    return Table("lines", columns, rows, note=say("taping.sheet.as-it-says"), tall=True, spare=_SPARE_ROWS)
