"""Wedges that hold a track in its channel: the row on each side, its last one, and how many that takes."""

from __future__ import annotations

import math

from stringline.cutting import basis as taken
from stringline.cutting import cautions
from stringline.cutting.basis import Given
from stringline.cutting.result import Mark, Piece
from stringline.worked import Figure, Origin, Term


def wedges(given: Given, side: str) -> Piece:
    """The row of wedges on one side: whole ones from the far end, then a cut one that stops short of the channel's end.

    With a wedge spacing in the catalogue the wedges stand apart, all whole, and none is cut.
    """
    wedge = given.system.wedge
    spacing = given.system.hardware.wedge_spacing_m
    channel = taken.channel(given, side)
    letter = side[0].upper()
    terms = [
        channel.term(f"Channel, {side}"),
        Term("Short of the channel's end", -wedge.stop_short_m, Origin.CATALOGUE, "wedge-stop"),
    ]
    steps = ["Start at the far end of the channel.", "Tap each wedge home with a block; do not strike the track."]
    material = "wedge"
    if spacing is not None:
        count = whole_wedges(given, side)
        figure = Figure.single(f"Wedge, {side}", wedge.length_m, Origin.CATALOGUE, source="catalogue")
        steps.insert(
            1, f"Set {count} whole wedges, {given.say(spacing)} from the start of one to the start of the next."
        )
        return _wedge_piece(side, letter, count, figure, channel.basis, material, tuple(steps), ())
    whole = whole_wedges(given, side)
    terms.append(Term(f"{whole} whole wedges", -whole * wedge.length_m, Origin.CATALOGUE, "catalogue"))
    figure = Figure.sum(f"Last wedge, {side}", terms)
    if figure.value < 1e-6:
        figure = Figure.single(f"Last wedge, {side}", wedge.length_m, Origin.CATALOGUE, source="catalogue")
        steps.insert(1, f"Drive {whole} whole wedges end to end. The last one needs no cut.")
        return _wedge_piece(side, letter, whole, figure, channel.basis, material, tuple(steps), ())
    short = given.say_small(wedge.stop_short_m)
    steps.insert(1, f"Drive {whole} whole wedges end to end.")
    steps += [
        f"Cut the last wedge to {given.say(figure.value)}.",
        f"Drive it. It stops {short} short of the channel's end at the housing.",
    ]
    marks = (Mark(0.0, "cut-end", "Towards the housing"), Mark(figure.value, "wedge-end", "Against the whole wedges"))
    return _wedge_piece(side, letter, 1, figure, channel.basis, material, tuple(steps), marks)


def _wedge_piece(
    side: str,
    letter: str,
    count: int,
    figure: Figure,
    basis: str,
    material: str,
    steps: tuple[str, ...],
    marks: tuple[Mark, ...],
) -> Piece:
    return Piece(
        f"wedge-{side}",
        f"W-{letter}",
        f"Last wedge, {side}" if marks else f"Wedges, {side}",
        side,
        count,
        figure,
        basis,
        material,
        steps,
        (cautions.SAW,) if marks else (),
        marks=marks,
    )


def whole_wedges(given: Given, side: str) -> int:
    """How many whole wedges stand on one side."""
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
