"""Cards that a crew fills in: readings after the pour, and leads while the cover is run in."""

from __future__ import annotations

import math

from stringline.finding import Code, finding
from stringline.job.readings import AsBuilt, Run
from stringline.layout.result import Layout
from stringline.lead.result import LeadPrediction
from stringline.lengths import FOOT, Unit
from stringline.sheets.cautions import for_card
from stringline.sheets.lead import current_span, lead_span
from stringline.sheets.model import (
    Blanks,
    Block,
    Bullets,
    Cautions,
    Cell,
    Column,
    Group,
    Heading,
    Item,
    Picture,
    Sheet,
    Table,
    Text,
    Ticks,
)
from stringline.sheets.voice import Voice
from stringline.system.model import System
from stringline.worked import Kind

_MOST_STATIONS = 14  # rows of 7 mm that leave the card on one sheet
_BLANK = Cell(blank=True)
_RUN_IN_STEPS = tuple(
    f"fill.run-in.step-{name}" for name in ("water", "control", "closing", "opening", "current", "enter")
)


def fit_out_sheet(built: AsBuilt | None, layout: Layout, system: System, voice: Voice) -> Sheet:
    """Readings to take after the pour, with what is expected and allowed, and the order of work to tick off."""
    say, gauge_m = voice.say, layout.gauge.value
    taken = {} if built is None else dict(built.gauge)
    at = sorted(taken) if taken else stations(layout.channel.value, voice.unit, first=0.0)
    expected = voice.length(gauge_m)
    gauge = tuple(
        (Cell(voice.length(s), strong=True), expected, _length(taken.get(s), voice), _BLANK, _BLANK, _BLANK, _BLANK)
        for s in at
    )
    readings = tuple(
        (say(f"fill.fit-out.{name}"), _length(expected_m, voice), _length(last_m, voice), _BLANK, _BLANK)
        for name, expected_m, last_m in _readings(built, layout, system)
    )
    allowed = finding(
        "fill.fit-out.gauge-allowed", gauge_m=gauge_m, allowed=voice.amount(system.limits.gauge_m, Kind.LENGTH)
    )
    blocks: tuple[Block, ...] = (
        Cautions(for_card("fit-out", voice)),
        Heading(say("fill.fit-out.gauge"), joined=True),
        Text(say(allowed), "strong", joined=True),
        Text(say("fill.fit-out.gauge-how"), joined=True),
        Table(
            "gauge",
            (
                Column(say("fill.station"), width_mm=26.0),
                Column(say("fill.expected")),
                Column(say("fill.last")),
                Column(say("fill.fit-out.gauge-measured"), width_mm=38.0, paper=True),
                Column(say("fill.fit-out.off-string-left"), width_mm=24.0, paper=True),
                Column(say("fill.fit-out.off-string-right"), width_mm=24.0, paper=True),
                Column(say("fill.by"), width_mm=14.0, paper=True),
            ),
            gauge,
            note=say("fill.fit-out.off-string"),
            tall=True,
        ),
        Heading(say("fill.fit-out.readings"), joined=True),
        Table(
            "readings",
            (
                Column(say("fill.reading")),
                Column(say("fill.expected"), width_mm=30.0),
                Column(say("fill.last"), width_mm=30.0),
                Column(say("fill.measured"), width_mm=40.0, paper=True),
                Column(say("fill.by"), width_mm=18.0, paper=True),
            ),
            readings,
            tall=True,
        ),
        Group(
            (
                Heading(say("fill.fit-out.order-of-work")),
                Ticks(tuple(Item(t) for t in voice.all(_fit_out_steps(system))), numbered=True, columns=2),
                Blanks(tuple(voice.all(("fill.done-by", "fill.date")))),
            )
        ),
    )
    return Sheet("fit-out", say("fill.fit-out.title"), blocks)


def run_in_sheet(run: Run | None, layout: Layout, system: System, lead: LeadPrediction | None, voice: Voice) -> Sheet:
    """Leads and currents to take at stations, closing and opening, with room for what was seen.

    ``lead`` is what to expect; where it is known, its stations are the card's, each row has it to compare, and its
    drawing gives room to mark what was read.
    """
    say = voice.say
    leads = finding(
        "fill.run-in.how",
        drive=layout.drive_side,
        allowed=voice.amount(system.limits.lead_m, Kind.LENGTH),
        full_a=system.motor.full_load_a,
    )
    blocks: list[Block] = [
        Cautions(for_card("run-in", voice)),
        Heading(say("fill.run-in.before"), joined=True),
        Ticks(tuple(Item(t) for t in voice.all(_RUN_IN_STEPS)), numbered=True, columns=2),
        Heading(say("fill.run-in.leads"), joined=True),
        Text(say(leads), joined=True),
    ]
    taken = run is not None and bool(run.leads)
    if lead is not None:
        blocks.append(_expected_table(lead, voice))
    if lead is not None and taken:
        blocks.append(Heading(say("fill.run-in.taken"), joined=True))
    if lead is None or taken:
        blocks.append(_taken_table(run, layout, voice))
    if lead is not None:
        mark = Heading(say("fill.run-in.mark"), level=3, joined=True)
        blocks.append(Group((mark, Picture("lead"))))
    if run is not None and run.seen:
        blocks += [Heading(say("fill.run-in.seen"), joined=True), Bullets(run.seen)]
    blocks.append(Blanks(tuple(voice.all(("fill.run-in.held-by", "fill.run-in.taken-by", "fill.run-in.date-water")))))
    return Sheet("run-in", say("fill.run-in.title"), tuple(blocks))


