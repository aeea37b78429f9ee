"""Read [survey]: readings, and what they hang on."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from stringline.document.locate import Path
from stringline.document.schema import Checker, Table, write
from stringline.faults import Faults
from stringline.finding import Finding, finding, nested
from stringline.job.coordinates import DEFAULT_SIGMA_M, parse_coordinates
from stringline.job.model import HousingFloor, SurveyInput, TapeConditions
from stringline.job.read_rows import (
    ends_of,
    read_coordinate,
    read_level,
    read_offset,
    read_sigma,
    read_tape,
    rows_of,
)
from stringline.job.readings import Coordinate
from stringline.lengths import Unit

TAPE_CLASSES = ("I", "II", "III")

Beside = Callable[[str], str]
"""Gives the text of a file that a job names, or raises Faults."""


def read_survey(table: Table, beside: Beside | None = None) -> SurveyInput:
    """The survey as written; what is wrong in it has been noted in the document.

    ``beside`` reads a file that the job names; without it naming one is a fault.
    """
    check = table.check
    tape_class = table.word("tape_class", TAPE_CLASSES)
    sigma = read_sigma(table)
    baseline = _read_baseline(table)
    behind = check.names(table.at("behind"), raw) if (raw := table.get("behind")) is not None else ()
    known = _read_known(table)
    sketch, bare = _read_sketch(table)
    listed = table.get("coordinates")
    found = SurveyInput(
        tapes=rows_of(table, "tapes", read_tape),
        tape_class=tape_class or "II",
        sigma_m=sigma,
        baseline=baseline,
        behind=behind,
        known=known,
        sketch=sketch,
        offsets=rows_of(table, "offsets", read_offset),
        levels=rows_of(table, "levels", read_level),
        coordinates=_coordinates_beside(table, listed, beside) if isinstance(listed, str) else _coordinates(table),
        conditions=_read_conditions(table),
        coordinate_file=listed if isinstance(listed, str) else None,
        tape_length_m=table.length("tape_length", positive=True),
        floor=_read_floor(table),
        blocked=rows_of(table, "blocked", _blocked),
        sketch_bare=bare,
    )
    _check_datum(table, known)
    return found


def _read_baseline(table: Table) -> tuple[str, str] | None:
    raw = table.get("baseline")
    if raw is None:
        return None
    path = table.at("baseline")
    names = table.check.names(path, raw, once=False)
    if not isinstance(raw, list):
        return None
    if len(raw) != 2:
        table.check.fault("item-count", path, finding("job.baseline-two", n=len(raw)), "job.write-baseline")
        return None
    if len(names) != 2:
        return None
    if names[0] == names[1]:
        table.check.fault("same-point", path, finding("job.baseline-to-itself", name=names[0]), "job.name-two")
        return None
    return names[0], names[1]


def _read_known(table: Table) -> dict[str, tuple[float, float]]:
    """Control points: coordinates as lengths, in metres."""
    inner = table.table("known")
    found: dict[str, tuple[float, float]] = {}
    if inner is None:
        return found
    for key, value in inner.data.items():
        pair = _pair(inner, key, value)
        if pair is None:
            continue
        x, y = (inner.check.length((*inner.at(key), i), item, signed=True) for i, item in enumerate(pair))
        if x is not None and y is not None:
            found[key] = (x.m, y.m)
    return found


def _read_sketch(table: Table) -> tuple[dict[str, tuple[float, float]], bool]:
    """Rough positions in any frame and scale, and whether all are numbers without a unit; else they are metres."""
    inner = table.table("sketch")
    found: dict[str, tuple[float, float]] = {}
    if inner is None:
        return found, False
    pairs = {key: pair for key, value in inner.data.items() if (pair := _pair(inner, key, value)) is not None}
    without = [isinstance(item, int | float) for pair in pairs.values() for item in pair]
    bare = bool(without) and all(without)
    if any(without) and not bare and inner.check.unit is Unit.FT_IN:
        inner.check.fault("sketch-mixed", inner.path, "job.sketch-mixed", "job.sketch-alike")
        return found, False
    for key, pair in pairs.items():
        xy: list[float] = []
        for i, item in enumerate(pair):
            if bare:
                number = inner.check.number((*inner.at(key), i), item)
            else:
                length = inner.check.length((*inner.at(key), i), item, signed=True)
                number = None if length is None else length.m
            if number is not None:
                xy.append(number)
        if len(xy) == 2:
            found[key] = (xy[0], xy[1])
    return found, bare


def _coordinates(table: Table) -> tuple[Coordinate, ...]:
    """Observed coordinates in the job itself; σ from the row or from coordinate_sigma."""
    common = read_sigma(table, "coordinate_sigma")
    return rows_of(table, "coordinates", lambda check, path, row: read_coordinate(check, path, row, common))


def _coordinates_beside(table: Table, name: str, beside: Beside | None) -> tuple[Coordinate, ...]:
    """Coordinates from the CSV file that is named; what is wrong in it is told with its line in that file."""
    check, path = table.check, table.at("coordinates")
    sigma = read_sigma(table, "coordinate_sigma")
    if beside is None:
        check.fault("no-file", path, "job.no-folder", "job.write-coordinates")
        return ()
    try:
        unit = check.unit or Unit.M
        return parse_coordinates(beside(name), unit, name, DEFAULT_SIGMA_M if sigma is None else sigma)
    except Faults as faults:
        for f in faults.faults:
            where = nested(f.where) if isinstance(f.where, Finding) else f.where
            wrong = finding("job.in-file", file=name, wrong=nested(f.wrong))
            if f.line is not None:
                wrong = finding("job.in-file-line", line=f.line, file=name, where=where, wrong=nested(f.wrong))
            check.fault(f.code, path, wrong, f.right)
        return ()


def _read_floor(table: Table) -> HousingFloor | None:
    """The housing floor's levelled points, each perhaps with its run to the drain."""
    inner = table.table("housing_floor")
    if inner is None:
        return None
    check = inner.check
    raw = inner.get("drain", need="job.need-drain")
    drain = None if raw is None else check.name(inner.at("drain"), raw)
    points: list[tuple[str, float | None]] = []
    for i, item in enumerate(inner.items("points", need="job.need-floor")):
        path = (*inner.at("points"), i)
        if not isinstance(item, list):
            name, run = check.name(path, item), None
        elif len(item) == 2:
            name, run = check.name((*path, 0), item[0]), check.length((*path, 1), item[1], positive=True)
        else:
            check.fault("item-count", path, finding("job.items", n=len(item)), write("job.form-floor"))
            continue
        if name is not None and name != drain:
            points.append((name, None if run is None else run.m))
    inner.close()
    rows = [row for row in table.data.get("levels") or [] if isinstance(row, list) and row]
    used = [row[0] for row in rows if not (isinstance(row[-1], dict) and row[-1].get("struck"))]
    levelled = {name for name in used if isinstance(name, str)}
    for name in [drain, *(p for p, _ in points)]:
        if name is not None and name not in levelled:
            wrong = finding("job.no-rod", name=name)
            check.fault("no-levels", table.at("housing_floor"), wrong, "job.read-rod")
    if drain is None or not points:
        return None
    return HousingFloor(tuple(points), drain, check.document.line(table.at("housing_floor")))


