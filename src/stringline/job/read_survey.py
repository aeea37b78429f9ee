"""Read [survey]: readings, and what they hang on."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from stringline.document.locate import Path
from stringline.document.schema import Checker, Table
from stringline.faults import Faults
from stringline.job.coordinates import DEFAULT_SIGMA_M, parse_coordinates
from stringline.job.model import Coordinate, HousingFloor, Level, Offset, SurveyInput, Tape, TapeConditions
from stringline.lengths import Length, Unit

TAPE_CLASSES = ("I", "II", "III")
TAPE = '["A", "B", "24-0"]: from, to, reading'
OFFSET = '["A", "B", "12-0", "1-6", "p"]: from, to, station, offset, point'
LEAST_SIGMA_M = 1e-5
COORDINATE = '["1", "3.2 m", "4.1 m", { sigma = "5 mm" }]: point, x, y'
LEVEL = '["A", "3-2 1/4"]: point, rod reading'
BLOCKED = 'two points as ["1", "w"]'
FLOOR = 'housing_floor = { points = ["f1", ["f2", "6 ft"]], drain = "d" }'

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
    sketch = _read_sketch(table)
    tapes = [t for i, row in enumerate(table.items("tapes")) if (t := _tape(check, (*table.at("tapes"), i), row))]
    offsets = [
        o for i, row in enumerate(table.items("offsets")) if (o := _offset(check, (*table.at("offsets"), i), row))
    ]
    levels = [v for i, row in enumerate(table.items("levels")) if (v := _level(check, (*table.at("levels"), i), row))]
    listed = table.get("coordinates")
    if isinstance(listed, str):
        coordinates = _coordinates_beside(table, listed, beside)
    else:
        coordinates = _read_coordinates(table)
    conditions = _read_conditions(table)
    tape_length = table.length("tape_length", positive=True)
    floor = _read_floor(table)
    blocked = [
        p for i, row in enumerate(table.items("blocked")) if (p := _blocked(check, (*table.at("blocked"), i), row))
    ]
    _check_datum(table, known)
    return SurveyInput(
        tapes=tuple(tapes),
        tape_class=tape_class or "II",
        sigma_m=sigma,
        baseline=baseline,
        behind=behind,
        known=known,
        sketch=sketch,
        offsets=tuple(offsets),
        levels=tuple(levels),
        coordinates=coordinates,
        conditions=conditions,
        coordinate_file=listed if isinstance(listed, str) else None,
        tape_length_m=tape_length,
        blocked=tuple(blocked),
        sketch_bare=_is_bare(table.data.get("sketch")),
        floor=floor,
    )


def _read_baseline(table: Table) -> tuple[str, str] | None:
    raw = table.get("baseline")
    if raw is None:
        return None
    path = table.at("baseline")
    names = table.check.names(path, raw, once=False)
    if not isinstance(raw, list):
        return None
    if len(raw) != 2:
        table.check.fault("item-count", path, f"a baseline has two points, not {len(raw)}", 'write two, as ["A", "B"]')
        return None
    if len(names) != 2:
        return None
    if names[0] == names[1]:
        table.check.fault("same-point", path, f'the baseline runs from "{names[0]}" to itself', "name two points")
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


def _read_sketch(table: Table) -> dict[str, tuple[float, float]]:
    """Rough positions in any frame and scale: all bare numbers, or all lengths."""
    inner = table.table("sketch")
    found: dict[str, tuple[float, float]] = {}
    if inner is None:
        return found
    pairs = {key: pair for key, value in inner.data.items() if (pair := _pair(inner, key, value)) is not None}
    flat = [item for pair in pairs.values() for item in pair]
    bare = [isinstance(item, int | float) for item in flat]
    if any(bare) and not all(bare) and inner.check.unit is Unit.FT_IN:
        inner.check.fault(
            "sketch-mixed", inner.path, "some positions have a unit and some have none", "write all of them alike"
        )
        return found
    for key, pair in pairs.items():
        xy: list[float] = []
        for i, item in enumerate(pair):
            if flat and all(bare):
                number = inner.check.number((*inner.at(key), i), item)
            else:
                length = inner.check.length((*inner.at(key), i), item, signed=True)
                number = None if length is None else length.m
            if number is not None:
                xy.append(number)
        if len(xy) == 2:
            found[key] = (xy[0], xy[1])
    return found


def _read_coordinates(table: Table) -> tuple[Coordinate, ...]:
    """Observed coordinates, two for each row; σ from the row or from coordinate_sigma."""
    check = table.check
    common = read_sigma(table, "coordinate_sigma")
    found: list[Coordinate] = []
    for i, item in enumerate(table.items("coordinates")):
        path = (*table.at("coordinates"), i)
        shaped = _row(check, path, item, 3, COORDINATE)
        if shaped is None:
            continue
        row, remarks = shaped
        point = check.name((*path, 0), row[0])
        x, y = (check.length((*path, k), row[k], signed=True) for k in (1, 2))
        sigma = _sigma(remarks)
        if remarks is not None:
            remarks.close()
        if sigma is None and common is None and (remarks is None or "sigma" not in remarks.data):
            check.fault(
                "missing",
                path,
                "nothing says how sure this is",
                'write { sigma = "5 mm" } behind it, or coordinate_sigma = "5 mm" for all',
            )
        sigma = common if sigma is None else sigma
        if point is not None and x is not None and y is not None and sigma is not None:
            line = check.document.line(path)
            found += [Coordinate(point, "x", x.m, sigma, line), Coordinate(point, "y", y.m, sigma, line)]
    return tuple(found)


def _coordinates_beside(table: Table, name: str, beside: Beside | None) -> tuple[Coordinate, ...]:
    """Coordinates from the CSV file that is named; what is wrong in it is told with its line in that file."""
    check, path = table.check, table.at("coordinates")
    sigma = read_sigma(table, "coordinate_sigma")
    if beside is None:
        wrong = "a job that came without its folder cannot reach a file beside it"
        check.fault("no-file", path, wrong, "write the coordinates into the job, one row a point")
        return ()
    try:
        unit = check.unit or Unit.M
        return parse_coordinates(beside(name), unit, name, DEFAULT_SIGMA_M if sigma is None else sigma)
    except Faults as faults:
        for f in faults.faults:
            place = f"line {f.line} of {name}, {f.where}" if f.line is not None else name
            check.fault(f.code, path, f"{place}: {f.wrong}", f.right)
        return ()


def _read_floor(table: Table) -> HousingFloor | None:
    """The housing floor's levelled points, each perhaps with its run to the drain."""
    inner = table.table("housing_floor")
    if inner is None:
        return None
    check = inner.check
    raw = inner.get("drain", need='drain = "d", the levelled point at the drain')
    drain = None if raw is None else check.name(inner.at("drain"), raw)
    points: list[tuple[str, float | None]] = []
    for i, item in enumerate(inner.items("points", need='points = ["f1", "f2"], levelled points of the floor')):
        path = (*inner.at("points"), i)
        if not isinstance(item, list):
            name, run = check.name(path, item), None
        elif len(item) == 2:
            name, run = check.name((*path, 0), item[0]), check.length((*path, 1), item[1], positive=True)
        else:
            check.fault("item-count", path, f"this has {len(item)} items", f"write {FLOOR}")
            continue
        if name is not None and name != drain:
            points.append((name, None if run is None else run.m))
    inner.close()
    levelled = {row[0] for row in table.data.get("levels") or [] if isinstance(row, list) and row}
    for name in [drain, *(p for p, _ in points)]:
        if name is not None and name not in levelled:
            right = "read the rod there and add it to levels, or take it out here"
            check.fault("no-levels", table.at("housing_floor"), f'no rod reading was taken at "{name}"', right)
    if drain is None or not points:
        return None
    return HousingFloor(tuple(points), drain, check.document.line(table.at("housing_floor")))


