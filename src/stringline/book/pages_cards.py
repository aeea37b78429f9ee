"""Cut cards as data of pages: how each is laid out, its strip to scale, and in which order they fill the sheets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields
from typing import Any

from stringline.book.blocks import plain, sheet_data
from stringline.book.pages_packing import laid_out, packed, step_columns
from stringline.book.pages_paper import HEADING
from stringline.book.pages_pictures import picture
from stringline.drawing.canvas import Drawing
from stringline.sheets.cards import Card, card_name
from stringline.sheets.model import Bullets, Group, Sheet, Table
from stringline.sheets.pictures.draw_strip import strip_drawing
from stringline.sheets.voice import Voice

_ROW_MM, _NOTE_MM, _STICKS_MM = 5.9, 5.0, 22.5  # rows of the index, notes over it, words round the sticks
_INSET_MM = 6.0  # a card's frame, left and right


def cards_data(
    index: Sheet, cards: Sequence[Card], drawn: Mapping[str, Drawing], free_mm: tuple[float, float], voice: Voice
) -> dict[str, Any]:
    """The index and all cards. ``free_mm`` is a sheet's free width and height.

    A later card may fill the room that is left on an earlier sheet; the index says where each one went.
    """
    width, height = free_mm
    made: list[dict[str, Any]] = []
    heights: list[float] = []
    for n, card in enumerate(cards):
        strip = None if card.drawn is None else strip_drawing(card.drawn, voice, width - _INSET_MM)
        tall, share = laid_out(card, 0.0 if strip is None else strip.paper_size_mm[1], width)
        heights.append(tall)
        made.append(
            {
                **{f.name: plain(getattr(card, f.name)) for f in fields(card) if f.name != "pieces"},
                "label": card_name(n),
                "picture": None if strip is None else picture(strip, id_prefix=f"strip{n}"),
                "columns": plain(step_columns(card.steps)),
                "share": share,
                "breaks": tall > height,
            }
        )
    order = packed(heights, max(0.0, height - _index_mm(index, drawn)), height)
    return {**sheet_data(index, drawn), "kind": "cards", "cards": made, "order": order}


def _index_mm(index: Sheet, drawn: Mapping[str, Drawing]) -> float:
    """How tall the index is, with the sticks below it."""
    tall = HEADING
    for block in index.blocks:
        if isinstance(block, Table):
            tall += _ROW_MM * (len(block.rows) + 1)
        elif isinstance(block, Bullets):
            tall += _NOTE_MM * len(block.items)
        elif isinstance(block, Group):
            tall += _STICKS_MM + (drawn["sticks"].paper_size_mm[1] if "sticks" in drawn else 0.0)
    return tall
