"""Cut cards, one a piece: the length large, its working as on paper, the strip to scale, steps and cautions."""

from __future__ import annotations

from typing import Any

from stringline.book import pages_words as words
from stringline.book.draw_strip import strip_drawing
from stringline.book.pages_pictures import picture
from stringline.cutting.result import CutList, Piece
from stringline.lengths import Unit
from stringline.plan import Plan

_SIDES = {"left": "left side", "right": "right side", "both": "both sides", "none": ""}
_BASIS = {
    "survey": "from the SURVEY: measure again as built before cutting",
    "as-built": "from the AS-BUILT readings",
}


def cards_sheet(plan: Plan, cuts: CutList, width_mm: float) -> dict[str, Any]:
    """All cut cards, in the order of the list."""
    return {
        "kind": "cards",
        "title": "Cut cards",
        "notes": list(cuts.notes),
        "cards": [_card(piece, n, plan.job.unit, width_mm) for n, piece in enumerate(cuts.pieces)],
    }


def _card(piece: Piece, number: int, unit: Unit, width_mm: float) -> dict[str, Any]:
    strip = piece.segments or piece.marks
    return {
        "key": piece.key,
        "mark": piece.mark,
        "name": piece.name,
        "side": _SIDES.get(piece.side, piece.side),
        "count": piece.count,
        "length": words.amount(piece.figure.value, piece.figure.kind, unit),
        "basis": _BASIS.get(piece.basis, piece.basis),
        "provisional": piece.basis == "survey" and piece.when not in ("survey", "layout", "order", "rough-in"),
        "material": piece.material,
        "when": piece.when,
        "working": words.working(piece.figure, unit),
        "picture": picture(strip_drawing(piece, unit, width_mm), id_prefix=f"strip{number}") if strip else None,
        "steps": list(piece.steps),
        "cautions": list(piece.cautions),
    }
