"""The lead to expect: whether it stays within the catalogue's limit, what to expect where, and what would narrow it."""

from __future__ import annotations

from collections.abc import Iterable

from stringline.finding import Code, code_of, finding, in_turn, nested
from stringline.judging import Limit, Verdict, judge
from stringline.lead.result import CardRow, LeadPrediction
from stringline.sheets.cautions import for_card
from stringline.sheets.model import (
    Align,
    Block,
    Bullets,
    Cautions,
    Cell,
    Column,
    Depth,
    Heading,
    Headline,
    Sheet,
    Table,
    Text,
)
from stringline.sheets.voice import Voice
from stringline.worked import Figure, Kind

_SMALL = 0.02  # of the scatter; what is less makes no difference to anybody
_RARE = 0.05  # what five runs in a hundred do is left out of what is expected
_HEADLINES = {Verdict.PASS: "lead.sheet.within", Verdict.FAIL: "lead.sheet.over"}


def lead_sheet(found: LeadPrediction, voice: Voice, tightened: Figure | None = None) -> Sheet:
    """What to expect before the cover has run: highest lead, leads and currents over the stations, what makes them."""
    say = voice.say
    on_a_screen = Depth.SCREEN  # on paper they stand on the run-in card, beside boxes for what is read
    blocks: list[Block] = [
        _headline(found, voice, tightened),
        Cautions(for_card("run-in", voice)),
        Heading(say("lead.sheet.expected"), depth=on_a_screen, joined=True),
        Text(say("lead.sheet.sense"), depth=on_a_screen, joined=True),
        _expected(found, voice),
        Text(say("lead.sheet.on-the-card"), depth=Depth.PAPER),
        Heading(say("lead.sheet.shares"), depth=Depth.FULL, joined=True),
        _shares(found, voice),
    ]
    if found.worst.rule is not None:
        worked = finding("lead.sheet.worked", rule=nested(found.worst.rule))
        blocks.append(Text(say(worked), "note", depth=Depth.FULL))
    if notes := voice.all(beside_cautions(found.notes)):
        blocks += [Heading(say("lead.sheet.notes"), joined=True), Bullets(tuple(notes))]
    return Sheet("lead", say("lead.sheet.title"), tuple(blocks), joins=True)


def beside_cautions(notes: Iterable[Code]) -> list[Code]:
    """Notes for a sheet that has the cautions of running: what those say more fully is not said again."""
    return [n for n in notes if code_of(n) != "mechanics.nobody-in-the-water"]


def lead_span(low_m: float, high_m: float, voice: Voice) -> str:
    """From one lead to another, with their unit once."""
    low = voice.small(low_m, sign=True).split()[0]
    return voice.say(finding("lead.sheet.span", low=low, high_m=high_m))


def current_span(row: CardRow, voice: Voice) -> str:
    """The motor's current closing and opening, with their unit once."""
    return voice.say(finding("lead.sheet.currents", closing=row.closing_current_a, opening_a=row.opening_current_a))


def _headline(found: LeadPrediction, voice: Voice, tightened: Figure | None) -> Headline:
    """Judged as the check of the lead to expect is, and what would be worth the effort."""
    verdict = judge(found.worst.value, found.worst.sigma, Limit(high=found.limit_m))
    sign = Verdict.WATCH if verdict is Verdict.PASS and found.p_bind.value > _RARE else verdict
    said = finding(
        _HEADLINES.get(verdict, "lead.sheet.about"), worst=found.worst, limit=voice.amount(found.limit_m, Kind.LENGTH)
    )
    more: list[Code] = [finding("lead.sheet.chances", over=found.p_over, bind=found.p_bind)]
    if (effort := found.effort) is not None:
        part, advice = effort.share, nested(effort.advice)
        worth: Code = finding("lead.sheet.effort", label=nested(effort.label), part_share=part, advice=advice)
        if tightened is not None:
            worth = in_turn(worth, finding("lead.sheet.tightened", over=tightened))
        more.append(worth)
    return Headline(voice.say(said), sign, tuple(voice.all(more)))


def _expected(found: LeadPrediction, voice: Voice) -> Table:
    say, right = voice.say, Align.RIGHT
    columns = (
        Column(say("lead.sheet.station")),
        Column(say("lead.sheet.closing"), right, 42.0),
        Column(say("lead.sheet.opening"), right, 42.0),
        Column(say("lead.sheet.current"), right, 42.0),
    )
    rows = tuple(
        (
            Cell(voice.length(r.station_m), strong=True, value=r.station_m),
            lead_span(r.closing_low_m, r.closing_high_m, voice),
            lead_span(r.opening_low_m, r.opening_high_m, voice),
            current_span(r, voice),
        )
        for r in found.card
    )
    return Table("expected", columns, rows, depth=Depth.SCREEN)


def _shares(found: LeadPrediction, voice: Voice) -> Table:
    say = voice.say
    rows = tuple(
        (voice.cap(s.label), Cell(voice.amount(s.share, Kind.PROBABILITY), value=s.share), voice.cap(s.advice))
        for s in found.shares
        if s.share >= _SMALL
    )
    columns = (
        Column(say("lead.sheet.tolerance"), width_mm=52.0),
        Column(say("lead.sheet.share"), Align.RIGHT, 22.0),
        Column(say("lead.sheet.narrows")),
    )
    where = finding(
        "lead.sheet.shares-where", station_m=found.shares_at_m, way=nested(f"lead.way.{found.shares_direction}")
    )
    return Table("shares", columns, rows, note=say(where), small=True, depth=Depth.FULL)
