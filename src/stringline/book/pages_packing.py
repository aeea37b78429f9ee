"""How tall a cut card will be, and which cards share a sheet."""

from __future__ import annotations

import re
from collections.abc import Sequence

from stringline.drawing.lettering import CAP_HEIGHT, width_mm
from stringline.lengths import INCH
from stringline.sheets.cards import Card
from stringline.sheets.model import Item, Row, Working

GAP_MM = 4.0  # between cards
_PT_MM = 1000 * INCH / 72
# From one line to the next of steps, workings and cautions, and what stands between the lines. The typesetter's lines
# are as tall as their capitals, so n lines take n pitches less one space between.
_STEP_MM, _STEP_BETWEEN_MM = 4.09, 1.76
_ROW_MM = 3.81
_CAUTION_MM = 3.69
_SHARES = (
    0.40,
    0.36,
    0.44,
    0.48,
    0.32,
    0.52,
    0.56,
    0.60,
)  # of a card's width for its working; the first are liked best
_FRAME_MM = 3.0
_BREAKS = re.compile(r"[^\s\u200b-]*(?:-|[\s\u200b]+|$)")


def packed(heights: Sequence[float], first_mm: float, sheet_mm: float) -> list[int]:
    """The order in which things go on sheets, in the order given as far as that wastes no sheet.

    Each goes to the first sheet that has room for it; tallest first, where that saves a sheet. ``first_mm`` is what the
    first sheet has left. A thing taller than a sheet has one of its own.
    """
    asked = list(range(len(heights)))
    plain = _fitted(heights, asked, first_mm, sheet_mm)
    tall = _fitted(heights, sorted(asked, key=lambda k: -heights[k]), first_mm, sheet_mm)
    sheets = plain if len(plain) <= len(tall) else tall
    # Within a sheet, and from sheet to sheet, the order given; what shares the first sheet comes first.
    ordered = [sheets[0], *sorted(sheets[1:], key=min)]
    return [k for sheet in ordered for k in sorted(sheet)]


def _fitted(heights: Sequence[float], order: Sequence[int], first_mm: float, sheet_mm: float) -> list[list[int]]:
    full = sheet_mm + GAP_MM  # a gap at the head of a sheet is left out
    room: list[float] = [first_mm]
    sheets: list[list[int]] = [[]]
    for k in order:
        needs = heights[k] + GAP_MM
        at = next((n for n, left in enumerate(room) if needs <= left or left == full), len(room))
        if at == len(room):
            room.append(full)
            sheets.append([])
        room[at] -= needs
        sheets[at].append(k)
    return sheets


def laid_out(card: Card, strip_mm: float, sheet_mm: float) -> tuple[float, float]:
    """How a cut card is laid out on a sheet of that free width: its height, and the share of its width for the working.

    ``strip_mm`` is the height of its drawing, 0 for none. The height is right within a line or so, and rather too much.
    The share is the one that makes it least.
    """
    wide = sheet_mm - 2 * _FRAME_MM
    columns = step_columns(card.steps)
    share = min(_SHARES, key=lambda s: round(_middle_mm(card, columns, wide, s)))
    said = (f"{card.caution_head} {c.text}" for c in card.cautions)
    cautions = sum(_lines([(text, 9.0)], wide - 3.4) * _CAUTION_MM + 1.4 for text in said)
    strip = strip_mm + 0.5 if strip_mm else 0.0
    notes = 9.0 if card.provisional else 0.0
    around = 2 * _FRAME_MM + _head_mm(card, wide) + notes + 10.5
    return around + _middle_mm(card, columns, wide, share) + (1.2 + cautions if cautions else 0.0) + strip, share


def _middle_mm(card: Card, columns: Sequence[Sequence[Item]], wide: float, share: float) -> float:
    """Working and steps: side by side, or the steps under two workings."""
    workings = card.workings
    gaps = 4.0 * (len(columns) - 1)
    if len(workings) > 1:
        own = (wide - 5.0 * (len(workings) - 1)) / len(workings)
        steps = _steps_mm(columns, (wide - gaps) / max(len(columns), 1))
        return max(_working_mm(w, own) for w in workings) + 10.0 + steps
    left = (wide - 5.0) * share
    across = (wide - 5.0 - left - gaps) / max(len(columns), 1)
    return 6.4 + max(_working_mm(workings[0], left), _steps_mm(columns, across))


def _head_mm(card: Card, wide: float) -> float:
    """The head of a card: taller where the name or the material wraps beside the mark and the length."""
    mark = 34.0 if len(card.mark) > 8 else _run(card.mark, 17.0, "bold") + 4.4
    length = _run(card.length, 22.0 if len(card.length) > 14 else 29.0, "bold")
    room = max(20.0, wide - mark - length - 7.0)
    return 12.5 + 5.2 * (_lines([(card.name, 12.3)], room) - 1) + 4.1 * (_lines([(card.made_of, 9.7)], room) - 1)


def step_columns(steps: Sequence[Item]) -> tuple[tuple[Item, ...], ...]:
    """Steps in one column, or in two of about the same height where there are more than three."""
    if len(steps) <= 3:
        return (tuple(steps),) if steps else ()
    lines = [max(2.0, len(s.text) / 22) for s in steps]
    half = min(range(1, len(steps)), key=lambda k: max(sum(lines[:k]), sum(lines[k:])))
    return tuple(steps[:half]), tuple(steps[half:])


def _steps_mm(columns: Sequence[Sequence[Item]], wide: float) -> float:
    tallest = 0.0
    n = 0
    for column in columns:
        tall = 0.0
        for step in column:
            n += 1
            tall += max(6.0, _lines([(f"{n}. {step.text}", 10.0)], wide - 9.2) * _STEP_MM - _STEP_BETWEEN_MM) + 1.6
        tallest = max(tallest, tall - 1.6)
    return tallest


def _working_mm(w: Working, wide: float) -> float:
    if not w.rows:
        said = [(f"{w.result} {w.label} ", 10.0), (_note(w), 8.0)]
        return _lines(said, wide) * _ROW_MM + 1.0
    amounts = [_run(r.amount, 10.0) for r in w.rows] + [_run(w.result, 10.0, "bold")]
    room = wide - 3.2 - max(amounts) - 3.4
    down = 1.4 + _lines([(w.rule, 10.0)], wide) * _ROW_MM if w.rule else 0.0
    for row in w.rows:
        down += _lines([(row.label + " ", 10.0), (_note(row), 8.0)], room) * _ROW_MM
    down += _lines([(w.label, 10.0), (f", σ {w.sigma}" if w.sigma else "", 8.0), (f" {w.key}", 5.5)], room) * _ROW_MM
    return down + (4.0 if w.rounded else 0.0)


def _note(said: Row | Working) -> str:
    return f"{said.origin}, σ {said.sigma}" if said.sigma else said.origin


def _run(text: str, size_pt: float, weight: str = "regular") -> float:
    """Length of a text on one line."""
    return width_mm(text, size_pt * _PT_MM * CAP_HEIGHT, weight)


def _lines(parts: Sequence[tuple[str, float]], width: float) -> int:
    """Lines that texts of the given sizes take, one after the other, broken at spaces and behind hyphens."""
    count, used = 1, 0.0
    for text, size in parts:
        for word in _BREAKS.findall(text):
            long = _run(word.rstrip(), size)
            if used > 0.0 and used + long > width:
                count, used = count + 1, 0.0
            while long > width:  # a word that no line holds is broken anywhere
                count, long = count + 1, long - width
            used += _run(word, size)
    return count
