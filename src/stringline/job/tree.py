"""A job as the values of its document: what :func:`stringline.job.read.read_job` reads, the other way round.

Readings come out as they were written. A length that a job keeps as a number of metres comes out in the job's unit
where that says it to the last bit, in metres otherwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from stringline.job.model import Cover, Job, Pool, SurveyInput, TapeConditions
from stringline.job.model_later import Control, Drain, Ordering, PlacedOrder, Power, Rack, Tasks
from stringline.job.read_built import LENGTH_CAUSES
from stringline.job.readings import (
    BUILT_ONCE,
    MARKS,
    AsBuilt,
    Built,
    Coordinate,
    EarlierRun,
    Level,
    Marked,
    Offset,
    Run,
    RunReading,
    Tape,
)
from stringline.lengths import INCH_M, Unit, format_length, parse

Tree = dict[str, Any]


def tree_of(job: Job) -> Tree:
    """The values of the job's document: tables, lists, texts, numbers, true and false."""
    unit = job.unit
    head = {"name": job.name, "unit": str(unit), "stage": str(job.stage)}
    if job.system:
        head["system"] = job.system
    sections: dict[str, Tree | None] = {
        "job": head | ({"invented": True} if job.invented else {}),
        "survey": _survey(job.survey, unit),
        "pool": None if job.pool is None else _pool(job.pool, unit),
        "cover": None if job.cover is None else _cover(job.cover, unit),
        "as_built": None if job.as_built is None else _as_built(job.as_built, unit),
        "run": None if job.run is None else _run(job.run, unit),
        "order": None if job.order is None else _order(job.order),
        "rack": None if job.rack is None else _rack(job.rack),
        "power": None if job.power is None else _power(job.power, unit),
        "drain": None if job.drain is None else _drain(job.drain, unit),
        "control": None if job.control is None else _control(job.control, unit),
        "tasks": None if job.tasks is None else _tasks(job.tasks),
    }
    return {name: section for name, section in sections.items() if section is not None}


def metres_text(m: float, unit: Unit) -> str:
    """A length to the last bit: in ``unit`` where a rounded text says it exactly, else in millimetres or metres.

    >>> metres_text(0.0762, Unit.FT_IN), metres_text(0.001, Unit.FT_IN), metres_text(0.1 + 0.2, Unit.MM)
    ('3"', '1 mm', '0.30000000000000004 m')
    """
    steps = (None, INCH_M / 64) if unit is Unit.FT_IN else (None,)
    for said in (*(format_length(m, unit, step=step) for step in steps), format_length(m, Unit.MM)):
        if parse(said, None, signed=True).m == m:
            return said
    return f"{Decimal(repr(float(m))):f} m"


def number(value: float) -> int | float:
    """A number as a person would write it: a whole one without a point.

    >>> number(9000.0), number(0.5)
    (9000, 0.5)
    """
    return int(value) if value.is_integer() and abs(value) < 1e15 else value


def row_of(reading: Marked, unit: Unit) -> list[Any]:
    """A reading as the row of its list, with the table behind it where there is something to say in it."""
    match reading:
        case Tape():
            items: list[Any] = [reading.a, reading.b, reading.length.text]
        case Offset():
            station = "" if reading.station is None else reading.station.text
            items = [reading.a, reading.b, station, reading.offset.text, reading.point]
        case Level():
            items = [reading.point, reading.rod.text]
        case Coordinate():
            items = [reading.point, reading.x.text, reading.y.text]
        case Built():
            items = [*([] if reading.station is None else [reading.station.text]), reading.value.text]
        case RunReading():
            leads = ["" if lead is None else lead.text for lead in (reading.closing, reading.opening)]
            items = [reading.station.text, *leads, *([] if reading.current_a is None else [number(reading.current_a)])]
        case _:
            raise TypeError(f"{type(reading).__name__} is no kind of reading")
    behind = marks_of(reading)
    if isinstance(reading, Tape | Offset | Level | Coordinate) and reading.sigma_m is not None:
        behind["sigma"] = metres_text(reading.sigma_m, unit)
    if isinstance(reading, Level) and reading.setup is not None:
        behind["setup"] = reading.setup
    return [*items, behind] if behind else items


def marks_of(reading: Marked) -> dict[str, str]:
    """What a reading carries, by name, without what nobody said."""
    return {name: value for name in MARKS if (value := getattr(reading, name)) is not None}


def _rows(readings: Iterable[Marked], unit: Unit) -> list[list[Any]]:
    return [row_of(r, unit) for r in readings]


def _said(values: Mapping[str, Any]) -> Tree:
    """Texts, lists and tables without those that are not there or empty."""
    return {k: list(v) if isinstance(v, tuple) else v for k, v in values.items() if v is not None and len(v) > 0}


def _lengths(values: Mapping[str, float | None], unit: Unit) -> dict[str, str]:
    return {k: metres_text(v, unit) for k, v in values.items() if v is not None}


