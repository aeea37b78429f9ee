"""Reading a sheet in a test: its tables by key, a cell's text, everything it says."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from stringline.sheets.model import Block, Bullets, Cell, Headline, Sheet, Table, walk


def headline(sheet: Sheet) -> Headline:
    """The sheet's verdict; there must be one, and one alone."""
    (found,) = (b for b in walk(sheet.blocks) if isinstance(b, Headline))
    return found


def tables(sheet: Sheet) -> dict[str, Table]:
    """The tables by key."""
    return {b.key: b for b in walk(sheet.blocks) if isinstance(b, Table)}


def column(table: Table | None, n: int = 0) -> list[str]:
    """The texts of one column; empty for no table."""
    return [] if table is None else [text_of(row[n]) for row in table.rows]


def text_of(cell: str | Cell) -> str:
    """What a cell says without its notes."""
    return cell if isinstance(cell, str) else cell.text


def bullets(sheet: Sheet) -> list[str]:
    """Every bullet."""
    return [t for b in walk(sheet.blocks) if isinstance(b, Bullets) for t in b.items]


def said(value: Sheet | Block) -> str:
    """Every text of a sheet or a block, one a line."""
    return "\n".join(_texts(value))


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple | list):
        for item in value:
            yield from _texts(item)
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        for f in dataclasses.fields(value):
            yield from _texts(getattr(value, f.name))
