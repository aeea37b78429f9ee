"""The cover sheet: made once, to the survey before the pour, or to what was built where the order waited for it."""

from __future__ import annotations

from stringline.cutting import basis as taken
from stringline.cutting.basis import Given
from stringline.cutting.result import Piece
from stringline.finding import finding
from stringline.layout import asked
from stringline.worked import Figure


def cover_width(given: Given) -> Figure:
    """Width of the sheet: the layout's gauge + 2 · hem.

    Where the order waited for the pour, the middle between the smallest and the largest gauge as built: the hems then
    take up as little as can be either way.
    """
    stations = taken.gauges(given) if given.after_pour else ()
    if not stations:
        return asked.cover_width(given.system, given.layout.gauge.term("cutting.gauge-laid-out"))
    (near, least), (far, most) = (f(stations, key=lambda g: g[1].value) for f in (min, max))
    return asked.cover_width(
        given.system,
        least.term(finding("cutting.half-smallest", station_m=float(near)), times=0.5),
        most.term(finding("cutting.half-largest", station_m=float(far)), times=0.5),
    )


def cover_length(given: Given) -> Figure:
    """Length of the sheet: the leading edge's travel, the way to the drum, what stays on it, and the front hem."""
    sides = [taken.channel(given, s) for s in ("left", "right")] if given.after_pour else []
    built = [t.figure for t in sides if t.basis == taken.AS_BUILT]
    moved = []
    if built:
        shorter = min(built, key=lambda f: f.value)
        moved = [
            shorter.term("cutting.channel-shorter"),
            given.layout.channel.term("cutting.channel-laid-out", times=-1.0),
        ]
    return asked.cover_length(given.system, given.layout.travel.term("cutting.travel"), *moved)


def cover(given: Given) -> tuple[Piece, Piece]:
    """Width and length of the cover, on the basis that they were ordered from: what was ordered is what was made."""
    width, length = cover_width(given), cover_length(given)
    built = taken.AS_BUILT if given.after_pour else taken.SURVEY
    return (
        Piece(
            "cover-width",
            "CW",
            "cutting.cover-width",
            "none",
            1,
            width,
            built,
            "cards.of-sheet",
            (finding("cards.sheet-width", length_m=width.value), "cards.sheet-check"),
            when="order",
        ),
        Piece(
            "cover-length",
            "CL",
            "cutting.cover-length",
            "none",
            1,
            length,
            built,
            "cards.of-sheet",
            (
                finding("cards.sheet-length", length_m=length.value, on_drum_m=given.system.fabric.on_drum_m),
                "cards.sheet-check",
            ),
            when="order",
        ),
    )
