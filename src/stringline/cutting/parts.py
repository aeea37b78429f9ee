"""Small parts, counted by rule from what is cut."""

from __future__ import annotations

from stringline.cutting.along import SIDES
from stringline.cutting.basis import Given
from stringline.cutting.result import CutList, PartLine, Parts, Piece
from stringline.cutting.wedges import whole_wedges
from stringline.job.model import Job
from stringline.layout.result import Layout
from stringline.system.model import System
from stringline.worked import Figure, Kind, Origin, Term


def parts(job: Job, system: System, layout: Layout, cuts: CutList) -> Parts:
    """Counts of pins, splices, screws, wedges and filler sticks, each with its rule."""
    given = Given(job, system, layout, None)
    runs = [cuts.piece(f"track-{side}") for side in SIDES]
    splices = _splices(system, runs)
    in_channel: tuple[PartLine, ...] = ()
    if given.in_channel:
        in_channel = (PartLine("wedge", "Wedge", _wedges(given)), PartLine("filler", "Filler stick", _filler(cuts)))
    return Parts(
        (
            PartLine("pin", "Locking pin", _pins(system, runs)),
            PartLine("splice", "Splice", splices),
            PartLine("screw", "Screw", _screws(system, splices)),
            *in_channel,
            PartLine("adjustable-end", "Adjustable end with slider", _fixed("Adjustable ends", 2, "one on each side")),
            PartLine("pulley", "Far-end pulley", _fixed("Far-end pulleys", 2, "one on each side")),
            PartLine("guide", "Guide at the housing", _fixed("Guides", 2, "one on each side")),
        )
    )


def _pins(system: System, runs: list[Piece]) -> Figure:
    terms = [
        Term(f"Pins along the {r.side} track", float(sum(m.kind == "pin" for m in r.marks)), Origin.DERIVED)
        for r in runs
    ]
    terms.append(Term("Spacing, at most", system.track.pin_spacing_m, Origin.CATALOGUE, "pin-hole", kind=Kind.LENGTH))
    return Figure.by_rule(
        "Locking pins",
        terms[0].value + terms[1].value,
        "pins evenly spaced between both ends of each channel, nowhere further apart than the catalogue says",
        terms,
        kind=Kind.COUNT,
        source="pin-hole",
    )


def _splices(system: System, runs: list[Piece]) -> Figure:
    joints = float(sum(m.kind == "joint" for r in runs for m in r.marks))
    each = float(system.hardware.splices_per_joint)
    return Figure.by_rule(
        "Splices",
        joints * each,
        "joints on both sides times splices a joint",
        [
            Term("Joints", joints, Origin.DERIVED),
            Term("Splices a joint", each, Origin.CATALOGUE, "catalogue"),
        ],
        kind=Kind.COUNT,
    )


def _screws(system: System, splices: Figure) -> Figure:
    splice, end = float(system.hardware.screws_per_splice), float(system.hardware.screws_per_end)
    return Figure.by_rule(
        "Screws",
        splices.value * splice + 2 * end,
        "splices times screws a splice, and the screws of two adjustable ends",
        [
            Term("Splices", splices.value, Origin.DERIVED),
            Term("Screws a splice", splice, Origin.CATALOGUE, "catalogue"),
            Term("Screws an adjustable end", end, Origin.CATALOGUE, "edge-end-screw"),
        ],
        kind=Kind.COUNT,
    )


def _wedges(given: Given) -> Figure:
    spaced = given.system.hardware.wedge_spacing_m is not None
    terms = [Term(f"Whole wedges, {side}", float(whole_wedges(given, side)), Origin.DERIVED) for side in SIDES]
    cut = 0.0 if spaced else 2.0
    terms.append(Term("Cut wedges", cut, Origin.DERIVED, "wedge-stop"))
    return Figure.by_rule(
        "Wedges",
        sum(t.value for t in terms),
        "whole wedges on both sides, and one more on each for the one that is cut",
        terms,
        kind=Kind.COUNT,
    )


def _filler(cuts: CutList) -> Figure:
    terms = [
        Term(f"Sticks, {side}", float(len(cuts.piece(f"filler-{side}").segments)), Origin.DERIVED) for side in SIDES
    ]
    return Figure.by_rule(
        "Filler sticks",
        sum(t.value for t in terms),
        "sticks on both sides",
        terms,
        kind=Kind.COUNT,
    )


def _fixed(label: str, count: int, rule: str) -> Figure:
    return Figure.by_rule(label, float(count), rule, [Term("Sides", 2.0, Origin.PRACTICE, "trade")], kind=Kind.COUNT)
