"""What lies across the pool: leading edge, drum, lid panels, fascia."""

from __future__ import annotations

import math

from stringline.cutting import basis as taken
from stringline.cutting.basis import Given
from stringline.cutting.result import DRILL, ENTRAPMENT, LIFT, PINCH, POWER, SAW, Mark, Piece
from stringline.cutting.strips import joint_marks, segments
from stringline.finding import Code, finding
from stringline.layout import asked
from stringline.nesting.grain import to_grains
from stringline.system.takes_up import takes_up
from stringline.worked import Figure, Origin, Term


def leading_edge_figure(given: Given) -> tuple[Figure, str, float | None]:
    """Tube length of the leading edge, its basis, and the station whose gauge governs (None: the layout's gauge).

    Smallest gauge − 2 · reach of an adjustable end at mid adjustment (tube's end to track centreline). Source
    ``narrowest-governs``.
    """
    gauge, station = taken.smallest_gauge(given)
    reach = given.system.leading_edge.end_reach_m
    label = "cutting.gauge-laid-out" if station is None else finding("cutting.smallest-gauge", station_m=float(station))
    figure = Figure.sum(
        "cutting.leading-edge",
        [
            gauge.term(label),
            Term("cutting.left-reach", -reach, Origin.CATALOGUE, "catalogue"),
            Term("cutting.right-reach", -reach, Origin.CATALOGUE, "catalogue"),
        ],
        source="narrowest-governs",
    )
    return figure, gauge.basis, station


def leading_edge(given: Given) -> tuple[Piece, tuple[Code, ...]]:
    """The leading edge's tube with its adjustable ends, and a note where the gauge varies by more than they take up.

    A screw stands (end length − reach − distance from the end's inner end) from either end of the tube; where that is
    past the tube's middle none is marked.
    """
    edge = given.system.leading_edge
    figure, basis, _ = leading_edge_figure(given)
    notes = []
    gauges = [g.value for _, g in taken.gauges(given)]
    spread, ends = max(gauges, default=0.0) - min(gauges, default=0.0), takes_up(given.system).leading_edge_m
    if spread > ends:
        notes.append(finding("cutting.gauge-varies", spread_m=float(spread), room_m=ends))
    inside = edge.end_length_m - edge.end_reach_m
    screw = inside - edge.screw_from_inner_end_m
    marks = [Mark(0.0, "cut-end", "cards.left-end"), Mark(figure.value, "cut-end", "cards.right-end")]
    if 0 < screw < figure.value / 2:
        marks += [
            Mark(screw, "screw", "cards.screw-left"),
            Mark(figure.value - screw, "screw", "cards.screw-right"),
        ]
    steps: tuple[Code, ...] = (
        finding("cards.edge-cut", length_m=figure.value),
        "cards.edge-ends",
        "cards.edge-set",
        finding("cards.edge-mark-screw", from_end_m=edge.screw_from_inner_end_m),
        finding("cards.edge-pilot", drill_m=edge.pilot_drill_m),
        "cards.edge-screw",
        "cards.edge-pivot",
        finding("cards.edge-lead-in", lead_in_m=given.system.fabric.lead_in_m),
        "cards.edge-lace",
    )
    piece = Piece(
        "leading-edge",
        "LE",
        "cutting.leading-edge",
        "none",
        1,
        figure,
        basis,
        "cards.of-edge-tube",
        steps,
        (SAW, LIFT, PINCH, ENTRAPMENT),
        marks=tuple(sorted(marks, key=lambda m: m.at_m)),
    )
    return piece, tuple(notes)


def drum_figure(given: Given) -> tuple[Figure, str]:
    """Length of the drum and its basis: the gauge nearest to the housing less the catalogue's deduction."""
    gauge, station = taken.gauge_at_housing(given)
    label = "cutting.gauge-laid-out" if station is None else finding("cutting.gauge-at", station_m=float(station))
    return asked.drum_length(gauge.term(label), given.system.drum), gauge.basis


def drum(given: Given) -> Piece:
    """The drum's tube."""
    figure, basis = drum_figure(given)
    steps: tuple[Code, ...] = (
        finding("cards.drum-cut", length_m=figure.value),
        "cards.drum-file",
        "cards.drum-isolate",
        "cards.drum-lift",
    )
    return Piece(
        "drum",
        "DR",
        "cutting.drum",
        "none",
        1,
        figure,
        basis,
        "cards.of-drum-tube",
        steps,
        (SAW, POWER, LIFT, PINCH),
        marks=(Mark(0.0, "cut-end", "cards.left-end"), Mark(figure.value, "cut-end", "cards.right-end")),
    )


