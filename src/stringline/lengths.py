"""Lengths as people write them. (Contract; see the class and function docstrings.)"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Unit(StrEnum):
    """What bare numbers mean and how results read."""

    FT_IN = "ft-in"
    FT = "ft"
    M = "m"
    MM = "mm"


class LengthError(ValueError):
    """A length that cannot be read; ``wrong`` and ``right`` are sentences without a full stop."""

    def __init__(self, wrong: str, right: str) -> None:
        self.wrong = wrong
        self.right = right
        super().__init__(f"{wrong}; {right}")


@dataclass(frozen=True, slots=True)
class Length:
    """A length read from text: metres, the text as written, and the notation it was written in.

    ``notation`` is one of ``ft-in``, ``ft``, ``in``, ``m``, ``cm``, ``mm``; slip hypotheses (a foot too many, digits
    swapped) are made in it.
    """

    m: float
    text: str
    notation: str