def stations(length_m: float, unit: Unit, *, first: float | None) -> list[float]:
    """Even stations a tape finds at a glance: whole feet or half metres, the far end added."""
    base = FOOT if unit.in_feet else 0.5
    step = base
    for times in (1, 2, 4, 5, 10, 20, 50):
        step = base * times
        if length_m / step <= _MOST_STATIONS - 3 and (times >= 4 or not unit.in_feet):
            break
    count = math.floor(length_m / step + 1e-9)
    found = [k * step for k in range(1, count + 1)]
    if first is not None:
        found.insert(0, first)
    if length_m - found[-1] > step / 4:
        found.append(length_m)
    return found


def _readings(
    built: AsBuilt | None, layout: Layout, system: System
) -> tuple[tuple[str, float | None, float | None], ...]:
    """Name, length expected and length read last of everything but the gauge."""
    diagonal = math.hypot(layout.gauge.value, layout.channel.value)
    inside = layout.gauge.value + 2.0 * system.housing.inside_beyond_track_m
    left = right = across = back = housed = clear = opening = None
    if built is not None:
        left, right = built.channel_left_m, built.channel_right_m
        across, back = built.diagonals_m if built.diagonals_m is not None else (None, None)
        housed, clear, opening = built.housing_inside_m, built.fascia_clear_m, built.lid_opening_m
    return (
        ("channel-left", layout.channel.value, left),
        ("channel-right", layout.channel.value, right),
        ("diagonal-from-left", diagonal, across),
        ("diagonal-from-right", diagonal, back),
        ("housing", inside, housed),
        ("fascia", None, clear),
        ("lid", None, opening),
    )


def _fit_out_steps(system: System) -> tuple[Code, ...]:
    track, rope, edge = system.track, system.rope, system.leading_edge
    return (
        "fill.fit-out.step-swept",
        "fill.fit-out.step-string",
        "fill.fit-out.step-enter",
        finding("fill.fit-out.step-tracks", into_m=track.into_housing_m),
        finding("fill.fit-out.step-wedges", short_m=system.wedge.stop_short_m),
        finding("fill.fit-out.step-pins", hole_m=track.pin_hole_m),
        "fill.fit-out.step-ropes",
        finding("fill.fit-out.step-hem", hem_m=system.fabric.lead_in_m),
        finding("fill.fit-out.step-ends", screw_m=edge.screw_from_inner_end_m, pilot_m=edge.pilot_drill_m),
        finding("fill.fit-out.step-cut-ropes", low_m=rope.cut_station_low_m, high_m=rope.cut_station_high_m),
        "fill.fit-out.step-pivots",
    )


def _expected_table(lead: LeadPrediction, voice: Voice) -> Table:
    say = voice.say
    columns = (
        Column(say("fill.station"), width_mm=23.0),
        Column(say("fill.run-in.closing-expected")),
        Column(say("fill.run-in.closing"), width_mm=24.0, paper=True),
        Column(say("fill.run-in.opening-expected")),
        Column(say("fill.run-in.opening"), width_mm=24.0, paper=True),
        Column(say("fill.run-in.current"), width_mm=23.0),
        Column(say("fill.run-in.current-read"), width_mm=18.0, paper=True),
    )
    rows = tuple(
        (
            Cell(voice.length(r.station_m), strong=True),
            lead_span(r.closing_low_m, r.closing_high_m, voice),
            _BLANK,
            lead_span(r.opening_low_m, r.opening_high_m, voice),
            _BLANK,
            current_span(r, voice),
            _BLANK,
        )
        for r in lead.card
    )
    return Table("expected", columns, rows, note=say("fill.run-in.expected"), tall=True)


def _taken_table(run: Run | None, layout: Layout, voice: Voice) -> Table:
    """What was read so far, every lead that is missing a box."""
    say = voice.say

    def put(text: str) -> Cell:
        return Cell(text, strong=True) if text else _BLANK

    if run is not None and run.leads:
        read = [(r.station_m, _length(r.closing_m, voice), _length(r.opening_m, voice), r.current_a) for r in run.leads]
    else:
        read = [(s, "", "", None) for s in stations(layout.travel.value, voice.unit, first=None)]
    rows = tuple(
        (
            Cell(voice.length(s), strong=True),
            put(closing),
            put(opening),
            put("" if amps is None else voice.amount(amps, Kind.CURRENT)),
            _BLANK,
            _BLANK,
        )
        for s, closing, opening, amps in read
    )
    columns = (
        Column(say("fill.station"), width_mm=30.0),
        Column(say("fill.run-in.closing")),
        Column(say("fill.run-in.opening")),
        Column(say("fill.run-in.current-closing")),
        Column(say("fill.run-in.current-opening"), paper=True),
        Column(say("fill.run-in.what-was-seen"), width_mm=40.0, paper=True),
    )
    return Table("taken", columns, rows, tall=True)


def _length(m: float | None, voice: Voice) -> str:
    return "" if m is None else voice.length(m)
