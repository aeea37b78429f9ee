"""Coordinates of points from a CSV that a total station, a laser or a drawing gave."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable
from dataclasses import replace

from stringline.document.csv_rows import Columns, Row, read_length, read_rows, read_written
from stringline.faults import Fault, Faults
from stringline.job.readings import MARKS, Coordinate
from stringline.lengths import Unit, metres

DEFAULT_SIGMA_M = 0.003  # practice: a total station or laser on a pool, each coordinate (source ``coordinate-sigma``)

_COLUMNS = Columns(
    needed=("name", "x", "y"),
    known=("sigma", *MARKS),
    example="name,x,y",
    also={
        "point": "name",
        **dict.fromkeys(("e", "east", "easting"), "x"),
        **dict.fromkeys(("n", "north", "northing"), "y"),
        "s": "sigma",
    },
    passed_over=frozenset(("z", "h", "height", "elevation", "code", "note", "remark")),
    every_cell=True,
)
_NO_ID = tuple(c for c in _COLUMNS.known if c != "id")
_CALLED_ID = replace(_COLUMNS, known=_NO_ID, also={**_COLUMNS.also, "id": "name"})


def parse_coordinates(
    text: str, unit: Unit, document: str, default_sigma_m: float = DEFAULT_SIGMA_M
) -> tuple[Coordinate, ...]:
    """Read name, x, y and perhaps sigma from CSV text, each row with its line.

    The first line names the columns (``name,x,y,sigma`` in any order; easting and northing will do; heights, codes
    and notes are passed over; ``id``, ``by``, ``at``, ``device`` and ``struck`` are what any reading may carry). An
    instrument's ``id`` is the point's name where nothing else is. Bare numbers are in ``unit``; anything that a length
    may be written as is read. A point given twice is observed twice. Raises ``Faults`` with every fault found.

    >>> [(c.point, c.x.m, c.y.m) for c in parse_coordinates("point;x;y\\nP;3,5;-1,25\\n", Unit.M, "shots.csv")]
    [('P', 3.5, -1.25)]
    """
    faults: list[Fault] = []
    named = {"name", "point"} & {c.casefold() for c in _heading(text)}
    rows = read_rows(text, document, _COLUMNS if named else _CALLED_ID, faults)
    found = [_observed(row, unit, default_sigma_m, faults) for row in rows]
    if faults:
        raise Faults(document, faults, unit)
    return tuple(c for c in found if c is not None)


def coordinates_csv(coordinates: Iterable[Coordinate]) -> str:
    """The list of coordinates as CSV, each length as it was written and each σ to the last bit.

    >>> from stringline.lengths import metres
    >>> print(coordinates_csv([Coordinate("1", metres(3.5), metres(-1.25), 0.003)]))
    "name","x","y","sigma"
    "1","3.5 m","-1.25 m","0.003 m"
    <BLANKLINE>
    """
    listed = list(coordinates)
    marks = [mark for mark in MARKS if any(getattr(c, mark) is not None for c in listed)]
    out = io.StringIO()
    rows = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\n")
    rows.writerow(["name", "x", "y", "sigma", *marks])
    for c in listed:
        sigma = metres(c.sigma_m).text
        rows.writerow([c.point, c.x.text, c.y.text, sigma, *(getattr(c, mark) or "" for mark in marks)])
    return out.getvalue()


def _heading(text: str) -> list[str]:
    """The names of the columns, as far as they can be told apart."""
    first = next((s for s in text.removeprefix("\ufeff").splitlines() if s.strip() and s.lstrip()[0] != "#"), "")
    return [name.strip(' "') for name in re.split(r"[,;\t]", first)]


def _observed(row: Row, unit: Unit, default_sigma_m: float, faults: list[Fault]) -> Coordinate | None:
    name = row["name"]
    if not name:
        faults.append(Fault("csv-name", "name", "lists.no-point", "lists.write-point", row.line))
    of = f"{name}." if name else ""
    x, y = (read_written(row[axis], unit, f"{of}{axis}", row.line, faults, signed=True) for axis in ("x", "y"))
    sigma: float | None = default_sigma_m
    if row["sigma"]:
        read = read_length(row["sigma"], unit, f"{of}sigma", row.line, faults)
        sigma = None if read is None else float(read)
        if read is not None and read <= 0:
            faults.append(Fault("sigma", f"{of}sigma", "lists.sigma-zero", "lists.write-sigma", row.line))
    if not name or x is None or y is None or sigma is None:
        return None
    return Coordinate(name, x, y, sigma, row.line, **{mark: row[mark] or None for mark in MARKS})
