"""Wedges that hold a track in its channel: the row on each side, its last one, and how many that takes."""

from __future__ import annotations

import math

from stringline.cutting import basis as taken
from stringline.cutting.basis import Given
from stringline.cutting.result import SAW, Mark, Piece
from stringline.finding import Code, finding
from stringline.worked import Figure, Origin, Term


def wedges(given: Given, side: str) -> Piece:
    """The row of wedges on one side: whole ones from the far end, then a cut one that stops short of the channel's end.

    n = ⌊(channel − stop)/wedge⌋ whole ones; the last one is channel − stop − n · wedge (source ``wedge-stop``). With a
    wedge spacing in the catalogue the wedges stand apart, all whole, and none is cut.
    """
    wedge = given.system.wedge
    spacing = given.system.hardware.wedge_spacing_m
    channel = taken.channel(given, side)
    terms = [
        channel.term(finding("cutting.channel", side=side)),
        Term("cutting.wedge-stop", -wedge.stop_short_m, Origin.CATALOGUE, "wedge-stop"),
    ]
    steps: list[Code] = ["cards.wedge-start", "cards.wedge-tap"]
    if spacing is not None:
        count = whole_wedges(given, side)
        one = finding("cutting.wedge", side=side)
        figure = Figure.single(one, wedge.length_m, Origin.CATALOGUE, source="catalogue")
        steps.insert(1, finding("cards.wedge-spaced", count=count, spacing_m=spacing))
        return _wedge_piece(side, count, figure, channel.basis, steps)
    whole = whole_wedges(given, side)
    wholes = finding("cutting.whole-wedges", n=whole)
    terms.append(Term(wholes, -whole * wedge.length_m, Origin.CATALOGUE, "catalogue"))
    last = finding("cutting.last-wedge", side=side)
    figure = Figure.sum(last, terms)
    if figure.value < 1e-6:
        figure = Figure.single(last, wedge.length_m, Origin.CATALOGUE, source="catalogue")
        steps.insert(1, finding("cards.wedge-row-uncut", count=whole))
        return _wedge_piece(side, whole, figure, channel.basis, steps)
    steps.insert(1, finding("cards.wedge-row", count=whole))
    steps += [
        finding("cards.wedge-cut", length_m=figure.value),
        finding("cards.wedge-drive", short_m=wedge.stop_short_m),
    ]
    marks = (Mark(0.0, "cut-end", "cards.towards-housing"), Mark(figure.value, "wedge-end", "cards.against-wedges"))
    return _wedge_piece(side, 1, figure, channel.basis, steps, marks)


def _wedge_piece(
    side: str, count: int, figure: Figure, basis: str, steps: list[Code], marks: tuple[Mark, ...] = ()
) -> Piece:
    return Piece(
        f"wedge-{side}",
        f"W-{side[0].upper()}",
        finding("cutting.last-wedge" if marks else "cutting.wedges", side=side),
        side,
        count,
        figure,
        basis,
        "cards.of-wedge",
        tuple(steps),
        (SAW,) if marks else (),
        marks=marks,
    )


def whole_wedges(given: Given, side: str) -> int:
    """How many whole wedges stand on one side: end to end, or one a spacing as long as a whole one still fits."""
    wedge = given.system.wedge
    spacing = given.system.hardware.wedge_spacing_m
    row = taken.channel(given, side).figure.value - wedge.stop_short_m
    if spacing is not None:
        return max(1, math.floor((row - wedge.length_m) / spacing + 1e-9) + 1)
    return max(0, math.floor(row / wedge.length_m + 1e-9))


def wedges_to_order(given: Given) -> int:
    """Whole wedges on both sides, and one more for each last wedge that is cut; none without a channel."""
    if not given.in_channel:
        return 0
    spaced = given.system.hardware.wedge_spacing_m is not None
    return sum(whole_wedges(given, side) + (0 if spaced else 1) for side in ("left", "right"))
