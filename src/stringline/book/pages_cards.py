"""Cut cards, one a piece: the length large, its working as on paper, the strip to scale, steps and cautions."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from stringline.book import pages_words as words
from stringline.book.pages_made import sticks_part, void_words
from stringline.book.pages_packing import laid_out, packed, step_columns
from stringline.book.pages_paper import HEADING
from stringline.book.pages_pictures import picture
from stringline.cutting.result import CutList, Piece
from stringline.drawing.canvas import Drawing
from stringline.judging import Stage
from stringline.lengths import Unit
from stringline.plan import Plan
from stringline.sheets.pictures.draw_strip import strip_drawing
from stringline.sheets.voice import Voice
from stringline.worked import Figure, Origin

_SIDES = {"left": "left side", "right": "right side", "both": "both sides", "none": ""}
_POURED = Stage.FIT_OUT.rank  # from here on there is something built to measure
_COVER = ("cover-width", "cover-length")
_ROW_MM, _NOTE_MM, _STICKS_MM = 5.2, 5.0, 22.5  # rows of the index, notes over it, words round the sticks


def cards_sheet(
    plan: Plan, cuts: CutList, free_mm: tuple[float, float], sticks: Drawing | None = None
) -> dict[str, Any]:
    """All cut cards in the order of the list, with an index and the drawing of which stick gives what.

    ``free_mm`` is a sheet's free width and height.

    A later card may fill the room that is left on an earlier sheet; the index says where each one went.
    """
    unit = plan.job.unit
    say = Voice(unit).say
    voids = void_words(plan)
    groups = _groups(cuts.pieces)
    cards = [{**_card(g, n, unit, free_mm), "void": voids.get(g[0].key, "")} for n, g in enumerate(groups)]
    laid = [laid_out(card, free_mm[0]) for card in cards]
    heights = [height for height, _ in laid]
    which = None if plan.sticks is None or sticks is None else sticks_part(plan.sticks, sticks, unit)
    index_mm = HEADING + _ROW_MM * (sum(len(g) for g in groups) + 1) + _NOTE_MM * len(cuts.notes)
    index_mm += 0.0 if which is None or sticks is None else sticks.paper_size_mm[1] + _STICKS_MM
    return {
        "kind": "cards",
        "title": "Cut cards",
        "notes": [say(n) for n in cuts.notes],
        "index": [
            {
                "mark": piece.mark,
                "name": say(piece.name),
                "count": piece.count,
                "length": words.amount(piece.figure.value, piece.figure.kind, unit),
                "from": stands_on(piece),
                "card": n,
            }
            for n, group in enumerate(groups)
            for piece in group
        ],
        "sticks": which,
        "cards": [{**c, "share": s, "breaks": h > free_mm[1]} for c, (h, s) in zip(cards, laid, strict=True)],
        "order": packed(heights, max(0.0, free_mm[1] - index_mm), free_mm[1]),
    }


def _groups(pieces: Sequence[Piece]) -> list[tuple[Piece, ...]]:
    """A card a piece; the cover's width and length, which are ordered in one breath, share one."""
    both = tuple(p for p in pieces if p.key in _COVER)
    if len(both) != len(_COVER):
        return [(p,) for p in pieces]
    return [both if p is both[0] else (p,) for p in pieces if p is both[0] or p not in both]


def _card(group: tuple[Piece, ...], number: int, unit: Unit, free_mm: tuple[float, float]) -> dict[str, Any]:
    piece = group[0]
    say = Voice(unit).say
    has_strip = len(group) == 1 and bool(piece.segments or piece.marks)
    strip = strip_drawing(piece, Voice(unit), free_mm[0] - 6.0) if has_strip else None
    lengths = [words.amount(p.figure.value, p.figure.kind, unit) for p in group]
    steps = list(dict.fromkeys(say(step) for p in group for step in p.steps))
    return {
        "key": piece.key,
        "mark": " ".join(p.mark for p in group),
        "name": say(piece.name) if len(group) == 1 else "Cover sheet, width × length",
        "side": _SIDES.get(piece.side, piece.side),
        "count": piece.count,
        "length": " × ".join(lengths),
        "from": stands_on(piece),
        "provisional": stands_on(piece) == "survey" and Stage(piece.when).rank >= _POURED,
        "material": say(piece.material),
        "when": piece.when,
        "workings": [words.working(p.figure, unit) for p in group],
        "picture": None if strip is None else picture(strip, id_prefix=f"strip{number}"),
        "steps": steps,
        "columns": step_columns(steps),
        "cautions": list(dict.fromkeys(say(caution) for p in group for caution in p.cautions)),
    }


def stands_on(piece: Piece) -> str:
    """``as-built`` or ``survey``; ``catalogue`` for a length that no reading has a part in."""
    return piece.basis if _measured(piece.figure) else "catalogue"


def _measured(figure: Figure) -> bool:
    fixed = (Origin.CATALOGUE, Origin.CHOSEN, Origin.PRACTICE)
    if figure.terms:
        return any(t.origin not in fixed for t in figure.terms)
    return figure.origin not in fixed
