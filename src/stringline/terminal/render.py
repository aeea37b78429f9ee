"""A sheet as plain text: the verdict first, then why, then the numbers. Words carry every meaning, signs none."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stringline.sheets.model import (
    Align,
    Block,
    Bullets,
    Cautions,
    Cell,
    Depth,
    Group,
    Heading,
    Headline,
    Notice,
    Sheet,
    Table,
    Text,
    Ticks,
    Working,
    Workings,
)
from stringline.terminal.lines import WIDTH, heading, table, wrapped


def sheet_text(sheet: Sheet, *, full: bool = False, width: int = WIDTH) -> str:
    """The whole sheet; what only explains or proves is left out unless ``full``."""
    lines = [heading(sheet.title), *blocks_lines(sheet.blocks, full=full, width=width)]
    return "\n".join(line.rstrip() for line in lines)


def sheets_text(sheets: Iterable[Sheet], *, full: bool = False, width: int = WIDTH) -> str:
    """Several sheets one below the other."""
    return "\n\n".join(sheet_text(s, full=full, width=width) for s in sheets)


def blocks_lines(blocks: Iterable[Block], *, full: bool = False, width: int = WIDTH) -> list[str]:
    """The lines of some blocks, a blank one before each heading, table and box."""
    shown = (Depth.FIRST, Depth.SCREEN, Depth.FULL) if full else (Depth.FIRST, Depth.SCREEN)
    lines: list[str] = []
    for block in blocks:
        if block.depth not in shown:
            continue
        new = blocks_lines(block.blocks, full=full, width=width) if isinstance(block, Group) else _of(block, width)
        begins = block.blocks[0] if isinstance(block, Group) and block.blocks else block
        apart = isinstance(begins, Heading | Headline | Notice | Table | Workings | Ticks | Cautions)
        after_heading = lines and lines[-1].endswith(":") and not isinstance(begins, Heading)
        if new and lines and lines[-1] and apart and not after_heading:
            lines.append("")
        lines += new
    return lines


def _of(block: Block, width: int) -> list[str]:
    match block:
        case Headline():
            return [x for t in (block.text, *block.more) for x in wrapped(t, width=width)]
        case Notice():
            first, *more = block.lines
            return [*wrapped(first, width=width), *(x for t in more for x in wrapped(t, first="  ", width=width))]
        case Heading():
            return [f"{block.text}:"]
        case Text():
            return wrapped(block.text, first="  " if block.style == "note" else "", width=width)
        case Bullets():
            return [x for t in block.items for x in wrapped(t, first="  - ", width=width)]
        case Ticks():
            marks = (f"  {n}. " if block.numbered else "  - " for n in range(1, len(block.items) + 1))
            return [x for m, t in zip(marks, block.items, strict=True) for x in wrapped(t.text, first=m, width=width)]
        case Cautions():
            return [x for t in block.items for x in wrapped(t.text, first="  ! ", width=width)]
        case Table():
            return list(_table(block, width))
        case Workings():
            return [line for w in block.figures for line in working_lines(w, width)]
    return []  # pictures, and lines to write on, are for paper


def _table(block: Table, width: int) -> Iterator[str]:
    kept = [i for i, c in enumerate(block.columns) if not c.paper]
    columns = [block.columns[i] for i in kept]
    if any(c.below for c in columns):
        yield from _with_below(block, kept, width)
        return
    if any(isinstance(cell, Cell) and cell.do for row in block.rows for cell in row):
        for row in block.rows:
            yield from _stacked([c.head for c in columns], [row[i] for i in kept], width)
        return
    cells = [[_cell(row[i]) for i in kept] for row in block.rows]
    yield from table([c.head for c in columns], cells, [c.align is not Align.RIGHT for c in columns], width=width)
    if block.note:
        yield from wrapped(block.note, first="  ", width=width)


def _with_below(block: Table, kept: list[int], width: int) -> list[str]:
    """Rows in columns, under each what its last columns say."""
    beside = [i for i in kept if not block.columns[i].below]
    return table(
        [block.columns[i].head for i in beside],
        [[_cell(row[i]) for i in beside] for row in block.rows],
        [block.columns[i].align is not Align.RIGHT for i in beside],
        below=[[x for i in kept if i not in beside for x in _under(row[i], width)] for row in block.rows],
        width=width,
    )


def _under(cell: str | Cell, width: int) -> Iterator[str]:
    c = Cell(cell) if isinstance(cell, str) else cell
    for text in (": ".join(t for t in (c.text, c.do) if t), *c.notes):
        if text:
            yield from wrapped(text, first="      ", width=width)


def _stacked(heads: list[str], cells: list[str | Cell], width: int) -> Iterator[str]:
    """A row that says what to do: its first two cells in a line, all they note below, then the others by name."""
    first, second, *others = (c if isinstance(c, Cell) else Cell(c) for c in cells)
    start = f"  {first.text}: "
    yield from wrapped(second.text, first=start, rest="    ", width=width)
    for text in (*first.notes, *second.notes, second.do):
        if text:
            yield from wrapped(text, first="    ", width=width)
    for head, cell in zip(heads[2:], others, strict=True):
        notes = f" ({'; '.join(cell.notes)})" if cell.notes else ""
        if cell.text or notes:
            told = f"{cell.text}{notes}" if cell.text else "; ".join(cell.notes)
            yield from wrapped(f"{head}: {told}", first="    ", width=width)


def _cell(cell: str | Cell) -> str:
    if isinstance(cell, str):
        return cell
    return "\n".join(t for t in (cell.text, *cell.notes, cell.do) if t)


def working_lines(w: Working, width: int = WIDTH) -> list[str]:
    """The working as one would do it on paper; behind it the key that finds the file which works it out."""
    lines = wrapped(w.rule, first="      ", width=width) if w.rule else []
    for r in w.rows:
        start = f"      {r.sign or ' '} {r.amount:>16}  "
        lines += wrapped(f"{r.label} [{r.standing or r.origin}]", first=start, rest=" " * len(start), width=width)
    origin = "" if w.rows else f" [{w.origin}]"
    behind = "; ".join(t for t in (f"σ {w.sigma}" if w.sigma else "", w.key) if t)
    start = f"      = {w.result:>16}  "
    lines += wrapped(f"{w.label}{origin} ({behind})", first=start, rest=" " * len(start), width=width)
    return [*lines, *(wrapped(w.rounded, first="      ", width=width) if w.rounded else [])]