def _survey(s: SurveyInput, unit: Unit) -> Tree:
    floor = None
    if s.floor is not None:
        points = [name if run is None else [name, metres_text(run, unit)] for name, run in s.floor.points]
        floor = {"points": points, "drain": s.floor.drain}
    return {
        "tape_class": s.tape_class,
        **_lengths({"sigma": s.sigma_m, "tape_length": s.tape_length_m}, unit),
        **_said({"baseline": s.baseline, "behind": s.behind}),
        **_said(
            {"sketch": {k: [number(n) for n in v] if s.sketch_bare else _xy(v, unit) for k, v in s.sketch.items()}}
        ),
        **_said({"known": {k: _xy(v, unit) for k, v in s.known.items()}}),
        **_said({"conditions": None if s.conditions is None else _conditions(s.conditions)}),
        "tapes": _rows(s.tapes, unit),
        **_said({"offsets": _rows(s.offsets, unit), "levels": _rows(s.levels, unit)}),
        **_said({"coordinates": s.coordinate_file or _rows(s.coordinates, unit)}),
        **_said({"housing_floor": floor, "blocked": [list(pair) for pair in s.blocked]}),
    }


def _xy(xy: tuple[float, float], unit: Unit) -> list[str]:
    return [metres_text(m, unit) for m in xy]


def _conditions(c: TapeConditions) -> Tree:
    names = [f for f in TapeConditions.__slots__ if f != "hanging"]
    numbers = {name: number(value) for name in names if (value := getattr(c, name)) is not None}
    return numbers | ({"hanging": True} if c.hanging else {})


def _pool(pool: Pool, unit: Unit) -> Tree:
    water: list[Any] = []
    for corner in pool.water:
        water.append({"through": corner.point} if corner.through else corner.point)
        if corner.radius_m > 0.0:
            water.append({"arc": metres_text(corner.radius_m, unit)})
    obstacles = [{"name": o.name, "points": list(o.points), "kind": o.kind} for o in pool.obstacles]
    return {"water": water, "curve": pool.curve, **_said({"obstacles": obstacles})}


def _cover(cover: Cover, unit: Unit) -> Tree:
    return {
        "mount": cover.mount,
        "housing": "any" if cover.housing is None else list(cover.housing),
        "drive_side": cover.drive_side,
        "margins": _lengths({"side": cover.side_margin_m, "end": cover.end_margin_m}, unit),
        "minimise": cover.minimise,
        **_said({"choices": _lengths(cover.choices, unit)}),
    }


def _as_built(built: AsBuilt, unit: Unit) -> Tree:
    def along(what: str) -> list[list[Any]]:
        return _rows((r for r in built.readings if r.what == what), unit)

    def once(what: str) -> Any:
        rows = along(what)
        if len(rows) != 1:
            return rows or None
        return rows[0] if len(rows[0]) > 1 else rows[0][0]

    tree = _said({"gauge": along("gauge")})
    single: Tree = {}
    for what in ("offsets.left", "offsets.right", *BUILT_ONCE):
        found = along(what) if what.startswith("offsets") else once(what)
        if found:
            key, _, name = what.partition(".")
            single.setdefault(key, {})[name] = found
    if (diagonals := single.pop("diagonals", None)) is not None:
        tree["diagonals"] = [diagonals.get("0", ""), diagonals.get("1", "")]
    return {**tree, **single, **_lengths({"sigma": built.sigma_m}, unit)}


def _run(run: Run, unit: Unit) -> Tree:
    earlier = [_earlier(e, unit) for e in run.earlier]
    return {"leads": _rows(run.readings, unit), **_said({"seen": run.seen, "earlier": earlier})}


def _earlier(e: EarlierRun, unit: Unit) -> Tree:
    amount = metres_text(e.amount, unit) if e.cause in LENGTH_CAUSES else number(e.amount)
    rows = {"leads": _rows(e.readings, unit), "seen": list(e.seen)}
    return {**_said(rows), "cause": e.cause, "side": e.side, "amount": amount}


def _order(order: Ordering) -> Tree:
    return {
        **_costs(order),
        **({"after_pour": True} if order.after_pour else {}),
        **({} if order.placed is None else _placed(order.placed)),
        **_said({"earlier": [_placed(p) for p in order.earlier]}),
    }


def _costs(order: Ordering) -> Tree:
    costs = {name: getattr(order, name) for name in ("wrong_order_cost", "day_cost", "days_to_wait")}
    return {name: number(value) for name, value in costs.items() if value is not None}


def _placed(placed: PlacedOrder) -> Tree:
    figures = {key: length.text for key, length in placed.figures.items()}
    return {**_said({"date": placed.date, "mark": placed.mark}), "figures": figures}


def _rack(rack: Rack) -> Tree:
    return {"offcuts": [length.text for length in rack.offcuts]}


def _plain(value: object, lengths: tuple[str, ...], unit: Unit) -> Tree:
    """A section of plain values: every field but those that are lengths, without its unit, by its own name."""
    found: Tree = {}
    for name in type(value).__slots__:  # type: ignore[attr-defined]
        v = getattr(value, name)
        if v is not None:
            if name in lengths:
                found[name.removesuffix("_m")] = metres_text(v, unit)
            else:
                found[name] = number(v) if isinstance(v, float) else v
    return found


def _power(power: Power, unit: Unit) -> Tree:
    return _plain(power, ("run_m", "from_water_m"), unit)


def _drain(drain: Drain, unit: Unit) -> Tree:
    return _plain(drain, ("rain_m", "pipe_m"), unit)


def _control(control: Control, unit: Unit) -> Tree:
    return _plain(control, ("eye_m",), unit)


def _tasks(tasks: Tasks) -> Tree:
    rows = [
        {
            "name": t.name,
            "days": number(t.days),
            **_said({"after": t.after, "earliest": t.earliest, "done": t.done, "who": t.who}),
        }
        for t in tasks.listed
    ]
    return {"list": rows}
