"""Ropes: where both are cut, and how long each is from its end on the reel to that point.

The leading edge stands at the housing with the cover open, so what a rope is cut off in front of the housing has to be
on its reel, besides the turns that stay on: otherwise the reel runs empty before the cover is open.
"""

from __future__ import annotations

import math

from stringline.cutting import basis as taken
from stringline.cutting.basis import Given
from stringline.cutting.result import POWER, ROPE, Mark, Piece
from stringline.finding import Code, finding
from stringline.worked import Figure, Origin, Term


def cut_point(given: Given) -> Figure:
    """Station of the common cut point, in front of the housing: the job's ``rope_cut``, or the catalogue's.

    Source ``rope-cut-point``.
    """
    cover = given.job.cover
    chosen = None if cover is None else cover.choices.get("rope_cut")
    value, origin = (given.system.rope.cut_station_m, Origin.CATALOGUE) if chosen is None else (chosen, Origin.CHOSEN)
    return Figure.single("cutting.rope-cut-point", value, origin, source="rope-cut-point")


def ropes(given: Given) -> tuple[tuple[Piece, ...], tuple[Code, ...]]:
    """Both ropes, cut at one point, and a note where that point is not where practice puts it.

    Each is tail + cut point + channel + π · pulley radius + (channel − 2 · spacer) − cut point long: the turns that
    stay on the reel, what is wound on for the way home, out, round the pulley, back, as far as the cut point. The
    spacer (source ``pulley-spacer``) is that of a two-channel track. σ is twice the channel's, which enters twice.
    """
    point = cut_point(given)
    rope = given.system.rope
    notes = []
    if not rope.cut_station_low_m <= point.value <= rope.cut_station_high_m:
        notes.append(
            finding(
                "cutting.rope-off-practice",
                point_m=point.value,
                low_m=rope.cut_station_low_m,
                high_m=rope.cut_station_high_m,
            )
        )
    return tuple(_rope(given, side, point) for side in ("left", "right")), tuple(notes)


def _rope(given: Given, side: str, point: Figure) -> Piece:
    channel = taken.channel(given, side)
    rope, track = given.system.rope, given.system.track
    terms = [
        Term("cutting.rope-stays", rope.reel_tail_m, Origin.CATALOGUE, "catalogue"),
        Term("cutting.rope-wound", point.value, point.origin, point.source),
        channel.term("cutting.rope-out"),
        Term("cutting.rope-pulley", math.pi * rope.pulley_radius_m, Origin.CATALOGUE, "catalogue"),
        channel.term("cutting.rope-back"),
        Term("cutting.rope-to-cut", -point.value, point.origin, point.source),
    ]
    if track.channels == 2:
        spacer = -2.0 * track.pulley_spacer_m
        terms.insert(5, Term("cutting.rope-spacer", spacer, Origin.CATALOGUE, "pulley-spacer"))
    name = finding("cutting.rope", side=side)
    figure = Figure.sum(name, terms, sigma=None if channel.figure.sigma is None else 2.0 * channel.figure.sigma)
    steps: tuple[Code, ...] = (
        finding("cards.rope-fix", side=side),
        finding("cards.rope-wind", length_m=point.value),
        "cards.rope-run",
        "cards.rope-slack",
        finding("cards.rope-mark", length_m=point.value),
        finding("cards.rope-cut", length_m=figure.value),
        "cards.rope-seal",
        "cards.rope-compare",
    )
    return Piece(
        f"rope-{side}",
        f"R-{side[0].upper()}",
        name,
        side,
        1,
        figure,
        channel.basis,
        finding("cards.of-rope", diameter_m=rope.diameter_m),
        steps,
        (ROPE, POWER),
        marks=(Mark(0.0, "note", "cards.reel"), Mark(figure.value, "cut-end", "cards.cut-point")),
    )
