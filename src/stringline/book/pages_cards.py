"""Cut cards, one a piece: the length large, its working as on paper, the strip to scale, steps and cautions."""

from __future__ import annotations

import math
from typing import Any

from stringline.book import pages_words as words
from stringline.book.draw_strip import strip_drawing
from stringline.book.lettering import width_mm
from stringline.book.pages_pictures import picture
from stringline.cutting.result import CutList, Piece
from stringline.judging import Stage
from stringline.lengths import Unit
from stringline.plan import Plan
from stringline.worked import Figure, Origin

_SIDES = {"left": "left side", "right": "right side", "both": "both sides", "none": ""}
_POURED = Stage.FIT_OUT.rank  # from here on there is something built to measure
_PT_MM = 25.4 / 72


def cards_sheet(plan: Plan, cuts: CutList, free_mm: tuple[float, float]) -> dict[str, Any]:
    """All cut cards in the order of the list, with an index; ``free_mm`` is a sheet's free width and height."""
    unit = plan.job.unit
    cards = [_card(piece, n, unit, free_mm) for n, piece in enumerate(cuts.pieces)]
    return {
        "kind": "cards",
        "title": "Cut cards",
        "notes": list(cuts.notes),
        "index": [{k: c[k] for k in ("mark", "name", "count", "length", "from")} for c in cards],
        "cards": cards,
    }


def _card(piece: Piece, number: int, unit: Unit, free_mm: tuple[float, float]) -> dict[str, Any]:
    width = free_mm[0] - 6.0
    has_strip = bool(piece.segments or piece.marks)
    card: dict[str, Any] = {
        "key": piece.key,
        "mark": piece.mark,
        "name": piece.name,
        "side": _SIDES.get(piece.side, piece.side),
        "count": piece.count,
        "length": words.amount(piece.figure.value, piece.figure.kind, unit),
        "from": stands_on(piece),
        "provisional": stands_on(piece) == "survey" and Stage(piece.when).rank >= _POURED,
        "material": piece.material,
        "when": piece.when,
        "working": words.working(piece.figure, unit),
        "picture": picture(strip_drawing(piece, unit, width), id_prefix=f"strip{number}") if has_strip else None,
        "steps": list(piece.steps),
        "cautions": list(piece.cautions),
    }
    # A card is half a sheet where it fits there; else it has a sheet to itself, lettered larger if that fits; one that
    # no sheet can hold may break.
    half, whole = (free_mm[1] - 4.0) / 2.0 - 6.0, free_mm[1] - 6.0
    plain = _height_mm(card, width, 1.0)
    card["large"] = plain > half and _height_mm(card, width, _LARGER) <= whole
    card["breaks"] = plain > whole
    return card


def stands_on(piece: Piece) -> str:
    """``as-built`` or ``survey``; ``catalogue`` for a length that no reading has a part in."""
    return piece.basis if _measured(piece.figure) else "catalogue"


def _measured(figure: Figure) -> bool:
    fixed = (Origin.CATALOGUE, Origin.CHOSEN, Origin.PRACTICE)
    if figure.terms:
        return any(t.origin not in fixed for t in figure.terms)
    return figure.origin not in fixed


# --- how tall a card will be ------------------------------------------------------------------------------------------

_LARGER = 1.25  # lettering of a card that has a sheet to itself
_LEFT_SHARE = 0.46  # of the width, for working and cautions; steps have the rest


def _height_mm(card: dict[str, Any], width: float, by: float) -> float:
    """Height of a card lettered ``by`` times larger, within a few millimetres and rather too much."""
    left, right = (width - 5.0) * _LEFT_SHARE, (width - 5.0) * (1.0 - _LEFT_SHARE)
    w = card["working"]
    down = 7.0
    if w["rule"]:
        down += _lines(_run("Rule: " + w["rule"], 9.5 * by), left) * 3.8 * by + 1.4
    for row in w["rows"]:
        said = _run(row["label"], 9.5 * by) + _run(f" {row['origin']}, σ {row['sigma']}", 8.0)
        down += _lines(said, left - 22.0 * by) * 3.8 * by + 1.5
    down += 5.5 * by + (4.0 * by if w["rounded"] else 0.0)
    down += sum(_lines(_run("Caution. " + c, 9.0 * by), left - 3.0) * 3.8 * by + 3.2 for c in card["cautions"])
    gap = 1.4 if by == 1.0 else 2.6
    across = 6.0 + sum(
        max(6.0 * by, _lines(_run(f"{n}. {step}", 9.0 * by), right - 3.0 - 6.0 * by) * 3.8 * by) + gap
        for n, step in enumerate(card["steps"], 1)
    )
    strip = 0.0 if card["picture"] is None else card["picture"]["height_mm"] + 2.0
    return 19.5 + (9.0 if card["provisional"] else 0.0) + max(down, across) + strip


def _run(text: str, size_pt: float) -> float:
    """Length of a text on one line."""
    return width_mm(text, size_pt * _PT_MM * 0.66)


def _lines(run: float, width: float) -> int:
    """Lines that a run of text takes; a word that wraps early is allowed for."""
    return max(1, math.ceil(run / (width * 0.94)))
