"""Headings, wrapped paragraphs and tables of plain text, as wide as the screen allows."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Sequence

WIDTH = 80
_NARROW = 18  # a column is folded no further than this
_WHOLE = re.compile(r"(?<=[\d'±×]) (?=[\d±]|(?:mm|m|in|ft|%)(?:[\W²³]|$))")  # blanks where no line ends
_HELD = "\u00a0"


def heading(text: str) -> str:
    """A heading underlined, so that it stands out without colour."""
    return f"{text}\n{'=' * len(text)}"


def wrapped(text: str, *, first: str = "", rest: str | None = None, width: int = WIDTH) -> list[str]:
    """A paragraph folded at words; ``first`` stands before its first line, ``rest`` before the others."""
    indent = " " * len(first) if rest is None else rest
    return _folds(text, width, first, indent)


def table(
    head: Sequence[str],
    rows: Sequence[Sequence[str]],
    left: Sequence[bool] | None = None,
    *,
    below: Sequence[Sequence[str]] = (),
    width: int = WIDTH,
) -> list[str]:
    """Columns as wide as their widest entry, folded where the screen would not hold them.

    ``left`` says which columns read from the left; without it the first does and the others, numbers, line up on the
    right. The widest left column is folded first. A table that is too wide all the same comes row by row. ``below`` are
    lines to put under each row.
    """
    lefts = list(left) if left is not None else [i == 0 for i in range(len(head))]
    shown = [head, *rows] if any(head) else list(rows)
    widths = [max((_wide(row[i]) for row in shown), default=0) for i in range(len(head))]
    over = 2 + sum(widths) + 2 * (len(widths) - 1) - width
    while over > 0:
        wide = max((i for i, is_left in enumerate(lefts) if is_left), key=lambda i: widths[i], default=None)
        if wide is None or widths[wide] <= _NARROW:
            return _row_by_row(head, rows, below, width)
        kept = max(_NARROW, widths[wide] - over)
        over -= widths[wide] - kept
        widths[wide] = kept
    under: list[Sequence[str]] = [*[[]] * (len(shown) - len(rows)), *(below or [[]] * len(rows))]
    return [x for row, more in zip(shown, under, strict=True) for x in (*_folded(row, widths, lefts), *more)]


def _folded(row: Sequence[str], widths: Sequence[int], lefts: Sequence[bool]) -> list[str]:
    cells = [
        [x for part in cell.split("\n") for x in _folds(part, max(w, 1))] for cell, w in zip(row, widths, strict=True)
    ]
    lines = []
    for k in range(max(1, *(len(c) for c in cells))):
        parts = [c[k] if k < len(c) else "" for c in cells]
        placed = (p.ljust(w) if is_left else p.rjust(w) for p, w, is_left in zip(parts, widths, lefts, strict=True))
        lines.append("  " + "  ".join(placed).rstrip())
    return lines


def _folds(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    lines = textwrap.wrap(
        _WHOLE.sub(_HELD, text),
        width,
        initial_indent=first,
        subsequent_indent=rest,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace(_HELD, " ") for line in lines]


def _wide(cell: str) -> int:
    return max(map(len, cell.split("\n")))


def _row_by_row(
    head: Sequence[str], rows: Sequence[Sequence[str]], below: Sequence[Sequence[str]], width: int
) -> list[str]:
    lines: list[str] = []
    for row, more in zip(rows, below or [[]] * len(rows), strict=True):
        lines += wrapped(row[0].replace("\n", "; "), first="  ", width=width)
        for name, cell in zip(head[1:], row[1:], strict=True):
            if cell := cell.replace("\n", "; "):
                lines += wrapped(f"{name}: {cell}" if name else cell, first="      ", width=width)
        lines += more
    return lines
