"""A sheet as data for the typesetter: plain JSON, block for block, its pictures put in from the plan's drawings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from enum import Enum
from typing import Any

from stringline.book.pages_pictures import picture
from stringline.drawing.canvas import Drawing
from stringline.sheets.model import Block, Depth, Group, Picture, Sheet


def sheet_data(sheet: Sheet, drawn: Mapping[str, Drawing]) -> dict[str, Any]:
    """The sheet with everything that paper shows. A picture that the plan has no drawing of is left out."""
    return {
        "kind": "blocks",
        "key": sheet.key,
        "title": sheet.title,
        "joins": sheet.joins,
        "blocks": blocks_data(sheet.blocks, drawn, sheet.key),
    }


def blocks_data(blocks: tuple[Block, ...], drawn: Mapping[str, Drawing], prefix: str) -> list[dict[str, Any]]:
    """Some blocks, in their order; ``prefix`` keeps the names inside their pictures apart."""
    return [made for b in blocks if b.depth is not Depth.SCREEN and (made := _block(b, drawn, prefix)) is not None]


def _block(block: Block, drawn: Mapping[str, Drawing], prefix: str) -> dict[str, Any] | None:
    data: dict[str, Any] = {f.name: plain(getattr(block, f.name)) for f in fields(block)}
    data["block"] = type(block).__name__.lower()
    if isinstance(block, Group):
        data["blocks"] = blocks_data(block.blocks, drawn, prefix)
    if isinstance(block, Picture):
        if block.key not in drawn:
            return None
        if not block.title:
            del data["title"]  # what heads something is never printed empty
        data["picture"] = picture(drawn[block.key], id_prefix=f"{prefix}-{block.key}")
    return data


def plain(value: Any) -> Any:
    """Values of a block as JSON knows them; a cell that is a bare text becomes a cell."""
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, tuple):
        return [plain(v) for v in value]
    if isinstance(value, Block):
        return None  # the blocks of a group are put in by its own rule
    if hasattr(value, "__dataclass_fields__"):
        return {f.name: plain(getattr(value, f.name)) for f in fields(value)}
    return value
