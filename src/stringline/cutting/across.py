"""What lies across the pool: leading edge, drum, lid panels, fascia."""

from __future__ import annotations

import math

from stringline.cutting import basis as taken
from stringline.cutting import cautions
from stringline.cutting.basis import Given
from stringline.cutting.result import Mark, Piece
from stringline.cutting.strips import joint_marks, segments
from stringline.layout import asked
from stringline.nesting.grain import to_grains
from stringline.system.takes_up import takes_up
from stringline.worked import Figure, Origin, Term


def leading_edge_figure(given: Given) -> tuple[Figure, str, float | None]:
    """Tube length of the leading edge, its basis, and the station whose gauge governs (None: the layout's gauge)."""
    gauge, station = taken.smallest_gauge(given)
    reach = given.system.leading_edge.end_reach_m
    label = "Gauge, from the layout" if station is None else f"Smallest gauge, at {given.say(station)} from the housing"
    figure = Figure.sum(
        "Leading edge, tube",
        [
            gauge.term(label),
            Term("Left end's reach, at mid adjustment", -reach, Origin.CATALOGUE, "catalogue"),
            Term("Right end's reach, at mid adjustment", -reach, Origin.CATALOGUE, "catalogue"),
        ],
        source="narrowest-governs",
    )
    return figure, gauge.basis, station


def leading_edge(given: Given) -> tuple[Piece, tuple[str, ...]]:
    """The leading edge's tube with its adjustable ends, and notes."""
    edge = given.system.leading_edge
    figure, basis, _ = leading_edge_figure(given)
    notes = []
    spread = [g.value for _, g in taken.gauges(given)]
    ends = takes_up(given.system).leading_edge_m
    if spread and max(spread) - min(spread) > ends:
        notes.append(
            f"Leading edge: the gauge varies by {given.say_small(max(spread) - min(spread))} along the run, more than "
            f"the adjustable ends' {given.say_small(ends)} in all. Put the channel right before the tube "
            "is cut."
        )
    inside = edge.end_length_m - edge.end_reach_m
    screw = inside - edge.screw_from_inner_end_m
    marks = [Mark(0.0, "cut-end", "Left end"), Mark(figure.value, "cut-end", "Right end")]
    if 0 < screw < figure.value / 2:
        marks += [
            Mark(screw, "screw", "Screw, left end, at mid adjustment"),
            Mark(figure.value - screw, "screw", "Screw, right end, at mid adjustment"),
        ]
    pilot, from_end = given.say_drill(edge.pilot_drill_m), given.say_small(edge.screw_from_inner_end_m)
    steps = (
        f"Cut the tube to {given.say(figure.value)}. File both ends smooth.",
        "Slide an adjustable end into each end of the tube. Set both to mid adjustment.",
        "Set the edge in the tracks at the narrowest place. Adjust both ends alike until the sliders run free.",
        f"Mark a screw {from_end} from the inner end of each adjustable end.",
        f"Drill a pilot of {pilot} through the leading edge alone, not through the adjustable end.",
        "Drive the screw.",
        "Tighten the pivot hardware snug, then back it off slightly.",
        f"Lead about {given.say_small(given.system.fabric.lead_in_m)} of hem into each track before you lace.",
        "Lace the front hem to the leading edge.",
    )
    piece = Piece(
        "leading-edge",
        "LE",
        "Leading edge, tube",
        "none",
        1,
        figure,
        basis,
        "leading-edge tube",
        steps,
        (cautions.SAW, cautions.LIFT, cautions.PINCH, cautions.ENTRAPMENT),
        marks=tuple(sorted(marks, key=lambda m: m.at_m)),
    )
    return piece, tuple(notes)


def drum_figure(given: Given) -> tuple[Figure, str]:
    """Length of the drum and its basis."""
    gauge, station = taken.gauge_at_housing(given)
    label = "Gauge, from the layout" if station is None else f"Gauge, at {given.say(station)} from the housing"
    return asked.drum_length(gauge.term(label), given.system.drum), gauge.basis


def drum(given: Given) -> Piece:
    """The drum's tube."""
    figure, basis = drum_figure(given)
    steps = (
        f"Cut the drum tube to {given.say(figure.value)}, both ends square.",
        "File the ends smooth, inside and out.",
        "Isolate and lock the power before the drum goes into the housing.",
        "Lift it in with two people or a lift. Set it level, middle on the middle of the gauge.",
    )
    return Piece(
        "drum",
        "DR",
        "Drum",
        "none",
        1,
        figure,
        basis,
        "drum tube",
        steps,
        (cautions.SAW, cautions.POWER, cautions.LIFT, cautions.PINCH),
        marks=(Mark(0.0, "cut-end", "Left end"), Mark(figure.value, "cut-end", "Right end")),
    )


