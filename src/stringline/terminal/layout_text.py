"""Headings and tables of plain text."""

from __future__ import annotations

from collections.abc import Sequence


def heading(text: str) -> str:
    """A heading underlined, so that it stands out without colour."""
    return f"{text}\n{'=' * len(text)}"


def table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """Columns as wide as their widest entry; the first reads from the left, numbers line up on the right."""
    widths = [max(len(row[i]) for row in (head, *rows)) for i in range(len(head))]
    lines = []
    for row in (head, *rows):
        cells = [row[0].ljust(widths[0]), *(cell.rjust(w) for cell, w in zip(row[1:], widths[1:], strict=True))]
        lines.append("  " + "  ".join(cells).rstrip())
    return lines
