"""What to order, from the survey and the layout alone: it keeps what it was made from, whatever is built later."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace

from stringline.cutting import basis as taken
from stringline.cutting.across import drum_figure, leading_edge_figure, lid_total
from stringline.cutting.along import SIDES, run_figure, tracks
from stringline.cutting.basis import Given
from stringline.cutting.result import CutList, Order, OrderLine
from stringline.cutting.ropes import ropes
from stringline.cutting.sheet import cover_length, cover_width
from stringline.cutting.strips import filler, make_up
from stringline.cutting.wedges import wedges_to_order
from stringline.form.result import Fit
from stringline.job.model import Job
from stringline.layout.result import Layout
from stringline.nesting.grain import to_grains, to_m
from stringline.nesting.runs import TracksPlan
from stringline.system.model import System
from stringline.worked import Figure, Kind, Origin

COVER_MAKER = "cover maker"
TRACK = "track and hardware"
HOUSING = "housing and lid"


def order(job: Job, system: System, layout: Layout, cuts: CutList | None = None, fit: Fit | None = None) -> Order:
    """Order lines for the three suppliers; ``cuts`` is not needed.

    As-built readings are left out on purpose, unless ``[order] after_pour = true`` says that the order waited for them.

    Raises ValueError where the catalogue's lengths leave nothing to order.
    """
    del cuts  # the order never follows what is cut after the pour
    given = Given(job, system, layout, fit)
    if not given.after_pour:
        given = Given(replace(job, as_built=None), system, layout, None)
    laid = tracks(given)
    basis = (
        f"Survey and layout before the pour: gauge {given.say(layout.gauge.value)}, "
        f"channel {given.say(layout.channel.value)}, travel {given.say(layout.travel.value)}."
    )
    if given.after_pour:
        basis = "As-built readings after the pour, and the layout where nothing was measured."
    notes = list(laid.notes)
    if system.invented:
        notes.append(f"The catalogue '{system.name}' is invented: order nothing from it.")
    lines = (*_cover_lines(given), *_track_lines(given, laid.plan), *housing_lines(given))
    return Order(basis, lines, tuple(notes))


def _cover_lines(given: Given) -> list[OrderLine]:
    width, length = cover_width(given), cover_length(given)
    lead = given.say_small(given.system.fabric.front_hem_m)
    return [
        OrderLine(
            "cover",
            "Cover sheet with a hem on each side and a front hem",
            COVER_MAKER,
            1,
            (width, length),
            f"Width over the hems; length includes {lead} of front hem. Made once: it cannot be made wider.",
        )
    ]


def _track_lines(given: Given, plan: TracksPlan) -> list[OrderLine]:
    system = given.system
    sticks = Counter(w for r in plan.runs for w in r.variant.wholes)
    sticks.update(o.stick for o in plan.opened if not o.from_rack)
    lines = [
        OrderLine(
            f"stick-{i}",
            f"{system.track.name}, {given.say(to_m(s))} stick",
            TRACK,
            n,
            (Figure.single("Stick", to_m(s), Origin.CATALOGUE, source="catalogue"),),
            "For runs of "
            + " and ".join(f"{given.say(run_figure(given, side)[0].value)} ({side})" for side in SIDES)
            + ".",
        )
        for i, (s, n) in enumerate(sorted(sticks.items(), reverse=True), 1)
    ]
    cords, _ = ropes(given)
    edge, _, _ = leading_edge_figure(given)
    drum, _ = drum_figure(given)
    lines += [
        OrderLine(
            "leading-edge",
            "Leading edge, tube",
            TRACK,
            1,
            (edge,),
            f"With two adjustable ends, {given.say_small(system.leading_edge.adjust_m)} either way each.",
        ),
        OrderLine("adjustable-end", "Adjustable end with slider", TRACK, 2, (_catalogue("End", _end_length(given)),)),
        OrderLine("drum", "Drum tube", TRACK, 1, (drum,)),
        OrderLine(
            "rope",
            f"Rope, {given.say_small(system.rope.diameter_m)}",
            TRACK,
            2,
            tuple(p.figure for p in cords),
            "Both from one coil, so that both stretch alike.",
        ),
        OrderLine("pulley", "Far-end pulley", TRACK, 2, ()),
        OrderLine("reel", "Rope reel", TRACK, 2, ()),
        OrderLine(
            "motor", "Motor with gearbox and drag brake", TRACK, 1, (), f"Drive side: {given.layout.drive_side}."
        ),
        OrderLine("guide", "Guide at the housing", TRACK, 2, ()),
    ]
    if not given.in_channel:
        return lines
    count = wedges_to_order(given)
    lines.append(OrderLine("wedge", "Wedge", TRACK, count, (_catalogue("Wedge", system.wedge.length_m),)))
    strips = Counter(to_grains(s.stick_m) for side in SIDES for s in filler(given, side).segments)
    lines += [
        OrderLine(f"filler-{i}", f"Filler strip, {given.say(to_m(s))}", TRACK, n, (_catalogue("Stick", to_m(s)),))
        for i, (s, n) in enumerate(sorted(strips.items(), reverse=True), 1)
    ]
    return lines


def housing_lines(given: Given) -> list[OrderLine]:
    """Order lines for housing and lid, from whatever is given."""
    housing = given.system.housing
    inside = taken.housing_inside(given)
    total, _ = lid_total(given)
    pitch = housing.lid_panel_m + housing.lid_gap_m
    panels = math.ceil((total.value + housing.lid_gap_m) / pitch - 1e-9)
    clear = taken.fascia_clear(given)
    stick = to_grains(housing.fascia_stick_m)
    lengths = make_up(to_grains(clear.figure.value), (stick,)) if clear.figure.value > 0 else ()
    ends_per_stick = max(1, int(housing.fascia_stick_m // housing.fascia_end_m)) if housing.fascia_end_m > 0 else 2
    return [
        OrderLine("housing", "Housing", HOUSING, 1, (inside.figure,), "Inside length."),
        OrderLine("lid-panel", "Lid panel", HOUSING, panels, (_catalogue("Panel", housing.lid_panel_m), total)),
        OrderLine(
            "fascia",
            f"Fascia, {given.say(housing.fascia_stick_m)} length",
            HOUSING,
            len(lengths) + math.ceil(2 / ends_per_stick),
            (clear.figure, _catalogue("End piece, two", housing.fascia_end_m)),
            "The centre piece is cut to the clear distance between the fixed end pieces.",
        ),
    ]


def _catalogue(label: str, value: float) -> Figure:
    return Figure.single(label, value, Origin.CATALOGUE, kind=Kind.LENGTH, source="catalogue")


def _end_length(given: Given) -> float:
    return given.system.leading_edge.end_length_m