def lid(given: Given) -> tuple[Piece, ...]:
    """Lid panels: whole ones, and a last one cut to what is left. Panels stand a gap apart.

    n = ⌊(total + gap)/(panel + gap)⌋ whole panels; the last one is total − n · (panel + gap), none under a micrometre.
    """
    housing = given.system.housing
    total, basis = lid_total(given)
    pitch = housing.lid_panel_m + housing.lid_gap_m
    whole = max(0, math.floor((total.value + housing.lid_gap_m) / pitch + 1e-9))
    panels = finding("cutting.whole-panels", n=whole)
    terms = [*total.terms, Term(panels, -whole * housing.lid_panel_m, Origin.CATALOGUE, "catalogue")]
    if whole:
        gaps = finding("cutting.panel-gaps", n=whole)
        terms.append(Term(gaps, -whole * housing.lid_gap_m, Origin.CATALOGUE, "catalogue"))
    last = Figure.sum("cutting.lid-last", terms, sigma=total.sigma)
    pieces = []
    if whole:
        pieces.append(
            Piece(
                "lid-panel",
                "LP",
                "cutting.lid-whole",
                "none",
                whole,
                Figure.single("cutting.lid-whole", housing.lid_panel_m, Origin.CATALOGUE, source="catalogue"),
                basis,
                "cards.of-lid-panel",
                ("cards.lid-isolate", finding("cards.lid-lay", n=whole, gap_m=housing.lid_gap_m)),
                (LIFT, POWER),
            )
        )
    if last.value > 1e-6:
        pieces.append(
            Piece(
                "lid-last",
                "LP-1",
                "cutting.lid-last",
                "none",
                1,
                last,
                basis,
                "cards.of-lid-panel",
                (
                    finding("cards.lid-measure", length_m=last.value),
                    finding("cards.lid-cut", length_m=last.value),
                    "cards.lid-fix",
                ),
                (SAW, LIFT),
            )
        )
    return tuple(pieces)


def lid_total(given: Given) -> tuple[Figure, str]:
    """Length of the whole lid, with its basis: the opening + 2 · overlap."""
    opening = taken.lid_opening(given)
    overlap = given.system.housing.lid_overlap_m
    figure = Figure.sum(
        "cutting.lid-total",
        [
            *opening.terms(),
            Term("cutting.overlap-left", overlap, Origin.CATALOGUE, "catalogue"),
            Term("cutting.overlap-right", overlap, Origin.CATALOGUE, "catalogue"),
        ],
        sigma=opening.figure.sigma,
    )
    return figure, opening.basis


def fascia(given: Given) -> tuple[Piece, ...]:
    """Fascia: two end pieces, and a centre piece that is the clear distance between them (source ``fascia-centre``).

    The centre piece is made up from stock lengths; there is none where the end pieces leave no room.
    """
    housing = given.system.housing
    clear = taken.fascia_clear(given)
    end = Figure.single("cutting.fascia-end", housing.fascia_end_m, Origin.CATALOGUE, source="catalogue")
    centre = Figure.sum("cutting.fascia-centre", clear.terms(), sigma=clear.figure.sigma, source="fascia-centre")
    parts = segments(to_grains(centre.value), (to_grains(housing.fascia_stick_m),), "FC") if centre.value > 0 else ()
    ends = Piece(
        "fascia-end",
        "FE",
        "cutting.fascia-end",
        "both",
        2,
        end,
        taken.SURVEY,
        "cards.of-fascia",
        (finding("cards.fascia-ends-cut", length_m=end.value), "cards.fascia-ends-fix"),
        (SAW, DRILL),
    )
    if not parts:
        return (ends,)
    steps: list[Code] = ["cards.fascia-measure"]
    if clear.basis == taken.SURVEY:
        steps.append(finding("cards.fascia-near", length_m=centre.value))
    steps += [
        finding("cards.fascia-cut", length_m=centre.value)
        if len(parts) == 1
        else finding("cards.fascia-make-up", length_m=centre.value, count=len(parts)),
        "cards.fascia-set",
    ]
    middle = Piece(
        "fascia-centre",
        "FC",
        "cutting.fascia-centre",
        "none",
        1,
        centre,
        clear.basis,
        "cards.of-fascia",
        tuple(steps),
        (SAW, PINCH),
        parts,
        joint_marks(parts),
    )
    return ends, middle
