"""The survey's sheet: what to tape again and why, which lines to tape next, then every reading and every point."""

from __future__ import annotations

from stringline.finding import Code, Finding, finding, in_turn
from stringline.judging import Verdict
from stringline.limits import BAARDA_W, ENOUGH_R
from stringline.sheets.model import (
    Align,
    Block,
    Bullets,
    Cell,
    Column,
    Depth,
    Heading,
    Headline,
    Notice,
    Picture,
    Sheet,
    Table,
    Text,
)
from stringline.sheets.quantities import as_read, decimal
from stringline.sheets.voice import Voice
from stringline.survey.result import NextTape, OtherReading, PointResult, Struck, Survey, Suspect, TapeResult


def survey_sheet(survey: Survey, voice: Voice) -> Sheet:
    """The verdict, the readings that the others contradict, tapes to take next, readings, points, struck readings."""
    say = voice.say
    blocks: list[Block] = [
        _headline(survey, voice),
        *suspect_blocks(survey, voice),
        Text(say(_test(survey)), depth=Depth.FULL),
        Picture("survey"),
        *_next(survey, voice),
    ]
    if notes := voice.all(survey.notes):
        blocks += [Heading(say("survey.sheet.cannot-tell"), joined=True), Bullets(tuple(notes))]
    blocks += [
        Heading(say("survey.sheet.readings"), joined=len(survey.tapes) < 3),
        _readings(survey, voice),
        Heading(say("survey.sheet.points"), joined=len(survey.points) < 3),
        _points(survey.points, voice),
    ]
    if survey.struck:
        blocks += [Heading(say("survey.sheet.struck"), joined=True), _struck(survey.struck, voice)]
    return Sheet("survey", say("survey.sheet.title"), tuple(blocks))


def suspect_blocks(survey: Survey, voice: Voice) -> list[Block]:
    """A box for each reading that the others contradict: what was read, what they expect, the likely slip, its odds."""
    blocks: list[Block] = [Notice(tuple(voice.all(_contradicted(s))), Verdict.FAIL, tick=True) for s in survey.suspects]
    return [*blocks, Text(voice.say("survey.sheet.not-corrected"), "note")] if blocks else []


def _headline(survey: Survey, voice: Voice) -> Headline:
    if survey.suspects:
        lines = tuple(_line(s.frm, s.to) for s in survey.suspects)
        return Headline(voice.say(finding("survey.sheet.re-tape-first", lines=lines)), Verdict.FAIL)
    if survey.freedom == 0:
        return Headline(voice.say("survey.sheet.unchecked"), Verdict.CANNOT_TELL)
    if survey.global_test.statistic > survey.global_test.high:
        return Headline(voice.say("survey.sheet.disagree"), Verdict.FAIL)
    return Headline(voice.say("survey.sheet.agree"), Verdict.PASS)


def _test(survey: Survey) -> Code:
    """All residuals together against what honest tapes scatter."""
    if survey.freedom == 0:
        return "survey.sheet.test-none"
    test = survey.global_test
    which = "inside" if test.pass_ else "above" if test.statistic > test.high else "below"
    return finding(
        "survey.sheet.test",
        n=survey.freedom,
        score=test.statistic,
        low=test.low,
        high=test.high,
        says=finding(f"survey.sheet.test-{which}"),
    )


def _contradicted(s: Suspect) -> tuple[Code, ...]:
    line = _line(s.frm, s.to)
    said: list[Code] = [
        finding("survey.sheet.re-tape", line=line)
        if s.line is None
        else finding("survey.sheet.re-tape-in-file", line=line, at=s.line),
        finding("survey.sheet.expected", read_m=s.read_m, expected_m=s.expected_m, sigma_m=s.sigma_m),
        finding("survey.sheet.slip", slip=s.slip)
        if s.likely_m is None
        else finding("survey.sheet.slip-showed", slip=s.slip, likely_m=s.likely_m),
        finding("survey.sheet.odds", odds=s.odds),
    ]
    if s.rivals:
        said.append(finding("survey.sheet.rivals", rivals=s.rivals))
    if s.would_tell is not None:
        said.append(finding("survey.sheet.would-tell", reading=s.would_tell))
    return tuple(said)


def _next(survey: Survey, voice: Voice) -> list[Block]:
    say = voice.say
    if not survey.next_tapes:
        settled = survey.global_test.statistic <= survey.global_test.high
        enough = survey.freedom > 0 and not survey.suspects and settled
        return [Text(say("survey.sheet.enough"))] if enough else []
    columns = (
        Column("", width_mm=9.0, paper=True),
        Column(say("survey.sheet.line"), width_mm=26.0),
        Column(say("survey.sheet.expect"), Align.RIGHT, 30.0),
        Column(say("survey.sheet.buys")),
        Column(say("survey.sheet.read"), width_mm=34.0, paper=True),
    )
    rows = tuple(_next_row(n, voice) for n in survey.next_tapes)
    return [Heading(say("survey.sheet.next"), joined=True), Table("next", columns, rows)]


