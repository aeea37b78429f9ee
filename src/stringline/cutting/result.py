"""What the cutting room gives back: pieces and parts, every number a worked figure."""

from __future__ import annotations

from dataclasses import dataclass

from stringline.finding import Code
from stringline.worked import Figure

SAW, DRILL, PINCH, POWER = "cards.saw", "cards.drill", "cards.pinch", "cards.power"
ENTRAPMENT, ROPE, LIFT = "cards.entrapment", "cards.rope", "cards.lift"
"""Cautions: each stands on the card of the piece whose steps can hurt somebody."""


@dataclass(frozen=True, slots=True)
class Mark:
    """Something at a place along a piece, measured from its housing end: a joint, pin, screw or end.

    ``kind``: joint, pin, screw, factory-end, cut-end, wedge-end or note.
    """

    at_m: float
    kind: str
    label: Code


@dataclass(frozen=True, slots=True)
class Segment:
    """One stick or part of one in a run, from the housing end: ``whole`` sticks keep both factory ends."""

    start_m: float
    length_m: float
    whole: bool
    stick_m: float
    label: Code


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing to cut, and everything that its card says."""

    key: str  # stable: "track-left"
    mark: str  # short mark chalked on the piece: "T-L"
    name: Code  # "Track, left"
    side: str  # left | right | both | none
    count: int
    figure: Figure  # cut length
    basis: str  # "survey" or "as-built"
    material: Code  # what it is cut from, in catalogue words
    steps: tuple[Code, ...]  # in order, one action each
    cautions: tuple[Code, ...] = ()
    segments: tuple[Segment, ...] = ()
    marks: tuple[Mark, ...] = ()
    when: str = "fit-out"  # the stage it is cut in


@dataclass(frozen=True, slots=True)
class PartLine:
    """Small parts by rule."""

    key: str
    item: Code
    count: Figure


@dataclass(frozen=True, slots=True)
class CutList:
    """All pieces of a job."""

    pieces: tuple[Piece, ...]
    notes: tuple[Code, ...] = ()

    def piece(self, key: str) -> Piece:
        """The piece with that key; KeyError where there is none."""
        for p in self.pieces:
            if p.key == key:
                return p
        raise KeyError(key)


@dataclass(frozen=True, slots=True)
class Parts:
    """Small parts of a job."""

    lines: tuple[PartLine, ...]
