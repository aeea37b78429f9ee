"""What the ordering room gives back: order, advice on it, the order that went out, and what the pour changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from stringline.finding import Code
from stringline.worked import Figure

SAME_M = 0.0008  # half a sixteenth: nobody sees it, and no card is re-issued for it


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One line to order: what, of whom, how many, and the figures that fix it; ``note`` "" where there is none."""

    key: str
    item: Code
    supplier: Code
    count: int
    figures: tuple[Figure, ...]
    note: Code = ""


@dataclass(frozen=True, slots=True)
class Order:
    """What to order, from the survey and layout; ``basis`` states what it was made from."""

    basis: Code
    lines: tuple[OrderLine, ...]
    notes: tuple[Code, ...] = ()


@dataclass(frozen=True, slots=True)
class FitProbability:
    """How likely each ordered part fits what will be built, and how likely all do, 0 to 1."""

    cover_width: float
    leading_edge: float
    drum: float
    cover_length: float
    all: float


@dataclass(frozen=True, slots=True)
class Choice:
    """One way to go on: how likely everything then fits, and the cost to expect where costs are known."""

    key: str  # now | reading | wait
    title: Code
    fit: FitProbability
    figures: tuple[Figure, ...]  # the probabilities with what they are made of, that of all parts last
    cost: Figure | None


@dataclass(frozen=True, slots=True)
class Advice:
    """Choices, the one to take (its key), and why, verdict first."""

    choices: tuple[Choice, ...]
    take: str
    why: Code

    def choice(self, key: str) -> Choice:
        """The choice with that key; KeyError where there is none."""
        for c in self.choices:
            if c.key == key:
                return c
        raise KeyError(key)


@dataclass(frozen=True, slots=True)
class Placed:
    """Figures as they were ordered, by key; ``date`` and ``mark`` as written, "" where they were not."""

    figures: Mapping[str, Figure]
    date: str = ""
    mark: str = ""


class Does(StrEnum):
    """What a difference asks for, from nothing to the worst."""

    FITS = "fits"
    TAKE_UP = "take up"
    TRIM = "trim"
    MEASURE = "measure again"
    NOT_MEASURED = "not measured"
    REORDER = "order again"

    @property
    def word(self) -> Code:
        """Its name for a person."""
        return f"ordering.does.{self.value}"


@dataclass(frozen=True, slots=True)
class Line:
    """One ordered thing. ``change`` is what is needed now less what was ordered; None where that is not known."""

    key: str
    item: Code
    designed: Figure | None
    ordered: Figure | None
    needed: Figure | None
    change: Figure | None
    does: Does
    says: Code


@dataclass(frozen=True, slots=True)
class Reissued:
    """A cut card whose figure changed: the old one is void."""

    key: str
    mark: str
    name: Code
    old: Figure
    new: Figure
    revision: str


@dataclass(frozen=True, slots=True)
class Difference:
    """Designed, ordered and built side by side, verdict first; ``basis`` says what is compared with what."""

    verdict: Code
    basis: Code
    lines: tuple[Line, ...]
    reissued: tuple[Reissued, ...]
    changed_since_order: bool
    notes: tuple[Code, ...] = ()

    def line(self, key: str) -> Line:
        """The line with that key; KeyError where there is none."""
        for found in self.lines:
            if found.key == key:
                return found
        raise KeyError(key)
