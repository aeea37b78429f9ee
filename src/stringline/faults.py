"""Faults in what a person wrote: all of them at once, each with its place and its remedy."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with an input document.

    ``line`` counts from 1 and is None only where there is no line to point at (a missing file, a missing section).
    ``where`` is the path a person would look for, such as ``survey.tapes[3]``; ``wrong`` says what is wrong and
    ``right`` what would be right, both as plain sentences without a full stop.
    """

    code: str
    where: str
    wrong: str
    right: str
    line: int | None = None

    def __str__(self) -> str:
        place = f"line {self.line}, {self.where}" if self.line is not None else self.where
        return f"{place}: {self.wrong}; {self.right}."


class Faults(ValueError):
    """Raised once for a whole document; carries every fault found, in the order of their lines."""

    def __init__(self, document: str, faults: Iterable[Fault]) -> None:
        self.document = document
        self.faults = tuple(sorted(faults, key=lambda f: (f.line is None, f.line or 0)))
        super().__init__(f"{document}: {len(self.faults)} fault(s)")

    def __str__(self) -> str:
        n = len(self.faults)
        head = f"{self.document}: {n} fault{'' if n == 1 else 's'}, nothing was done."
        return "\n".join([head, *(f"  {f}" for f in self.faults)])