def _blocked(check: Checker, path: Path, value: Any) -> tuple[str, str] | None:
    """A pair of points with something between them."""
    row = check.items(path, value, "job.form-blocked")
    if row is None:
        return None
    if len(row) != 2:
        check.fault("item-count", path, finding("job.items", n=len(row)), write("job.form-blocked"))
        return None
    a, b = ends_of(check, path, row)
    return None if a is None or b is None else (a, b)


def _read_conditions(table: Table) -> TapeConditions | None:
    """How the tape was held, where readings are to be corrected for it."""
    inner = table.table("conditions")
    if inner is None:
        return None
    numbers = {key: inner.number(key, low=low, high=high) for key, (low, high) in _CONDITIONS.items()}
    hanging = inner.flag("hanging", default=False)
    inner.close()
    return TapeConditions(hanging=hanging, **{k: v for k, v in numbers.items() if v is not None})


_CONDITIONS: dict[str, tuple[float, float]] = {
    "celsius": (-60.0, 80.0),
    "standard_celsius": (-60.0, 80.0),
    "per_kelvin": (0.0, 1e-3),
    "pull_n": (0.0, 1000.0),
    "standard_pull_n": (0.0, 1000.0),
    "area_m2": (1e-9, 1e-3),
    "modulus_pa": (1e6, 1e12),
    "weight_n_per_m": (0.0, 10.0),
}


def _pair(inner: Table, key: str, value: Any) -> list[Any] | None:
    """A point's name and its [x, y], checked for shape."""
    inner.check.name(inner.at(key), key)
    pair = inner.check.items(inner.at(key), value, "job.form-xy")
    if pair is None:
        return None
    if len(pair) != 2:
        inner.check.fault("item-count", inner.at(key), finding("job.items", n=len(pair)), "job.write-xy")
        return None
    return pair


def _check_datum(table: Table, known: dict[str, tuple[float, float]]) -> None:
    """Exactly one of a baseline and at least two known points."""
    check = table.check
    has_baseline = "baseline" in table.data
    has_known = bool(table.data.get("known"))
    if has_baseline and has_known:
        check.fault(
            "two-datums",
            table.at("known"),
            "job.two-datums",
            "job.leave-one-datum",
        )
    elif not has_baseline and not has_known and not table.data.get("coordinates"):
        if not any(check.document.is_damaged(table.at(key)) for key in ("baseline", "known", "coordinates")):
            check.fault(
                "no-datum",
                table.at("baseline"),
                "job.no-datum",
                "job.write-datum",
            )
    elif has_known and len(known) == 1 and len(table.data["known"]) == 1:
        check.fault(
            "no-datum",
            table.at("known"),
            "job.one-known",
            "job.second-known",
        )
