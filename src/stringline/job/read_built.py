"""Read [as_built] and [run]: what was measured after the pour, and while the cover ran."""

from __future__ import annotations

from typing import Any

from stringline.document.locate import Path
from stringline.document.schema import Checker, Table
from stringline.finding import Code
from stringline.job.read_rows import read_marks, read_row, read_sigma, rows_of
from stringline.job.readings import BUILT_ONCE, AsBuilt, Built, EarlierRun, Run, RunReading
from stringline.lengths import Length

RUN_SIDES = ("drive", "idle", "both")
# what can have been put right after a run; the first ones are amounts of length, the others plain numbers
LENGTH_CAUSES = ("rope-length", "reel-size", "square", "hem-roll")
NUMBER_CAUSES = ("reel-stacking", "rope-stretch", "hem-drag", "both-drag", "slider-drag", "tight-spot")


def read_as_built(table: Table | None, line: int | None) -> AsBuilt | None:
    """What was measured after the pour, None where there is no such section."""
    if table is None:
        return None
    found = _at_stations(table, "gauge", "gauge", "job.form-gauge", signed=False)
    if (offsets := table.table("offsets")) is not None:
        for side in ("left", "right"):
            found += _at_stations(offsets, side, f"offsets.{side}", "job.form-track-offset", signed=True)
        offsets.close()
    found += _single(table, "channel", ("left", "right"))
    found += _diagonals(table)
    for key, name in (("housing", "inside"), ("fascia", "clear"), ("lid", "opening")):
        found += _single(table, key, (name,))
    sigma = read_sigma(table)
    table.close()
    return AsBuilt(tuple(found), sigma, line)


def _at_stations(table: Table, key: str, what: str, form: Code, *, signed: bool) -> list[Built]:
    """Rows of [station, value]."""

    def row_of(check: Checker, path: Path, value: Any) -> Built | None:
        found = read_row(check, path, value, form, 2)
        if found is None:
            return None
        row, remarks = found
        station = check.length((*path, 0), row[0])
        read = check.length((*path, 1), row[1], signed=signed, positive=not signed)
        marks = _marks(remarks)
        if station is None or read is None:
            return None
        return Built(what, read, station, check.document.line(path), **marks)

    return list(rows_of(table, key, row_of))


def _single(table: Table, key: str, names: tuple[str, ...]) -> list[Built]:
    """A table of lengths, each of which may be absent."""
    inner = table.table(key)
    if inner is None:
        return []
    found: list[Built] = []
    for name in names:
        if (value := inner.get(name)) is not None:
            found += _readings(table.check, inner.at(name), value, f"{key}.{name}")
    inner.close()
    return found


def _diagonals(table: Table) -> list[Built]:
    raw = table.items("diagonals")
    if raw and len(raw) != 2:
        table.check.fault("item-count", table.at("diagonals"), "job.two-diagonals", "job.write-both-diagonals")
        return []
    return [
        reading
        for i, item in enumerate(raw)
        if item != ""  # not taken
        for reading in _readings(table.check, (*table.at("diagonals"), i), item, f"diagonals.{i}")
    ]


def _readings(check: Checker, path: Path, value: Any, what: str) -> list[Built]:
    """One length: as it is, as a row with who took it behind it, or as a list of such rows where it was taken again."""
    assert what in BUILT_ONCE
    if not isinstance(value, list):
        length = check.length(path, value, positive=True)
        return [] if length is None else [Built(what, length, None, check.document.line(path))]
    several = bool(value) and isinstance(value[0], list)
    rows = [((*path, i), item) for i, item in enumerate(value)] if several else [(path, value)]
    found: list[Built] = []
    for place, item in rows:
        shaped = read_row(check, place, item, "job.form-built", 1)
        if shaped is None:
            continue
        row, remarks = shaped
        length = check.length((*place, 0), row[0], positive=True)
        marks = _marks(remarks)
        if length is not None:
            found.append(Built(what, length, None, check.document.line(place), **marks))
    return found


def _marks(remarks: Table | None) -> dict[str, str | None]:
    marks = read_marks(remarks)
    if remarks is not None:
        remarks.close()
    return marks


def read_run(table: Table | None) -> Run | None:
    """The runs, None where there is no such section."""
    if table is None:
        return None
    leads, seen = rows_of(table, "leads", _lead), _read_seen(table)
    earlier = rows_of(table, "earlier", _read_earlier)
    table.close()
    return Run(leads, seen, earlier)


def _read_earlier(check: Checker, path: Path, item: Any) -> EarlierRun | None:
    """One run before, and what was put right after it."""
    inner = check.table(path, item)
    if inner is None:
        return None
    leads, seen = rows_of(inner, "leads", _lead), _read_seen(inner)
    cause = inner.word("cause", (*LENGTH_CAUSES, *NUMBER_CAUSES), need=True)
    side = inner.word("side", RUN_SIDES, need=True)
    amount: float | None = None
    if cause in LENGTH_CAUSES:
        amount = inner.length("amount", signed=True, need="job.amount-length")
    else:
        value = inner.get("amount", need="job.amount-number")
        amount = None if value is None or cause is None else check.number(inner.at("amount"), value)
    inner.close()
    if cause is None or side is None or amount is None:
        return None
    return EarlierRun(leads, cause, side, amount, seen)


def _read_seen(table: Table) -> tuple[str, ...]:
    return rows_of(table, "seen", lambda check, path, item: check.text(path, item))


def _lead(check: Checker, path: Path, value: Any) -> RunReading | None:
    found = read_row(check, path, value, "job.form-run", 2, 4)
    if found is None:
        return None
    row, remarks = found
    row = [*row, "", ""][:4]
    station = check.length((*path, 0), row[0])

    def lead(k: int) -> Length | None:
        return None if row[k] == "" else check.length((*path, k), row[k], signed=True)

    closing, opening = lead(1), lead(2)
    current = None if row[3] == "" else check.number((*path, 3), row[3], low=0, high=1000)
    marks = _marks(remarks)
    if station is None:
        return None
    return RunReading(station, closing, opening, current, check.document.line(path), **marks)
