"""The cover sheet: made once, to the survey, before the pour."""

from __future__ import annotations

from stringline.cutting import taken
from stringline.cutting.result import Piece
from stringline.cutting.taken import Given
from stringline.worked import Figure, Origin, Term


def cover_width(given: Given) -> Figure:
    """Width of the sheet: the layout's gauge and a hem on each side."""
    hem = given.system.fabric.hem_each_side_m
    return Figure.sum(
        "Cover, width",
        [
            given.layout.gauge.term("Gauge, from the layout"),
            Term("Hem, left", hem, Origin.CATALOGUE, "catalogue"),
            Term("Hem, right", hem, Origin.CATALOGUE, "catalogue"),
        ],
    )


def cover_length(given: Given) -> Figure:
    """Length of the sheet: the leading edge's travel, what stays on the drum, and the front hem."""
    fabric = given.system.fabric
    return Figure.sum(
        "Cover, length",
        [
            given.layout.travel.term("Travel of the leading edge"),
            Term("Stays on the drum when closed", fabric.on_drum_m, Origin.CATALOGUE, "catalogue"),
            Term("Front hem", fabric.front_hem_m, Origin.CATALOGUE, "catalogue"),
        ],
    )


def cover(given: Given) -> tuple[Piece, Piece]:
    """Width and length of the cover. Both keep the survey's basis: what was ordered is what was made."""
    width, length = cover_width(given), cover_length(given)
    material = "cover sheet"
    check = "Lay the cover out flat and dry when it comes. Check width and length before it goes on the drum."
    return (
        Piece(
            "cover-width",
            "CW",
            "Cover, width over the hems",
            "none",
            1,
            width,
            taken.SURVEY,
            material,
            (f"Order {given.say(width.value)} over the hems.", check),
            when="order",
        ),
        Piece(
            "cover-length",
            "CL",
            "Cover, length with front hem",
            "none",
            1,
            length,
            taken.SURVEY,
            material,
            (
                f"Order {given.say(length.value)}; {given.say(given.system.fabric.on_drum_m)} of it stays on the drum.",
                check,
            ),
            when="order",
        ),
    )