def _blocked(check: Checker, path: Path, value: Any) -> tuple[str, str] | None:
    """A pair of points with something between them."""
    row = check.items(path, value, BLOCKED)
    if row is None:
        return None
    if len(row) != 2:
        check.fault("item-count", path, f"this has {len(row)} item{'' if len(row) == 1 else 's'}", f"write {BLOCKED}")
        return None
    a, b = _ends(check, path, row)
    return None if a is None or b is None else (a, b)


def _is_bare(sketch: Any) -> bool:
    """Whether rough positions were written as numbers without a unit."""
    pairs = sketch.values() if isinstance(sketch, dict) else ()
    return any(isinstance(n, int | float) for pair in pairs if isinstance(pair, list) for n in pair)


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
    pair = inner.check.items(inner.at(key), value, "a list of two, [x, y]")
    if pair is None:
        return None
    if len(pair) != 2:
        inner.check.fault("item-count", inner.at(key), f"this has {len(pair)} items", "write two, [x, y]")
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
            "there are known points and a baseline as well",
            "leave the baseline out, and coordinates come back in the frame of the known points; or leave known empty",
        )
    elif not has_baseline and not has_known and not table.data.get("coordinates"):
        if not any(check.document.is_damaged(table.at(key)) for key in ("baseline", "known", "coordinates")):
            check.fault(
                "no-datum",
                table.at("baseline"),
                "there is neither a baseline nor a known point",
                'write baseline = ["A", "B"] with two taped points: A is the origin, x runs towards B',
            )
    elif has_known and len(known) == 1 and len(table.data["known"]) == 1:
        check.fault(
            "no-datum",
            table.at("known"),
            "one known point does not say which way x runs",
            "give a second known point, or a baseline in place of the first",
        )


