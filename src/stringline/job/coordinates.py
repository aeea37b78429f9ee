"""Coordinates of points from a CSV that a total station, a laser or a drawing gave."""

from __future__ import annotations

import csv
import io

from stringline.faults import Fault, Faults
from stringline.job.model import Coordinate
from stringline.lengths import LengthError, Unit, parse

DEFAULT_SIGMA_M = 0.003  # practice: a total station or laser on a pool, each coordinate (source ``coordinate-sigma``)

_NAMES = {"name": "name", "point": "name", "id": "name"}
_X = {"x": "x", "e": "x", "east": "x", "easting": "x"}
_Y = {"y": "y", "n": "y", "north": "y", "northing": "y"}
_SIGMA = {"sigma": "sigma", "s": "sigma"}
_KNOWN = _NAMES | _X | _Y | _SIGMA
_PASSED_OVER = {"z", "h", "height", "elevation", "code", "note", "remark"}


def parse_coordinates(
    text: str, unit: Unit, document: str, default_sigma_m: float = DEFAULT_SIGMA_M
) -> tuple[Coordinate, ...]:
    """Read name, x, y and perhaps sigma from CSV text: two observations a row, each with the line it stands on.

    The first line names the columns (``name,x,y,sigma`` in any order; easting and northing will do; heights, codes
    and notes are passed over). Commas, semicolons or tabs separate; empty lines and lines that begin with # are
    skipped. Bare numbers are in ``unit``; anything that a length may be written as is read. A point given twice is
    observed twice. Raises ``Faults`` with every fault found.
    """
    faults: list[Fault] = []
    lines = [(i, s) for i, s in enumerate(text.lstrip("\ufeff").splitlines(), 1) if s.strip() and s.lstrip()[0] != "#"]
    if not lines:
        raise Faults(
            document, [Fault("csv-empty", document, "there is nothing in it", "write name,x,y and a row each")]
        )
    mark = max(";\t,", key=lambda c: (lines[0][1].count(c), c == ","))
    head = [c.strip().lower() for c in _split(lines[0][1], mark)]
    columns = _columns(head, lines[0][0], document, faults)
    out: list[Coordinate] = []
    if columns is not None:
        for line, row in lines[1:]:
            out.extend(_row(_split(row, mark), columns, len(head), line, unit, default_sigma_m, faults))
        if len(lines) == 1:
            faults.append(Fault("csv-empty", document, "there is no row below the first", "write one row a point"))
    if faults:
        raise Faults(document, faults)
    return tuple(out)


def _split(line: str, mark: str) -> list[str]:
    # ft-in marks are quotes to a CSV reader only where they open a field
    return [c.strip() for c in next(csv.reader(io.StringIO(line), delimiter=mark, skipinitialspace=True))]


def _columns(head: list[str], line: int, document: str, faults: list[Fault]) -> dict[str, int] | None:
    found: dict[str, int] = {}
    for i, name in enumerate(head):
        what = _KNOWN.get(name)
        if what is None:
            if name not in _PASSED_OVER:
                right = "use name, x, y, sigma; z, code and note are passed over"
                faults.append(Fault("csv-column", f"column {i + 1}", f"'{name}' is no column known here", right, line))
        elif what in found:
            faults.append(Fault("csv-column", f"column {i + 1}", f"there are two columns for {what}", "keep one", line))
        else:
            found[what] = i
    missing = [c for c in ("name", "x", "y") if c not in found]
    if missing:
        wrong = f"no column says {', '.join(missing)}"
        faults.append(Fault("csv-column", document, wrong, "begin with a line such as name,x,y", line))
        return None
    return found


def _row(
    cells: list[str],
    columns: dict[str, int],
    width: int,
    line: int,
    unit: Unit,
    default_sigma_m: float,
    faults: list[Fault],
) -> list[Coordinate]:
    if len(cells) != width:
        wrong = f"this row has {len(cells)} cells where the first has {width}"
        faults.append(Fault("csv-cells", "row", wrong, "write one cell a column", line))
        return []
    name = cells[columns["name"]]
    if not name:
        faults.append(Fault("csv-name", "row", "this row names no point", "write the point's name", line))
    values: dict[str, float] = {}
    for axis in ("x", "y"):
        try:
            values[axis] = parse(cells[columns[axis]], unit, signed=True).m
        except LengthError as error:
            faults.append(Fault("length", f"{name or 'row'}, {axis}", error.wrong, error.right, line))
    sigma = default_sigma_m
    if "sigma" in columns and cells[columns["sigma"]]:
        try:
            sigma = parse(cells[columns["sigma"]], unit).m
        except LengthError as error:
            faults.append(Fault("length", f"{name or 'row'}, sigma", error.wrong, error.right, line))
        else:
            if not sigma > 0.0:
                faults.append(Fault("sigma", f"{name}, sigma", "σ is zero", "write how sure a coordinate is", line))
    if not name or len(values) < 2:
        return []
    return [Coordinate(name, axis, values[axis], sigma, line) for axis in ("x", "y")]
