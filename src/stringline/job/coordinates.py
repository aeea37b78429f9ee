"""Coordinates of points from a CSV that a total station, a laser or a drawing gave."""

from __future__ import annotations

from stringline.document.csv_rows import Columns, Row, read_length, read_rows
from stringline.faults import Fault, Faults
from stringline.job.model import Coordinate
from stringline.lengths import Unit

DEFAULT_SIGMA_M = 0.003  # practice: a total station or laser on a pool, each coordinate (source ``coordinate-sigma``)

_COLUMNS = Columns(
    needed=("name", "x", "y"),
    known=("sigma",),
    example="name,x,y",
    also={
        **dict.fromkeys(("point", "id"), "name"),
        **dict.fromkeys(("e", "east", "easting"), "x"),
        **dict.fromkeys(("n", "north", "northing"), "y"),
        "s": "sigma",
    },
    passed_over=frozenset(("z", "h", "height", "elevation", "code", "note", "remark")),
    every_cell=True,
)


def parse_coordinates(
    text: str, unit: Unit, document: str, default_sigma_m: float = DEFAULT_SIGMA_M
) -> tuple[Coordinate, ...]:
    """Read name, x, y and perhaps sigma from CSV text: two observations a row, each with the line it stands on.

    The first line names the columns (``name,x,y,sigma`` in any order; easting and northing will do; heights, codes
    and notes are passed over). Bare numbers are in ``unit``; anything that a length may be written as is read. A point
    given twice is observed twice. Raises ``Faults`` with every fault found.

    >>> [(c.axis, c.value_m) for c in parse_coordinates("point;x;y\\nP;3,5;-1,25\\n", Unit.M, "shots.csv")]
    [('x', 3.5), ('y', -1.25)]
    """
    faults: list[Fault] = []
    rows = read_rows(text, document, _COLUMNS, faults)
    found = [c for row in rows for c in _observed(row, unit, default_sigma_m, faults)]
    if faults:
        raise Faults(document, faults, unit)
    return tuple(found)


def _observed(row: Row, unit: Unit, default_sigma_m: float, faults: list[Fault]) -> list[Coordinate]:
    name = row["name"]
    if not name:
        faults.append(Fault("csv-name", "name", "lists.no-point", "lists.write-point", row.line))
    of = f"{name}." if name else ""
    at = {axis: read_length(row[axis], unit, f"{of}{axis}", row.line, faults, signed=True) for axis in ("x", "y")}
    sigma: float | None = default_sigma_m
    if row["sigma"]:
        read = read_length(row["sigma"], unit, f"{of}sigma", row.line, faults)
        sigma = None if read is None else float(read)
        if read is not None and read <= 0:
            faults.append(Fault("sigma", f"{of}sigma", "lists.sigma-zero", "lists.write-sigma", row.line))
    return [
        Coordinate(name, axis, float(m), sigma, row.line)
        for axis, m in at.items()
        if name and m is not None and sigma is not None
    ]
