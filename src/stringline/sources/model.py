"""One entry for each standard, handbook, practice or memory that a number leans on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Standing(StrEnum):
    """How far a source may be trusted as quoted here."""

    VERIFIED = "verified"  # recomputed, and agrees
    SEEN = "seen"  # read in a copy of the source, not recomputed
    SECOND_HAND = "second-hand"  # read in somebody else's quotation
    FROM_MEMORY = "from memory"  # recalled, not looked up
    PRACTICE = "practice, no source"  # custom of the trade
    OWN = "own derivation"  # derived here; the test that checks it says how


@dataclass(frozen=True, slots=True)
class Source:
    """A citable source: a stable key, a title with edition, and the place in it."""

    key: str
    title: str
    standing: Standing
    where: str = ""
    note: str = ""