def lid(given: Given) -> tuple[Piece, ...]:
    """Lid panels: whole ones, and a last one cut to what is left. Panels stand a gap apart."""
    housing = given.system.housing
    total, basis = lid_total(given)
    pitch = housing.lid_panel_m + housing.lid_gap_m
    whole = max(0, math.floor((total.value + housing.lid_gap_m) / pitch + 1e-9))
    terms = [*total.terms, Term(f"{whole} whole panels", -whole * housing.lid_panel_m, Origin.CATALOGUE, "catalogue")]
    if whole:
        terms.append(Term(f"{whole} gaps", -whole * housing.lid_gap_m, Origin.CATALOGUE, "catalogue"))
    last = Figure.sum("Lid, last panel", terms, sigma=total.sigma)
    pieces = []
    if whole:
        panel = Figure.single("Lid, whole panel", housing.lid_panel_m, Origin.CATALOGUE, source="catalogue")
        pieces.append(
            Piece(
                "lid-panel",
                "LP",
                "Lid, whole panel",
                "none",
                whole,
                panel,
                basis,
                "lid panel",
                (
                    "Isolate and lock the power before the lid is off.",
                    f"Lay {whole} whole panel{'' if whole == 1 else 's'} from the left, "
                    f"{given.say_small(housing.lid_gap_m)} apart.",
                ),
                (cautions.LIFT, cautions.POWER),
            )
        )
    if last.value > 1e-6:
        pieces.append(
            Piece(
                "lid-last",
                "LP-1",
                "Lid, last panel",
                "none",
                1,
                last,
                basis,
                "lid panel",
                (
                    f"Measure the gap that is left; it should be near {given.say(last.value)}.",
                    f"Cut the last panel to {given.say(last.value)}.",
                    "Fix every panel before anyone steps on it.",
                ),
                (cautions.SAW, cautions.LIFT),
            )
        )
    return tuple(pieces)


def lid_total(given: Given) -> tuple[Figure, str]:
    """Length of the whole lid: the opening and the overlap at both ends; with its basis."""
    opening = taken.lid_opening(given)
    overlap = given.system.housing.lid_overlap_m
    figure = Figure.sum(
        "Lid, all panels",
        [
            *opening.terms(),
            Term("Overlap, left", overlap, Origin.CATALOGUE, "catalogue"),
            Term("Overlap, right", overlap, Origin.CATALOGUE, "catalogue"),
        ],
        sigma=opening.figure.sigma,
    )
    return figure, opening.basis


def fascia(given: Given) -> tuple[Piece, ...]:
    """Fascia: two end pieces, and a centre piece that is the clear distance between them."""
    housing = given.system.housing
    clear = taken.fascia_clear(given)
    end = Figure.single("Fascia, end piece", housing.fascia_end_m, Origin.CATALOGUE, source="catalogue")
    centre = Figure.sum("Fascia, centre piece", clear.terms(), sigma=clear.figure.sigma, source="fascia-centre")
    parts = segments(to_grains(centre.value), (to_grains(housing.fascia_stick_m),), "FC") if centre.value > 0 else ()
    ends = Piece(
        "fascia-end",
        "FE",
        "Fascia, end piece",
        "both",
        2,
        end,
        taken.SURVEY,
        "fascia",
        (
            f"Cut two end pieces to {given.say(end.value)}.",
            "Fix one at each end of the housing first.",
        ),
        (cautions.SAW, cautions.DRILL),
    )
    if not parts:
        return (ends,)
    steps = ["Measure the clear distance between the fixed end pieces."]
    if clear.basis == taken.SURVEY:
        steps.append(f"It should be near {given.say(centre.value)}. Where it is not, cut to what you measure.")
    steps += [
        f"Cut the centre piece to {given.say(centre.value)}."
        if len(parts) == 1
        else f"Make the centre piece up to {given.say(centre.value)} from {len(parts)} lengths.",
        "Set it between the end pieces without forcing them apart.",
    ]
    middle = Piece(
        "fascia-centre",
        "FC",
        "Fascia, centre piece",
        "none",
        1,
        centre,
        clear.basis,
        "fascia",
        tuple(steps),
        (cautions.SAW, cautions.PINCH),
        parts,
        joint_marks(parts),
    )
    return ends, middle
