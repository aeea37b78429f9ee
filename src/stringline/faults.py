"""Faults in what a person wrote: all of them at once, each with its place and its remedy."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from stringline.finding import Code, Finding
from stringline.lengths import Unit

CODES = frozenset(
    (
        # a document: the file
        "no-file",
        "not-utf8",
        "syntax",
        "missing-comma",
        "not-closed",
        "given-twice",
        # a document: its shape
        "unknown-key",
        "missing",
        "wrong-type",
        "unknown-word",
        "empty",
        "bad-length",
        "bad-date",
        "zero-length",
        "out-of-range",
        "bad-name",
        "name-not-quoted",
        "item-count",
        # a document: what it says
        "same-point",
        "name-twice",
        "not-reached",
        "no-datum",
        "two-datums",
        "sketch-mixed",
        "arc-place",
        "arc-too-big",
        "housing-edge",
        "not-in-order",
        "no-such-task",
        "no-such-reading",
        "struck-already",
        "no-place",
        "not-filled-in",
        "no-catalogue",
        # the command line
        "no-job",
        "two-lists",
        "no-layout",
        "cannot-cut",
        "order-placed",
        "no-order",
        "unknown-source",
        "file-exists",
        "no-folder",
        "no-drawing",
        "usage",
        "not-written",
        "unreadable",
        # the survey: readings that cannot be adjusted
        "no-reading",
        "not-positive",
        "sigma",
        "tape-class",
        "behind",
        "loose-point",
        "one-control",
        "mirror",
        "in-line",
        "triangle",
        "gross",
        "no-levels",
        "datum",
        "loose-level",
        # lists in CSV
        "csv-empty",
        "csv-column",
        "csv-cells",
        "csv-name",
        "length",
        # drawings
        "dxf-unreadable",
        "dxf-unit",
        "dxf-outline",
        "dxf-several",
        # planning what to tape
        "few-points",
        "taken-name",
        "tape-length",
        "short-tape",
        "few-lines",
        # the layout
        "cover-choice",
        "outline-unknown",
        "outline-twice",
        "outline-same",
        "outline-few",
        "outline-crosses",
        "outline-radius",
        "outline-bow",
        "obstacle-unknown",
        "obstacle-kind",
        "obstacle-empty",
        "obstacle-crosses",
        "cover-mount",
        "cover-drive-side",
        "cover-minimise",
        "cover-margin",
        "layout-blocked",
    )
)
"""Every code a fault can carry; what each means stands in :mod:`stringline.sheets.words.faults` (docs/faults.md)."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with an input document.

    ``line`` counts from 1 and is None only where there is no line to point at (a missing file, a missing section).
    ``where`` is the path a person would look for, such as ``survey.tapes[3]``, or a finding that names the place;
    ``wrong`` says what is wrong and ``right`` what would be right, both as sentences without a full stop. Raises
    ValueError for a code that is not one of :data:`CODES`.

    >>> print(Fault("empty", "job.name", "job.no-text", "job.write-name", 3))
    3:job.name: job.no-text; job.write-name
    """

    code: str
    where: str | Finding
    wrong: Code
    right: Code
    line: int | None = None

    def __post_init__(self) -> None:
        if self.code not in CODES:
            raise ValueError(f"no fault is called '{self.code}'")

    def __str__(self) -> str:
        """The fault in codes, for a programmer; a person is shown the words (:mod:`stringline.sheets.faults`)."""
        place = f"{self.line}:{self.where}" if self.line is not None else self.where
        return f"{place}: {self.wrong}; {self.right}"


class Faults(ValueError):
    """Raised once for a whole document; carries every fault found, in the order of their lines.

    ``unit`` is the one that the document is written in, so that lengths in its faults are said in it; None where it is
    not known.
    """

    def __init__(self, document: str, faults: Iterable[Fault], unit: Unit | None = None) -> None:
        self.document = document
        self.faults = tuple(sorted(faults, key=lambda f: (f.line is None, f.line or 0)))
        self.unit = unit
        super().__init__(document, len(self.faults))

    def __str__(self) -> str:
        """Every fault in codes, for a programmer."""
        return "\n".join([self.document, *(f"  {f}" for f in self.faults)])
