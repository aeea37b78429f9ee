"""What to order, from the survey and the layout alone: it keeps what it was made from, whatever is built later."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace

from stringline.cutting.across import drum_figure, leading_edge_figure, lid_total
from stringline.cutting.along import SIDES, run_figure, tracks
from stringline.cutting.basis import Given, fascia_clear, housing_inside
from stringline.cutting.ropes import ropes
from stringline.cutting.sheet import cover_length, cover_width
from stringline.cutting.strips import filler, make_up, wedges_to_order
from stringline.finding import Code, finding
from stringline.form.result import Fit
from stringline.job.model import Job
from stringline.layout.result import Layout
from stringline.nesting.grain import to_grains, to_m
from stringline.nesting.runs import TracksPlan
from stringline.ordering.result import Order, OrderLine
from stringline.system.model import System
from stringline.worked import Figure, Kind, Origin

COVER_MAKER = "ordering.cover-maker"
TRACK = "ordering.track-supplier"
HOUSING = "ordering.housing-supplier"
"""Whom the lines are ordered from."""


def order(job: Job, system: System, layout: Layout, fit: Fit | None = None) -> Order:
    """Order lines for the three suppliers.

    As-built readings are left out on purpose, unless ``[order] after_pour = true`` says that the order waited for them:
    what is cut after the pour never changes what was ordered. ``fit`` is the tracks' form as built, for such an order.

    Raises ValueError where the catalogue's lengths leave nothing to order.
    """
    given = Given(job, system, layout, fit)
    if not given.after_pour:
        given = Given(replace(job, as_built=None), system, layout, None)
    laid = tracks(given)
    basis: Code = "ordering.basis-built"
    if not given.after_pour:
        gauge, channel, travel = (float(f.value) for f in (layout.gauge, layout.channel, layout.travel))
        basis = finding("ordering.basis-laid-out", gauge_m=gauge, channel_m=channel, travel_m=travel)
    notes = list(laid.notes)
    if system.invented:
        notes.append(finding("ordering.invented", catalogue=system.name))
    lines = (*_cover_lines(given), *_track_lines(given, laid.plan), *housing_lines(given))
    return Order(basis, lines, tuple(notes))


def _cover_lines(given: Given) -> list[OrderLine]:
    note = finding("ordering.cover-note", hem_m=given.system.fabric.front_hem_m)
    figures = (cover_width(given), cover_length(given))
    return [OrderLine("cover", "ordering.cover-sheet", COVER_MAKER, 1, figures, note)]


def _track_lines(given: Given, plan: TracksPlan) -> list[OrderLine]:
    system = given.system
    cords, _ = ropes(given)
    edge, _, _ = leading_edge_figure(given)
    drum, _ = drum_figure(given)
    end = _catalogue("ordering.end-length", system.leading_edge.end_length_m)
    either_way = finding("ordering.edge-note", adjust_m=system.leading_edge.adjust_m)
    rope = finding("ordering.rope", diameter_m=system.rope.diameter_m)
    motor = finding("ordering.motor-note", side=given.layout.drive_side)
    return [
        *_stick_lines(given, plan),
        OrderLine("leading-edge", "ordering.edge-tube", TRACK, 1, (edge,), either_way),
        OrderLine("adjustable-end", "ordering.adjustable-end", TRACK, 2, (end,)),
        OrderLine("drum", "ordering.drum-tube", TRACK, 1, (drum,)),
        OrderLine("rope", rope, TRACK, 2, tuple(p.figure for p in cords), "ordering.rope-note"),
        OrderLine("pulley", "ordering.pulley", TRACK, 2, ()),
        OrderLine("reel", "ordering.reel", TRACK, 2, ()),
        OrderLine("motor", "ordering.motor", TRACK, 1, (), motor),
        OrderLine("guide", "ordering.guide", TRACK, 2, ()),
        *(_channel_lines(given) if given.in_channel else ()),
    ]


def _stick_lines(given: Given, plan: TracksPlan) -> list[OrderLine]:
    """The track's sticks, longest first: those laid whole and those that are opened, less what the rack gives."""
    sticks = Counter(w for r in plan.runs for w in r.variant.wholes)
    sticks.update(o.stick for o in plan.opened if not o.from_rack)
    left, right = (float(run_figure(given, side)[0].value) for side in SIDES)
    note = finding("ordering.for-runs", left_m=left, right_m=right)
    return [
        OrderLine(
            f"stick-{i}",
            finding("ordering.stick", track=given.system.track.name, stick_m=to_m(s)),
            TRACK,
            n,
            (_catalogue("ordering.stick-length", to_m(s)),),
            note,
        )
        for i, (s, n) in enumerate(sorted(sticks.items(), reverse=True), 1)
    ]


def _channel_lines(given: Given) -> list[OrderLine]:
    """What holds a track in its channel: wedges and filler strip."""
    wedge = _catalogue("ordering.wedge-length", given.system.wedge.length_m)
    strips = Counter(to_grains(s.stick_m) for side in SIDES for s in filler(given, side).segments)
    return [
        OrderLine("wedge", "ordering.wedge", TRACK, wedges_to_order(given), (wedge,)),
        *(
            OrderLine(
                f"filler-{i}",
                finding("ordering.filler-stick", stick_m=to_m(s)),
                TRACK,
                n,
                (_catalogue("ordering.filler-length", to_m(s)),),
            )
            for i, (s, n) in enumerate(sorted(strips.items(), reverse=True), 1)
        ),
    ]


def housing_lines(given: Given) -> list[OrderLine]:
    """Order lines for housing and lid, from whatever is given; the fascia's ends are cut from lengths of their own."""
    housing = given.system.housing
    total, _ = lid_total(given)
    panels = panels_to_order(total.value, housing.lid_panel_m, housing.lid_gap_m)
    clear = fascia_clear(given).figure
    stick = to_grains(housing.fascia_stick_m)
    lengths = make_up(to_grains(clear.value), (stick,)) if clear.value > 0 else ()
    ends_per_stick = max(1, int(housing.fascia_stick_m // housing.fascia_end_m)) if housing.fascia_end_m > 0 else 2
    panel = _catalogue("ordering.panel-length", housing.lid_panel_m)
    ends = _catalogue("ordering.fascia-ends", housing.fascia_end_m)
    return [
        OrderLine("housing", "ordering.housing-box", HOUSING, 1, (housing_inside(given).figure,), "ordering.inside"),
        OrderLine("lid-panel", "ordering.lid-panel", HOUSING, panels, (panel, total)),
        OrderLine(
            "fascia",
            finding("ordering.fascia-stick", stick_m=housing.fascia_stick_m),
            HOUSING,
            len(lengths) + math.ceil(2 / ends_per_stick),
            (clear, ends),
            "ordering.fascia-note",
        ),
    ]


def panels_to_order(total_m: float, panel_m: float, gap_m: float) -> int:
    """How many panels, a gap apart, close a lid of that length: (total + gap) / (panel + gap), rounded up.

    >>> panels_to_order(6.05, 1.2, 0.0125), panels_to_order(6.06, 1.2, 0.0125)
    (5, 6)
    """
    return math.ceil((total_m + gap_m) / (panel_m + gap_m) - 1e-9)


def _catalogue(label: Code, value_m: float) -> Figure:
    return Figure.single(label, value_m, Origin.CATALOGUE, kind=Kind.LENGTH, source="catalogue")
