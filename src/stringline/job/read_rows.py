"""Readings in rows: their items, and behind them who took them, when and on what, in a table of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, TypeVar

from stringline.document.locate import Path
from stringline.document.schema import Checker, Table, write
from stringline.finding import Code, finding, nested
from stringline.job.model import SurveyInput
from stringline.job.readings import MARKS, Coordinate, Level, Marked, Offset, Tape

LEAST_SIGMA_M = 1e-5
_Made = TypeVar("_Made")


def rows_of(table: Table, key: str, make: Callable[[Checker, Path, Any], _Made | None]) -> tuple[_Made, ...]:
    """What each row of a list becomes, those left out that have faults of their own."""
    found = (make(table.check, (*table.at(key), i), row) for i, row in enumerate(table.items(key)))
    return tuple(made for made in found if made is not None)


def read_row(
    check: Checker, path: Path, value: Any, form: Code, least: int, most: int | None = None
) -> tuple[list[Any], Table | None] | None:
    """A row's items, ``least`` to ``most`` of them, and the table behind them, None where there is none.

    None where the row has not so many; ``form`` says what it should look like.
    """
    row = check.items(path, value, finding("job.reading-as", form=nested(form)))
    if row is None:
        return None
    most = least if most is None else most
    more = len(row) > most or (bool(row) and isinstance(row[-1], dict))
    if not least <= len(row) - more <= most:
        check.fault("item-count", path, finding("job.items", n=len(row)), write(form))
        return None
    if not more:
        return row, None
    return row[:-1], check.table((*path, len(row) - 1), row[-1])


def read_marks(remarks: Table | None) -> dict[str, str | None]:
    """What any reading may carry, by name; everything None where there is no table behind it."""
    found: dict[str, str | None] = dict.fromkeys(MARKS)
    if remarks is None:
        return found
    for name in MARKS:
        value = remarks.get(name)
        if value is not None:
            found[name] = (read_id if name == "id" else Checker.note)(remarks.check, remarks.at(name), value)
    return found


def read_id(check: Checker, path: Path, value: Any) -> str | None:
    """The short id of a reading: a name without a space in it."""
    name = check.name(path, value)
    if name is not None and " " in name:
        check.fault("bad-name", path, "job.id-space", "job.id-one-word")
        return None
    return name


def check_ids(check: Checker, data: Any, survey: SurveyInput, readings: Iterable[Marked]) -> None:
    """Note each id that stands on a second reading, in the document or in the list of coordinates beside it."""
    given = [r.id for r in readings if r.id is not None]
    if len(set(given)) == len(given):
        return  # looked for among the values, which takes longer, only where there is something to find
    seen: set[str] = set()
    for path, name in _ids((), data):
        if name in seen:
            check.fault("name-twice", path, finding("job.id-twice", id=name), "job.id-of-its-own")
        seen.add(name)
    for shot in survey.coordinates if survey.coordinate_file is not None else ():
        if shot.id is not None:
            if shot.id in seen:
                wrong = finding("job.id-twice", id=shot.id)
                check.fault("name-twice", ("survey", "coordinates"), wrong, "job.id-of-its-own")
            seen.add(shot.id)


def _ids(path: Path, value: Any) -> Iterable[tuple[Path, str]]:
    """Every id in a document: only tables behind the items of a row hold one."""
    if isinstance(value, list):
        last = value[-1] if value else None
        if isinstance(last, dict) and isinstance(last.get("id"), str) and not isinstance(value[0], dict):
            yield (*path, len(value) - 1, "id"), last["id"]
        for i, item in enumerate(value):
            yield from _ids((*path, i), item)
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from _ids((*path, key), item)


def read_sigma(table: Table, key: str = "sigma") -> float | None:
    """A standard deviation in metres; what no instrument reaches is noted, as it would drown every other reading."""
    found = table.length(key, positive=True)
    if found is not None and found < LEAST_SIGMA_M:
        wrong = finding("job.sigma-too-close", sigma=f"{found * 1000:.2g}")
        table.check.fault("out-of-range", table.at(key), wrong, "job.sigma-more")
        return None
    return found


def ends_of(check: Checker, path: Path, row: list[Any]) -> tuple[str | None, str | None]:
    """The two points that a reading runs between."""
    a, b = check.name((*path, 0), row[0]), check.name((*path, 1), row[1])
    if a is not None and a == b:
        check.fault("same-point", path, finding("job.to-itself", name=a), "job.name-both-points")
        return None, None
    return a, b


def _closed(remarks: Table | None) -> tuple[float | None, dict[str, str | None]]:
    """σ and marks, and no other key."""
    sigma = None if remarks is None else read_sigma(remarks)
    marks = read_marks(remarks)
    if remarks is not None:
        remarks.close()
    return sigma, marks


def read_tape(check: Checker, path: Path, value: Any) -> Tape | None:
    """``[from, to, reading]``."""
    found = read_row(check, path, value, "job.form-tape", 3)
    if found is None:
        return None
    row, remarks = found
    a, b = ends_of(check, path, row)
    length = check.length((*path, 2), row[2], positive=True)
    sigma, marks = _closed(remarks)
    if a is None or b is None or length is None:
        return None
    return Tape(a, b, length, sigma, check.document.line(path), **marks)


def read_offset(check: Checker, path: Path, value: Any) -> Offset | None:
    """``[from, to, station, offset, point]``."""
    found = read_row(check, path, value, "job.form-offset", 5)
    if found is None:
        return None
    row, remarks = found
    a, b = ends_of(check, path, row)
    station = None if row[2] == "" else check.length((*path, 2), row[2], signed=True)
    offset = check.length((*path, 3), row[3], signed=True)
    point = check.name((*path, 4), row[4])
    sigma, marks = _closed(remarks)
    if point is not None and point in (a, b):
        check.fault("same-point", path, finding("job.own-end", name=point), "job.name-point-measured")
        return None
    if a is None or b is None or offset is None or point is None or (station is None and row[2] != ""):
        return None
    return Offset(a, b, station, offset, point, sigma, check.document.line(path), **marks)


def read_level(check: Checker, path: Path, value: Any) -> Level | None:
    """``[point, rod reading]``."""
    found = read_row(check, path, value, "job.form-level", 2)
    if found is None:
        return None
    row, remarks = found
    point = check.name((*path, 0), row[0])
    rod = check.length((*path, 1), row[1])
    setup = None
    if remarks is not None and (said := remarks.get("setup")) is not None:
        setup = check.note(remarks.at("setup"), said)
    sigma, marks = _closed(remarks)
    if point is None or rod is None:
        return None
    return Level(point, rod, sigma, check.document.line(path), setup, **marks)


def read_coordinate(check: Checker, path: Path, value: Any, common_m: float | None) -> Coordinate | None:
    """``[point, x, y]``; ``common_m`` is the σ of those that have none of their own."""
    found = read_row(check, path, value, "job.form-coordinate", 3)
    if found is None:
        return None
    row, remarks = found
    point = check.name((*path, 0), row[0])
    x, y = (check.length((*path, k), row[k], signed=True) for k in (1, 2))
    sigma, marks = _closed(remarks)
    if sigma is None and common_m is None and (remarks is None or "sigma" not in remarks.data):
        check.fault("missing", path, "job.no-sigma", "job.write-sigma")
    sigma = common_m if sigma is None else sigma
    if point is None or x is None or y is None or sigma is None:
        return None
    return Coordinate(point, x, y, sigma, check.document.line(path), **marks)
