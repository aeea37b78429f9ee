"""Every piece of a job with its working, and the small parts that follow from them by rule."""

from __future__ import annotations

from stringline.cutting.across import drum, fascia, leading_edge, lid
from stringline.cutting.along import SIDES, tracks
from stringline.cutting.basis import Given
from stringline.cutting.result import CutList, PartLine, Parts, Piece
from stringline.cutting.ropes import ropes
from stringline.cutting.sheet import cover
from stringline.cutting.strips import filler, wedges, whole_wedges
from stringline.finding import finding
from stringline.form.result import Fit
from stringline.job.model import Job
from stringline.layout.result import Layout
from stringline.system.model import System
from stringline.worked import Figure, Kind, Origin, Term


def cut_list(job: Job, system: System, layout: Layout, fit: Fit | None = None) -> CutList:
    """All pieces of a job, in the order in which a crew comes to them.

    What is cut after the pour is cut from the as-built readings where there are any; the cover, which is made to
    measure, keeps the survey's figures. Raises ValueError where the catalogue's lengths leave nothing to cut.
    """
    given = Given(job, system, layout, fit)
    laid = tracks(given)
    sides = SIDES if given.in_channel else ()
    cords, rope_notes = ropes(given)
    edge, edge_notes = leading_edge(given)
    pieces = (
        *cover(given),
        *laid.pieces,
        *(wedges(given, side) for side in sides),
        *(filler(given, side) for side in sides),
        drum(given),
        *cords,
        edge,
        *fascia(given),
        *lid(given),
    )
    deck = () if given.in_channel else ("cutting.on-deck",)
    notes = (*laid.notes, *deck, *rope_notes, *edge_notes)
    return CutList(pieces, notes)


def parts(job: Job, system: System, layout: Layout, cuts: CutList) -> Parts:
    """Counts of pins, splices, screws, wedges and filler sticks, each with its rule."""
    given = Given(job, system, layout, None)
    runs = [cuts.piece(f"track-{side}") for side in SIDES]
    splices = _splices(system, runs)
    in_channel: tuple[PartLine, ...] = ()
    if given.in_channel:
        in_channel = (
            PartLine("wedge", "cutting.part-wedge", _wedges(given)),
            PartLine("filler", "cutting.part-filler", _filler(cuts)),
        )
    return Parts(
        (
            PartLine("pin", "cutting.part-pin", _pins(system, runs)),
            PartLine("splice", "cutting.part-splice", splices),
            PartLine("screw", "cutting.part-screw", _screws(system, splices)),
            *in_channel,
            PartLine("adjustable-end", "cutting.part-end", _one_a_side("cutting.count-ends")),
            PartLine("pulley", "cutting.part-pulley", _one_a_side("cutting.count-pulleys")),
            PartLine("guide", "cutting.part-guide", _one_a_side("cutting.count-guides")),
        )
    )


def _pins(system: System, runs: list[Piece]) -> Figure:
    terms = [
        Term(
            finding("cutting.pins-along", side=r.side),
            float(sum(m.kind == "pin" for m in r.marks)),
            Origin.DERIVED,
        )
        for r in runs
    ]
    terms.append(
        Term("cutting.spacing-most", system.track.pin_spacing_m, Origin.CATALOGUE, "pin-hole", kind=Kind.LENGTH)
    )
    return Figure.by_rule(
        "cutting.count-pins",
        terms[0].value + terms[1].value,
        "cutting.rule-pins",
        terms,
        kind=Kind.COUNT,
        source="pin-hole",
    )


def _splices(system: System, runs: list[Piece]) -> Figure:
    joints = float(sum(m.kind == "joint" for r in runs for m in r.marks))
    each = float(system.hardware.splices_per_joint)
    return Figure.by_rule(
        "cutting.count-splices",
        joints * each,
        "cutting.rule-splices",
        [
            Term("cutting.joints", joints, Origin.DERIVED),
            Term("cutting.splices-each", each, Origin.CATALOGUE, "catalogue"),
        ],
        kind=Kind.COUNT,
    )


def _screws(system: System, splices: Figure) -> Figure:
    splice, end = float(system.hardware.screws_per_splice), float(system.hardware.screws_per_end)
    return Figure.by_rule(
        "cutting.count-screws",
        splices.value * splice + 2 * end,
        "cutting.rule-screws",
        [
            Term("cutting.count-splices", splices.value, Origin.DERIVED),
            Term("cutting.screws-each", splice, Origin.CATALOGUE, "catalogue"),
            Term("cutting.screws-end", end, Origin.CATALOGUE, "edge-end-screw"),
        ],
        kind=Kind.COUNT,
    )


def _wedges(given: Given) -> Figure:
    spaced = given.system.hardware.wedge_spacing_m is not None
    terms = [
        Term(finding("cutting.whole-wedges-side", side=side), float(whole_wedges(given, side)), Origin.DERIVED)
        for side in SIDES
    ]
    cut = 0.0 if spaced else 2.0
    terms.append(Term("cutting.cut-wedges", cut, Origin.DERIVED, "wedge-stop"))
    return Figure.by_rule(
        "cutting.count-wedges",
        sum(t.value for t in terms),
        "cutting.rule-wedges",
        terms,
        kind=Kind.COUNT,
    )


def _filler(cuts: CutList) -> Figure:
    terms = [
        Term(
            finding("cutting.sticks-side", side=side),
            float(len(cuts.piece(f"filler-{side}").segments)),
            Origin.DERIVED,
        )
        for side in SIDES
    ]
    return Figure.by_rule(
        "cutting.count-filler",
        sum(t.value for t in terms),
        "cutting.rule-filler",
        terms,
        kind=Kind.COUNT,
    )


def _one_a_side(label: str) -> Figure:
    sides = Term("cutting.sides", float(len(SIDES)), Origin.PRACTICE, "trade")
    return Figure.by_rule(label, sides.value, "cutting.rule-one-a-side", [sides], kind=Kind.COUNT)
