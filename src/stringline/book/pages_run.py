"""Cards that a crew fills in: readings after the pour, and leads while the cover is run in."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from stringline.book import pages_words as words
from stringline.book.pages_pictures import picture
from stringline.book.pages_running import expected
from stringline.drawing.canvas import Drawing
from stringline.layout.result import Layout
from stringline.lengths import FOOT, INCH_M, Unit
from stringline.plan import Plan
from stringline.sheets.cautions import for_card
from stringline.sheets.voice import Voice
from stringline.system.model import System

if TYPE_CHECKING:
    from stringline.lead.result import LeadPrediction

_MOST_STATIONS = 14  # rows of 8 mm that leave the card on one sheet


def fit_out_sheet(plan: Plan, layout: Layout, system: System) -> dict[str, Any]:
    """Readings to take after the pour, with what is expected and allowed, and the order of work to tick off."""
    unit = plan.job.unit
    built = plan.job.as_built
    taken = {} if built is None else dict(built.gauge)
    gauge = words.length(layout.gauge.value, unit)
    allowed = f"{words.PLUS_MINUS} {words.length(system.limits.gauge_m, unit)}"
    at = sorted(taken) if taken else _stations(layout.channel.value, unit, first=0.0)
    return {
        "kind": "fit-out",
        "title": "Fit-out card",
        "cautions": [asdict(i) for i in for_card("fit-out", Voice(plan.job.unit))],
        "gauge": {
            "expected": gauge,
            "allowed": allowed,
            "rows": [
                {"station": words.length(s, unit), "last": words.length(taken[s], unit) if s in taken else ""}
                for s in at
            ],
        },
        "readings": _readings(plan, layout, system),
        "steps": _fit_out_steps(system, unit),
    }


def run_in_sheet(
    plan: Plan,
    layout: Layout,
    system: System,
    lead: LeadPrediction | None = None,
    drawing: Drawing | None = None,
) -> dict[str, Any]:
    """Leads and currents to take at stations, closing and opening, with room for what was seen.

    ``lead`` is what to expect; where it is known, its stations are the card's and each row has it to compare.
    ``drawing`` shows it, with room to mark what was read.
    """
    unit = plan.job.unit
    leads = () if plan.job.run is None else plan.job.run.leads
    rows: list[dict[str, str]]
    if leads:
        rows = [
            {
                "station": words.length(r.station_m, unit),
                "closing": "" if r.closing_m is None else words.length(r.closing_m, unit),
                "opening": "" if r.opening_m is None else words.length(r.opening_m, unit),
                "current": "" if r.current_a is None else f"{words.decimal(r.current_a, 1)} A",
            }
            for r in leads
        ]
    else:
        at = _stations(layout.travel.value, unit, first=None)
        rows = [{"station": words.length(s, unit), "closing": "", "opening": "", "current": ""} for s in at]
    return {
        "kind": "run-in",
        "title": "Run-in card",
        "cautions": [asdict(i) for i in for_card("run-in", Voice(plan.job.unit))],
        "drive": plan.job.cover.drive_side if plan.job.cover is not None else layout.drive_side,
        "limit": words.length(system.limits.lead_m, unit),
        "full_load": f"{words.decimal(system.motor.full_load_a, 1)} A",
        "rows": rows,
        "expected": [] if lead is None else expected(lead, unit),
        "filled": bool(leads),
        "seen": [] if plan.job.run is None else list(plan.job.run.seen),
        "steps": _RUN_IN_STEPS,
        "picture": None if drawing is None else picture(drawing, id_prefix="lead"),
    }


def _readings(plan: Plan, layout: Layout, system: System) -> list[dict[str, str]]:
    unit, built = plan.job.unit, plan.job.as_built
    diagonal = math.hypot(layout.gauge.value, layout.channel.value)
    inside = layout.gauge.value + 2.0 * system.housing.inside_beyond_track_m
    left = right = across = back = housed = clear = opening = None
    if built is not None:
        left, right = built.channel_left_m, built.channel_right_m
        across, back = built.diagonals_m if built.diagonals_m is not None else (None, None)
        housed, clear, opening = built.housing_inside_m, built.fascia_clear_m, built.lid_opening_m
    taken: list[tuple[str, float | None, float | None]] = [
        ("Channel, left: housing face to far end", layout.channel.value, left),
        ("Channel, right: housing face to far end", layout.channel.value, right),
        ("Diagonal, housing left to far right", diagonal, across),
        ("Diagonal, housing right to far left", diagonal, back),
        ("Housing, inside length", inside, housed),
        ("Fascia, clear between its end pieces", None, clear),
        ("Lid opening", None, opening),
    ]
    return [
        {
            "what": what,
            "expected": "" if expected is None else words.length(expected, unit),
            "last": "" if last is None else words.length(last, unit),
        }
        for what, expected, last in taken
    ]


def _fit_out_steps(system: System, unit: Unit) -> list[str]:
    def say(m: float) -> str:
        return words.length(m, unit)

    wedge, pin, hem = system.wedge.stop_short_m, system.track.pin_hole_m, system.fabric.lead_in_m
    edge, low, high = system.leading_edge, system.rope.cut_station_low_m, system.rope.cut_station_high_m
    return [
        "Channels swept, dry and clear from end to end; nothing stands proud of their walls.",
        "A string pulled along each channel; readings below taken, written down and read back.",
        "Readings entered and the book printed again: every cut card now says AS-BUILT.",
        f"Tracks in from the far end, factory ends tight at each joint; each runs {say(system.track.into_housing_m)} "
        "past its channel into the housing.",
        f"Wedges driven; the last one stops {say(wedge)} short of the channel's end.",
        f"Locking pins: one {say(pin)} hole through channel top, track and channel bottom, clear of every joint.",
        "Ropes through tracks, round the far-end pulleys and back; nothing twisted, nothing crossed.",
        f"About {say(hem)} of hem led into each track before the leading edge is laced.",
        f"Adjustable ends screwed {say(edge.screw_from_inner_end_m)} from their inner ends, after a "
        f"{_drill(edge.pilot_drill_m, unit)} pilot through the leading edge alone.",
        f"Both ropes cut at one and the same point, {say(low)} to {say(high)} in front of the housing.",
        "Pivot hardware tightened snug, then backed off slightly so that it turns.",
    ]


def _drill(diameter_m: float, unit: Unit) -> str:
    """A drill's size: to 1/64 in, or to 0.1 mm."""
    if unit in (Unit.FT_IN, Unit.FT):
        from stringline.lengths import format_inches

        return format_inches(diameter_m, step=INCH_M / 64)
    return f"{words.decimal(diameter_m * 1000.0, 1)} mm"


_RUN_IN_STEPS = [
    "Water looked over, end to end: nobody in it, nothing afloat, barrier up.",
    "One person holds the control, sees all of the water, and does nothing else.",
    "Closing: stop at each station below, measure both sliders from the housing, write down the difference.",
    "Opening: the same, at the same stations.",
    "Current read at each station while moving, where a licensed electrician has fitted the means.",
    "Readings entered under [run]; the cause and the cure read before anything is turned.",
]


def _stations(length_m: float, unit: Unit, *, first: float | None) -> list[float]:
    """Even stations a tape finds at a glance: whole feet or half metres, the far end added."""
    base = FOOT if unit in (Unit.FT_IN, Unit.FT) else 0.5
    step = base
    for times in (1, 2, 4, 5, 10, 20, 50):
        step = base * times
        if length_m / step <= _MOST_STATIONS - 3 and (times >= 4 or unit not in (Unit.FT_IN, Unit.FT)):
            break
    count = math.floor(length_m / step + 1e-9)
    stations = [k * step for k in range(1, count + 1)]
    if first is not None:
        stations.insert(0, first)
    if length_m - stations[-1] > step / 4:
        stations.append(length_m)
    return stations
