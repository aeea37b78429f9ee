"""A sheet: one section of a plan in one person's words, ready for a terminal, a book or a page to set.

A sheet holds no number that is still to be written and no code that is still to be said. What it holds is typed, so
that a renderer never looks into a text: a verdict has its sign, a number stands to the right, a box waits for a pencil.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from stringline.judging import Verdict


class Depth(StrEnum):
    """Where a block is shown: everywhere, or not on a small screen unless all is asked for, or on paper alone."""

    FIRST = "first"
    FULL = "full"
    PAPER = "paper"
    SCREEN = "screen"  # a terminal or a page, for what paper says by other means


class Align(StrEnum):
    """How a column stands."""

    LEFT = "left"
    RIGHT = "right"
    CENTER = "center"


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """What every part of a sheet has. ``joined`` keeps it together with the block after it."""

    depth: Depth = Depth.FIRST
    joined: bool = False


@dataclass(frozen=True, slots=True)
class Headline(Block):
    """The verdict, large, in a box: what the sheet comes to in a sentence, and what to do first."""

    text: str
    verdict: Verdict | None = None
    more: tuple[str, ...] = ()
    tick: bool = False


@dataclass(frozen=True, slots=True)
class Notice(Block):
    """A box that must not be passed over: the first line large, the others below it."""

    lines: tuple[str, ...]
    verdict: Verdict | None = None
    tick: bool = False


@dataclass(frozen=True, slots=True)
class Heading(Block):
    """A heading within a sheet; ``level`` 2 or 3."""

    text: str
    level: int = 2


@dataclass(frozen=True, slots=True)
class Text(Block):
    """A paragraph: ``plain``, ``strong``, ``lead`` (larger) or ``note`` (small and grey)."""

    text: str
    style: str = "plain"


@dataclass(frozen=True, slots=True)
class Bullets(Block):
    """Sentences one below the other."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Item:
    """A step or a thing not to forget, with the key of the source that says so where there is one."""

    text: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class Ticks(Block):
    """Things to do, each with a box to tick; ``numbered`` where their order matters."""

    items: tuple[Item, ...]
    numbered: bool = False
    columns: int = 1


@dataclass(frozen=True, slots=True)
class Cautions(Block):
    """What can hurt somebody here, each with its sign and the key of the source that says so."""

    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table. ``width_mm`` on paper; None takes what is left.

    ``paper`` columns are for a pencil, or too wide for a screen; on a screen a column ``below`` stands below its row.
    """

    head: str
    align: Align = Align.LEFT
    width_mm: float | None = None
    paper: bool = False
    below: bool = False


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell that is more than a text: with a sign, strong, struck through, notes below it, or left to fill in."""

    text: str = ""
    verdict: Verdict | None = None
    strong: bool = False
    struck: bool = False
    notes: tuple[str, ...] = ()
    do: str = ""  # what to do, with a box to tick
    tick: bool = False
    blank: bool = False  # a box to write into
    page_of: str = ""  # on paper: the number of the sheet where the thing of that name stands
    value: float | None = None  # the number behind the text, in SI, for a page that sorts


@dataclass(frozen=True, slots=True)
class Table(Block):
    """Rows under a head. ``key`` names it for a page; ``note`` explains its columns.

    ``tall`` rows are written into; below them paper has room for ``spare`` more.
    ``abreast`` stands so many parts of the rows side by side on paper, read down the first.
    """

    key: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str | Cell, ...], ...]
    note: str = ""
    tall: bool = False
    small: bool = False
    spare: int = 0
    abreast: int = 1

    def __post_init__(self) -> None:
        for row in self.rows:
            if len(row) != len(self.columns):
                raise ValueError(f"table '{self.key}': a row of {len(row)} cells under {len(self.columns)} columns")


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a working: its sign, its amount, what it is, who says so, and its σ where known.

    ``standing`` says more about who says so: how far the source may be trusted, for a screen that lists no sources.
    """

    sign: str
    amount: str
    label: str
    origin: str
    sigma: str = ""
    standing: str = ""


@dataclass(frozen=True, slots=True)
class Working:
    """A figure as a person works it on paper. ``key`` finds the file that works it out.

    ``rounded`` says so where each line is rounded and they do not add up to the last digit.
    """

    key: str
    label: str
    result: str
    rows: tuple[Row, ...] = ()
    rule: str = ""
    sigma: str = ""
    origin: str = ""
    rounded: str = ""


@dataclass(frozen=True, slots=True)
class Workings(Block):
    """Figures with their workings, side by side where ``columns`` says so."""

    figures: tuple[Working, ...]
    columns: int = 1


@dataclass(frozen=True, slots=True)
class Picture(Block):
    """A drawing by its key among the plan's drawings. ``fills`` gives it the rest of the sheet.

    ``scaled`` says its scale behind the title.
    """

    key: str
    title: str = ""
    fills: bool = False
    scaled: bool = False


@dataclass(frozen=True, slots=True)
class Blanks(Block):
    """Lines to write on, each with its word below."""

    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Group(Block):
    """Blocks that stay on one sheet of paper; ``columns`` sets them side by side."""

    blocks: tuple[Block, ...]
    columns: int = 1


@dataclass(frozen=True, slots=True)
class Sheet:
    """One section of a plan.

    ``key`` is the section's name; ``joins`` lets it share a page of the book with the sheet before it. ``verdict`` is
    the sheet's own in a sentence, for lists of sheets and the first line of a screen.
    """

    key: str
    title: str
    blocks: tuple[Block, ...]
    verdict: str = ""
    joins: bool = False


def walk(blocks: tuple[Block, ...]) -> list[Block]:
    """Every block, those of groups in their place."""
    return [b for block in blocks for b in (walk(block.blocks) if isinstance(block, Group) else [block])]