def _next_row(n: NextTape, voice: Voice) -> tuple[str | Cell, ...]:
    line = Cell(voice.say(_line(n.frm, n.to)), strong=True)
    expected = Cell(voice.length(n.expected_m), value=n.expected_m)
    return Cell(tick=True), line, expected, voice.say(n.buys), Cell(blank=True)


def _readings(survey: Survey, voice: Voice) -> Table:
    say = voice.say
    columns = (
        Column(say("survey.sheet.line")),
        Column(say("survey.sheet.read"), Align.RIGHT, 27.0),
        Column(say("survey.sheet.adjusted"), Align.RIGHT, 27.0),
        Column(say("survey.sheet.residual"), Align.RIGHT, 20.0),
        Column(say("survey.sheet.r"), Align.RIGHT, 11.0),
        Column(say("survey.sheet.w"), Align.RIGHT, 13.0),
        Column(say("survey.sheet.shows"), Align.RIGHT, 20.0),
        Column("", width_mm=23.0),
    )
    doubted = {(frozenset((s.frm, s.to)), round(s.read_m, 9)) for s in survey.suspects}
    rows = [_tape(t, (frozenset((t.frm, t.to)), round(t.read_m, 9)) in doubted, voice) for t in survey.tapes]
    rows += [_row(say(o.label), voice.length(o.read_m), o, False, voice) for o in survey.others]
    bent = ("survey.sheet.bent",) if survey.suspects else ()
    note = say(in_turn("survey.sheet.columns", *bent))
    return Table("readings", columns, tuple(rows), note=note, small=True)


def _tape(t: TapeResult, suspect: bool, voice: Voice) -> tuple[str | Cell, ...]:
    read = as_read(t.text, voice.unit) if t.text else voice.length(t.read_m)
    return _row(voice.say(_line(t.frm, t.to)), read, t, suspect, voice)


def _row(name: str, read: str, o: TapeResult | OtherReading, suspect: bool, voice: Voice) -> tuple[str | Cell, ...]:
    shows, none = o.smallest_slip_m, voice.say("survey.sheet.none")
    return (
        Cell(name, strong=suspect),
        Cell(read, strong=suspect, value=o.read_m),
        Cell(voice.length(o.adjusted_m), strong=suspect, value=o.adjusted_m),
        Cell(voice.small(o.residual_m, sign=True), strong=suspect, value=o.residual_m),
        Cell(decimal(o.redundancy, 2), strong=suspect, value=o.redundancy),
        Cell(none if o.w is None else decimal(o.w, 1, sign=True), strong=suspect, value=o.w),
        Cell(none if shows is None else voice.small(shows), strong=suspect, value=shows),
        _flag(o, suspect, voice),
    )


def _flag(o: TapeResult | OtherReading, suspect: bool, voice: Voice) -> str | Cell:
    if suspect:
        return Cell(voice.say("survey.sheet.flag-re-tape"), Verdict.FAIL, strong=True)
    if o.w is None:
        return voice.say("survey.sheet.flag-unchecked")
    if abs(o.w) > BAARDA_W:
        return voice.say("survey.sheet.flag-strained")
    return voice.say("survey.sheet.flag-weak") if o.redundancy < ENOUGH_R else ""


def _points(points: tuple[PointResult, ...], voice: Voice) -> Table:
    say, right = voice.say, Align.RIGHT
    columns = (
        Column(say("survey.sheet.point")),
        Column(say("survey.sheet.x"), right, 30.0),
        Column(say("survey.sheet.y"), right, 30.0),
        Column(say("survey.sheet.sx"), right, 23.0),
        Column(say("survey.sheet.sy"), right, 23.0),
        Column(say("survey.sheet.ellipse"), right, 38.0),
    )
    return Table(
        "points", columns, tuple(_point(p, voice) for p in points), note=say("survey.sheet.sigmas"), small=True
    )


def _point(p: PointResult, voice: Voice) -> tuple[str | Cell, ...]:
    axes = finding("survey.sheet.axes", major_m=p.ellipse.major_m, minor_m=p.ellipse.minor_m)
    return (
        Cell(p.name, strong=True),
        Cell(voice.length(p.x_m), value=p.x_m),
        Cell(voice.length(p.y_m), value=p.y_m),
        Cell(voice.small(p.sx_m), value=p.sx_m),
        Cell(voice.small(p.sy_m), value=p.sy_m),
        voice.say("survey.sheet.held" if p.fixed else axes),
    )


def _struck(struck: tuple[Struck, ...], voice: Voice) -> Table:
    say = voice.say
    columns = (
        Column(say("survey.sheet.line"), width_mm=30.0),
        Column(say("survey.sheet.read"), Align.RIGHT, 34.0),
        Column(say("survey.sheet.why-struck")),
    )
    rows = tuple(
        (
            Cell(say(_line(s.frm, s.to)), struck=True),
            Cell(as_read(s.length.text, voice.unit), struck=True, value=s.length.m),
            s.reason,
        )
        for s in struck
    )
    return Table("struck", columns, rows)


def _line(a: str, b: str) -> Finding:
    return finding("survey.line", a=a, b=b)
