"""Why the cover runs crooked: the likeliest cause and what to do first, every cause, what earlier runs say."""

from __future__ import annotations

from typing import Any

from stringline.finding import Code, finding, nested
from stringline.judging import Verdict
from stringline.lead.result import CauseFound, Diagnosis, LeadAfter, Lesson
from stringline.sheets.cautions import for_card
from stringline.sheets.figures import workings
from stringline.sheets.lead import beside_cautions
from stringline.sheets.model import (
    Align,
    Block,
    Bullets,
    Cautions,
    Cell,
    Column,
    Depth,
    Group,
    Heading,
    Headline,
    Item,
    Picture,
    Sheet,
    Table,
    Text,
    Ticks,
    Workings,
)
from stringline.sheets.voice import Voice
from stringline.worked import Kind

_MOST_ROWS = 10  # of the lead after the first action


def diagnosis_sheet(found: Diagnosis, voice: Voice) -> Sheet:
    """The verdict, what to do first, every cause with its chance and amount, and the reading that would tell more."""
    say = voice.say
    blocks: list[Block] = [_headline(found, voice), Cautions(for_card("run-in", voice))]
    if found.next_reading is not None:
        # On a screen the headline has said it; on paper it has a box to tick.
        to_take = finding("lead.sheet.next", reading=found.next_reading.text)
        blocks.append(Ticks((Item(say(to_take)),), depth=Depth.PAPER))
    blocks.append(Picture("crooked", say("lead.sheet.read-and-explained")))
    if found.causes:
        blocks += [Heading(say("lead.sheet.causes"), joined=True), _causes(found, voice)]
    if found.after is not None:
        blocks += [Heading(say("lead.sheet.after"), depth=Depth.FULL, joined=True), _after(found.after, voice)]
    for lesson in found.lessons:
        blocks.append(_lesson(lesson, voice))
    blocks += [
        Heading(say("lead.sheet.fit"), depth=Depth.FULL, joined=True),
        Workings(workings((found.misfit,), voice), depth=Depth.FULL),
    ]
    if notes := voice.all(beside_cautions(found.notes)):
        blocks += [Heading(say("lead.sheet.notes"), joined=True), Bullets(tuple(notes))]
    return Sheet("diagnosis", say("lead.sheet.why-title"), tuple(blocks))


def _headline(found: Diagnosis, voice: Voice) -> Headline:
    """Sure only where one cause stands out and the explanation meets the readings; a sure verdict names its action."""
    more: list[Code] = [finding("lead.sheet.fits" if found.fits else "lead.sheet.misfits", n=found.readings)]
    if found.first is not None and not found.sure and found.fits and found.other < found.first.main:
        which = "lead.sheet.first" if found.next_reading is None else "lead.sheet.if-it-stays"
        more.append(finding(which, action=found.first.action))
    if found.after is not None:
        more.append(finding("lead.sheet.worst-after", worst=found.after.worst))
    verdict = Verdict.WATCH if found.sure and found.fits else Verdict.CANNOT_TELL
    return Headline(
        voice.say(found.verdict),
        verdict,
        tuple(voice.all(more)),
        tick=found.first is not None and found.next_reading is None,
    )


def _causes(found: Diagnosis, voice: Voice) -> Table:
    say = voice.say
    columns = (
        Column(say("lead.sheet.main"), width_mm=20.0),
        Column(say("lead.sheet.cause")),
        Column(say("lead.sheet.present"), width_mm=24.0),
        Column(say("lead.sheet.amount"), width_mm=40.0),
    )
    return Table("causes", columns, tuple(_cause(c, voice) for c in found.causes))


def _cause(cause: CauseFound, voice: Voice) -> tuple[str | Cell, ...]:
    say, amount = voice.say, cause.amount
    do = say(finding("lead.sheet.do", action=cause.action))
    where = () if cause.station_m is None else (say(finding("lead.sheet.at", station_m=cause.station_m)),)
    size = finding("lead.sheet.size", size_m=amount.value) if amount.kind is Kind.LENGTH else None
    said = voice.amount(amount.value, amount.kind) if size is None else say(size)
    return (
        Cell(say(finding("lead.sheet.chance", main_share=cause.main)), strong=True, value=cause.main),
        Cell(
            say(cause.title),
            strong=True,
            notes=(*where, say(cause.why)),
            do=do,
        ),
        Cell(say(finding("lead.sheet.chance", main_share=cause.probability)), value=cause.probability),
        Cell(f"{said} {voice.spread(amount.sigma, amount.kind)}".rstrip(), value=amount.value),
    )


def _after(after: LeadAfter, voice: Voice) -> Table:
    rows = tuple(
        (
            Cell(voice.length(float(s)), strong=True),
            voice.small(float(closing), sign=True),
            voice.small(float(opening), sign=True),
            voice.spread(float(sigma)),
            Cell(blank=True),
        )
        for s, closing, opening, sigma in _thinned(after.station_m, after.closing_m, after.opening_m, after.sigma_m)
    )
    say, right = voice.say, Align.RIGHT
    columns = (
        Column(say("lead.sheet.station")),
        Column(voice.cap("lead.way.closing"), right, 34.0),
        Column(voice.cap("lead.way.opening"), right, 34.0),
        Column(say("common.spread"), right, 34.0),
        Column(say("lead.sheet.measured"), width_mm=34.0, paper=True),
    )
    return Table("after", columns, rows, tall=True, depth=Depth.FULL)


def _lesson(lesson: Lesson, voice: Voice) -> Group:
    """What an earlier action was expected to do, against what the run after it measured."""
    say, right = voice.say, Align.RIGHT
    columns = (
        Column(say("lead.sheet.station")),
        Column(say("lead.sheet.run"), width_mm=28.0),
        Column(say("lead.sheet.predicted"), right, 34.0),
        Column(say("lead.sheet.measured"), right, 34.0),
        Column(say("common.spread"), right, 34.0),
    )
    rows = tuple(
        (
            Cell(voice.length(float(s)), strong=True),
            say(nested(f"lead.way.{way}")),
            voice.small(float(predicted), sign=True),
            voice.small(float(measured), sign=True),
            voice.spread(float(sigma)),
        )
        for s, way, predicted, measured, sigma in zip(
            lesson.station_m, lesson.direction, lesson.predicted_m, lesson.measured_m, lesson.sigma_m, strict=True
        )
    )
    title = finding("lead.sheet.earlier", action=lesson.action)
    return Group((Heading(say(title)), Text(say(lesson.verdict), "strong"), Table("lesson", columns, rows)))


def _thinned(*columns: Any) -> list[tuple[Any, ...]]:
    """At most ten rows of columns of one length, evenly picked, both ends kept."""
    n = len(columns[0])
    picked = range(n) if n <= _MOST_ROWS else [round(k * (n - 1) / (_MOST_ROWS - 1)) for k in range(_MOST_ROWS)]
    return [tuple(column[k] for column in columns) for k in picked]
