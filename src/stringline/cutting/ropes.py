"""Ropes: where both are cut, and how long each is from its end on the reel to that point.

The leading edge stands at the housing with the cover open, so what a rope is cut off in front of the housing has to be
on its reel, besides the turns that stay on: otherwise the reel runs empty before the cover is open.
"""

from __future__ import annotations

import math

from stringline import lengths
from stringline.cutting import basis as taken
from stringline.cutting import cautions
from stringline.cutting.basis import Given
from stringline.cutting.result import Mark, Piece
from stringline.worked import Figure, Origin, Term


def cut_point(given: Given) -> Figure:
    """Station of the common cut point, in front of the housing: the job's ``rope_cut``, or the catalogue's.

    Raises :class:`stringline.lengths.LengthError` where the job's own value cannot be read.
    """
    cover = given.job.cover
    chosen = None if cover is None else cover.choices.get("rope_cut")
    label = "Cut point, in front of the housing"
    if chosen is None:
        return Figure.single(label, given.system.rope.cut_station_m, Origin.CATALOGUE, source="rope-cut-point")
    return Figure.single(label, _metres(chosen, given), Origin.CHOSEN, source="rope-cut-point")


def _metres(chosen: object, given: Given) -> float:
    if isinstance(chosen, lengths.Length):
        return chosen.m
    if isinstance(chosen, str):
        return lengths.parse(chosen, given.unit).m
    if isinstance(chosen, int | float) and not isinstance(chosen, bool):
        return float(chosen)  # a number that has been read already is in metres
    raise lengths.LengthError(f"{chosen!r} is not a length", "write rope_cut as a length, such as 9' or 2.7 m")


def ropes(given: Given) -> tuple[tuple[Piece, ...], tuple[str, ...]]:
    """Both ropes, cut at one point, and notes where that point is not where practice puts it."""
    point = cut_point(given)
    rope = given.system.rope
    notes = []
    if not rope.cut_station_low_m <= point.value <= rope.cut_station_high_m:
        notes.append(
            f"Ropes: the cut point is {given.say(point.value)} in front of the housing; practice is "
            f"{given.say(rope.cut_station_low_m)} to {given.say(rope.cut_station_high_m)}."
        )
    return tuple(_rope(given, side, point) for side in ("left", "right")), tuple(notes)


def _rope(given: Given, side: str, point: Figure) -> Piece:
    channel = taken.channel(given, side)
    rope, track = given.system.rope, given.system.track
    terms = [
        Term("Turns that stay on the reel, up to the housing face", rope.reel_tail_m, Origin.CATALOGUE, "catalogue"),
        Term("Wound on besides, for the way home from the cut point", point.value, point.origin, point.source),
        channel.term("Out along the channel"),
        Term("Half way round the pulley", math.pi * rope.pulley_radius_m, Origin.CATALOGUE, "catalogue"),
        channel.term("Back along the channel"),
        Term("As far as the cut point", -point.value, point.origin, point.source),
    ]
    if track.channels == 2:
        spacer = -2.0 * track.pulley_spacer_m
        terms.insert(5, Term("Pulley spacer, out and back", spacer, Origin.CATALOGUE, "pulley-spacer"))
    figure = Figure.sum(
        f"Rope, {side}", terms, sigma=None if channel.figure.sigma is None else 2.0 * channel.figure.sigma
    )
    letter = side[0].upper()
    where = given.say(point.value)
    steps = (
        f"Fix the {side} rope on its reel with the turns that stay on.",
        f"Wind {where} more on, turn beside turn: the reel gives it out again while the cover opens.",
        "Run it out along the return channel, round the far-end pulley and back along the track.",
        "Pull out the slack by hand. Pull both ropes alike.",
        f"Mark both ropes at one same point, {where} in front of the housing.",
        f"Cut. From reel to cut the rope is {given.say(figure.value)}.",
        "Seal the end so that it does not fray.",
        "Lay left and right side by side as a check: with equal channels they are equally long.",
    )
    return Piece(
        f"rope-{side}",
        f"R-{letter}",
        f"Rope, {side}",
        side,
        1,
        figure,
        channel.basis,
        f"rope, {given.say_small(given.system.rope.diameter_m)}",
        steps,
        (cautions.ROPE, cautions.POWER),
        marks=(Mark(0.0, "note", "Reel"), Mark(figure.value, "cut-end", "Cut point, leading-edge end")),
    )
