"""The sheet of differences: designed, ordered and built side by side, what to do with each part, and void cards."""

from __future__ import annotations

from stringline.finding import code_of, finding, nested, within
from stringline.judging import Verdict
from stringline.ordering.result import Difference, Does, Reissued
from stringline.plan import Plan
from stringline.plan.checking import of_groups
from stringline.sheets.model import Align, Block, Bullets, Cell, Column, Heading, Headline, Notice, Sheet, Table, Text
from stringline.sheets.voice import Voice
from stringline.worked import Figure, Kind

_SIGNS = {
    Does.FITS: Verdict.PASS,
    Does.TAKE_UP: Verdict.PASS,
    Does.TRIM: Verdict.WATCH,
    Does.MEASURE: Verdict.CANNOT_TELL,
    Does.NOT_MEASURED: Verdict.NOT_MEASURED,
    Does.REORDER: Verdict.FAIL,
}
_WHOLE_ROWS = 24  # so many rows of void cards stay on one sheet of paper


def difference_sheet(plan: Plan, voice: Voice) -> Sheet:
    """The verdict, then each part as designed, ordered and needed now with what to do; then the cards that are void."""
    say, found = voice.say, plan.difference
    title = say("ordering.sheet.what-changed" if plan.job.as_built is not None else "ordering.sheet.what-was-ordered")
    if found is None:
        return Sheet("difference", title, (Headline(say("ordering.sheet.nothing-to-compare")),))
    loud = changed_notice(plan, voice)
    headline = Headline(say(found.verdict), _sign(found), (say(found.basis),))
    blocks: list[Block] = [*loud, headline, _lines(found, voice)]
    if found.reissued:
        blocks += _void(found.reissued, voice)
    # What the notice says already, part by part, is not said again.
    notes = [n for n in found.notes if not (loud and code_of(n) == "ordering.survey-changed")]
    if notes:
        blocks += [Heading(say("ordering.sheet.notes"), joined=True), Bullets(tuple(voice.all(notes)))]
    return Sheet("difference", title, tuple(blocks), verdict=headline.text)


def changed_notice(plan: Plan, voice: Voice) -> list[Block]:
    """What is wrong with the order that went out, so that nobody can miss it; nothing where nothing is."""
    for check in of_groups(plan, "ordered"):
        if check.code == "order-changed" and any(f.code == "check.order-moved" for f in within(check.action)):
            return [Notice((voice.say(check.action),), Verdict.FAIL)]
    return []


def _sign(found: Difference) -> Verdict:
    asked = {x.does for x in found.lines}
    if Does.REORDER in asked:
        return Verdict.FAIL
    return Verdict.CANNOT_TELL if asked & {Does.MEASURE, Does.NOT_MEASURED} else Verdict.PASS


def _lines(found: Difference, voice: Voice) -> Table:
    say = voice.say
    columns = (
        Column(say("ordering.sheet.part"), width_mm=35.0),
        Column(say("ordering.sheet.designed"), Align.RIGHT, 22.0),
        Column(say("ordering.sheet.ordered"), Align.RIGHT, 22.0),
        Column(say("ordering.sheet.needed-now"), Align.RIGHT, 22.0),
        Column(say("ordering.sheet.change"), Align.RIGHT, 17.0),
        Column(say("ordering.sheet.what-to-do"), below=True),
        Column("", Align.CENTER, 7.0, paper=True),
    )
    rows = tuple(
        (
            Cell(say(x.item), _SIGNS[x.does], strong=True),
            _value(x.designed, voice),
            _value(x.ordered, voice),
            _value(x.needed, voice, strong=True),
            _change(x.change, voice),
            say(finding("ordering.sheet.does", does=nested(x.does.word), says=nested(x.says))),
            Cell(tick=True),
        )
        for x in found.lines
    )
    return Table("difference", columns, rows, small=True)


def _void(reissued: tuple[Reissued, ...], voice: Voice) -> list[Block]:
    say = voice.say
    columns = (
        Column(say("ordering.sheet.mark"), width_mm=12.0),
        Column(say("ordering.sheet.piece")),
        Column(say("ordering.sheet.void"), Align.RIGHT, 20.0),
        Column(say("ordering.sheet.now"), Align.RIGHT, 22.0),
        Column("", Align.CENTER, 7.0, paper=True),
    )
    rows = tuple(
        (
            Cell(r.mark, strong=True),
            say(r.name),
            Cell(voice.amount(r.old.value, r.old.kind), struck=True, value=r.old.value),
            _value(r.new, voice, strong=True),
            Cell(tick=True),
        )
        for r in reissued
    )
    whole = len(rows) <= _WHOLE_ROWS
    return [
        Heading(say("ordering.sheet.void-cards"), joined=True),
        Text(say("ordering.sheet.every-earlier-card"), joined=whole),
        Table("void", columns, rows, small=True, abreast=2),
    ]


def _value(figure: Figure | None, voice: Voice, *, strong: bool = False) -> Cell:
    if figure is None:
        return Cell(voice.say("common.dash"))
    return Cell(voice.amount(figure.value, figure.kind), strong=strong, value=figure.value)


def _change(figure: Figure | None, voice: Voice) -> Cell:
    if figure is None:
        return Cell(voice.say("common.dash"))
    if figure.kind is Kind.LENGTH:
        return Cell(voice.small(figure.value, sign=True), value=figure.value)
    return Cell(voice.say(finding("ordering.sheet.count-change", count=figure.value)), value=figure.value)