def _row(check: Checker, path: Path, value: Any, least: int, form: str) -> tuple[list[Any], Table | None] | None:
    """A reading's items and its table of remarks, which may be absent."""
    row = check.items(path, value, f"a reading as {form}")
    if row is None:
        return None
    if not least <= len(row) <= least + 1:
        check.fault("item-count", path, f"this has {len(row)} item{'' if len(row) == 1 else 's'}", f"write {form}")
        return None
    remarks = check.table((*path, least), row[least]) if len(row) > least else None
    return row, remarks


def _ends(check: Checker, path: Path, row: list[Any]) -> tuple[str | None, str | None]:
    """The two points that a reading runs between."""
    a, b = check.name((*path, 0), row[0]), check.name((*path, 1), row[1])
    if a is not None and a == b:
        check.fault("same-point", path, f'this runs from "{a}" to itself', "name the two points it was taken between")
        return None, None
    return a, b


def read_sigma(table: Table, key: str = "sigma") -> float | None:
    """A standard deviation in metres; what no instrument reaches is noted, as it would drown every other reading."""
    found = table.length(key, positive=True)
    if found is not None and found < LEAST_SIGMA_M:
        wrong = f"σ = {found * 1000:.2g} mm is closer than anything on site measures"
        table.check.fault("out-of-range", table.at(key), wrong, "write 0.01 mm or more; a good tape has about 2 mm")
        return None
    return found


def _sigma(remarks: Table | None) -> float | None:
    return None if remarks is None else read_sigma(remarks)


def _remark(remarks: Table | None, key: str) -> str | None:
    value = None if remarks is None else remarks.get(key)
    return None if remarks is None or value is None else remarks.check.note(remarks.at(key), value)


def _tape(check: Checker, path: Path, value: Any) -> Tape | None:
    found = _row(check, path, value, 3, TAPE)
    if found is None:
        return None
    row, remarks = found
    a, b = _ends(check, path, row)
    length: Length | None = check.length((*path, 2), row[2], positive=True)
    sigma = _sigma(remarks)
    struck, by, at, device = (_remark(remarks, key) for key in ("struck", "by", "at", "device"))
    if remarks is not None:
        remarks.close()
    if a is None or b is None or length is None:
        return None
    return Tape(a, b, length, sigma, check.document.line(path), struck, by, at, device)


def _offset(check: Checker, path: Path, value: Any) -> Offset | None:
    found = _row(check, path, value, 5, OFFSET)
    if found is None:
        return None
    row, remarks = found
    a, b = _ends(check, path, row)
    station = None if row[2] == "" else check.length((*path, 2), row[2], signed=True)
    offset = check.length((*path, 3), row[3], signed=True)
    point = check.name((*path, 4), row[4])
    sigma = _sigma(remarks)
    if remarks is not None:
        remarks.close()
    if point is not None and point in (a, b):
        check.fault(
            "same-point", path, f'"{point}" is an end of the stringline it is measured from', "name the point measured"
        )
        return None
    if a is None or b is None or offset is None or point is None or (station is None and row[2] != ""):
        return None
    return Offset(a, b, station, offset, point, sigma, check.document.line(path))


def _level(check: Checker, path: Path, value: Any) -> Level | None:
    found = _row(check, path, value, 2, LEVEL)
    if found is None:
        return None
    row, remarks = found
    point = check.name((*path, 0), row[0])
    rod = check.length((*path, 1), row[1])
    sigma, setup = _sigma(remarks), _remark(remarks, "setup")
    if remarks is not None:
        remarks.close()
    if point is None or rod is None:
        return None
    return Level(point, rod, sigma, check.document.line(path), setup)
