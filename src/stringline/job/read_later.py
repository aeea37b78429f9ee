"""Read [order], [rack], [power], [drain], [control] and [tasks]: every value in its range, every key known."""

from __future__ import annotations

import datetime
from typing import Any

from stringline.document.locate import Path
from stringline.document.schema import Checker, Table, nearest
from stringline.finding import finding
from stringline.job.lists import MOST_ON_RACK
from stringline.job.model_later import (
    FIGURES,
    Control,
    Drain,
    Ordering,
    PlacedOrder,
    Power,
    Rack,
    Task,
    Tasks,
)
from stringline.lengths import Length

_MOST_MONEY = 1e12
METALS = ("copper", "aluminium")
PHASES = (1, 3)
CONDUCTORS = (
    *(f"{n} AWG" for n in (14, 12, 10, 8, 6, 4, 3, 2, 1, "1/0", "2/0", "3/0", "4/0")),
    *(f"{n} mm2" for n in (1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95)),
)
"""Sizes of wire as the trade calls them: American wire gauge, or square millimetres."""


def read_order(table: Table | None) -> Ordering | None:
    """What the firm knows of its costs and what it ordered; None where there is no such section."""
    if table is None:
        return None
    earlier = []
    for i, item in enumerate(table.items("earlier")):
        inner = table.check.table((*table.at("earlier"), i), item)
        if inner is not None:
            earlier.append(_placed(inner))
            inner.close()
    found = Ordering(
        wrong_order_cost=table.number("wrong_order_cost", low=0.0, high=_MOST_MONEY),
        day_cost=table.number("day_cost", low=0.0, high=_MOST_MONEY),
        days_to_wait=table.number("days_to_wait", low=0.0, high=3650.0),
        after_pour=table.flag("after_pour", default=False),
        placed=_placed(table) if any(table.has(key) for key in ("figures", "date", "mark")) else None,
        earlier=tuple(e for e in earlier if e is not None),
    )
    for key in ("figures", "date", "mark"):
        table.has(key)  # known also where no order went out yet
    table.close()
    return found


def _placed(table: Table) -> PlacedOrder | None:
    """An order that went out; None where its figures are missing or are no table."""
    check = table.check
    raw = table.get("figures", need="job.need-figures")
    inner = None if raw is None else check.table(table.at("figures"), raw)
    date, mark = _date(table, "date"), table.text("mark")
    if inner is None:
        return None
    figures: dict[str, Length] = {}
    for key in FIGURES:
        value = inner.get(key)
        found = None if value is None else check.length(inner.at(key), value, positive=True)
        if found is not None:
            figures[key] = found
    inner.close()
    return PlacedOrder(figures, date, mark)


def read_rack(table: Table | None) -> Rack | None:
    """Offcuts with one factory end; None where there is no such section."""
    if table is None:
        return None
    check, path = table.check, table.at("offcuts")
    raw = table.items("offcuts")
    if len(raw) > MOST_ON_RACK:
        check.fault(
            "item-count", path, finding("job.rack-long", n=len(raw)), finding("job.rack-most", most=MOST_ON_RACK)
        )
        raw = raw[:MOST_ON_RACK]
    found = [check.length((*path, i), item, positive=True) for i, item in enumerate(raw)]
    table.close()
    return Rack(tuple(length for length in found if length is not None))


def read_power(table: Table | None) -> Power | None:
    """The motor's supply; None where there is no such section."""
    if table is None:
        return None
    phases = table.number("phases", low=PHASES[0], high=PHASES[-1])
    if phases is not None and phases not in PHASES:
        table.check.fault("out-of-range", table.at("phases"), "job.phases-two", "job.phases-one-three")
    found = Power(
        volts=table.number("volts", low=12.0, high=600.0),
        phases=None if phases is None else int(phases),
        breaker_a=table.number("breaker_a", low=1.0, high=400.0),
        run_m=table.length("run", positive=True),
        conductor=table.word("conductor", CONDUCTORS),
        metal=table.word("metal", METALS),
        from_water_m=table.length("from_water"),
    )
    table.close()
    return found


def read_drain(table: Table | None) -> Drain | None:
    """Water on the cover and in the housing; None where there is no such section."""
    if table is None:
        return None
    found = Drain(
        rain_m=table.length("rain", positive=True),
        catchment_m2=table.number("catchment_m2", low=0.0, high=1e5),
        runoff=table.number("runoff", low=0.0, high=1.0),
        pipe_m=table.length("pipe", positive=True),
        fall=table.number("fall", low=0.0, high=1.0),
        roughness=table.number("roughness", low=0.005, high=0.1),
        pump_m3_h=table.number("pump_m3_h", low=0.0, high=1000.0),
    )
    table.close()
    return found


def read_control(table: Table | None) -> Control | None:
    """Where the person stands who moves the cover; None where there is no such section."""
    if table is None:
        return None
    raw = table.get("point")
    point = None if raw is None else table.check.name(table.at("point"), raw)
    found = Control(point, table.length("eye", positive=True))
    table.close()
    return found


def read_tasks(table: Table | None) -> Tasks | None:
    """The work; None where there is no such section. A task that waits for itself is a fault, by way of others too."""
    if table is None:
        return None
    rows = [(path, _task(table.check, path, item)) for path, item in _each(table, "list")]
    table.close()
    found: dict[str, Task] = {}
    for path, task in rows:
        if task is None:
            continue
        if task.name in found:
            table.check.fault(
                "name-twice", (*path, "name"), finding("job.task-twice", name=task.name), "job.name-of-its-own"
            )
            continue
        found[task.name] = task
    for path, task in rows:
        for k, name in enumerate(() if task is None else task.after):
            if name not in found:
                close = nearest(name, found)
                right = "job.name-a-task" if close is None else finding("job.if-meant", meant=close)
                table.check.fault("no-such-task", (*path, "after", k), finding("job.no-task", name=name), right)
    for path, task in rows:
        if task is not None and _waits_for_itself(task.name, found):
            wrong = finding("job.task-circle", name=task.name)
            table.check.fault("not-in-order", (*path, "after"), wrong, "job.break-circle")
            break  # the others on the circle are the same fault
    return Tasks(tuple(found.values()))


def _each(table: Table, key: str) -> list[tuple[Path, Any]]:
    return [((*table.at(key), i), item) for i, item in enumerate(table.items(key))]


def _task(check: Checker, path: Path, item: Any) -> Task | None:
    inner = check.table(path, item)
    if inner is None:
        return None
    raw = inner.get("name", need="job.need-task")
    name = None if raw is None else check.name(inner.at("name"), raw)
    days = inner.number("days", low=0.0, high=3650.0)
    after = check.names(inner.at("after"), inner.data["after"]) if inner.has("after") else ()
    earliest, done = _date(inner, "earliest"), _date(inner, "done")
    who = inner.text("who")
    inner.close()
    line = check.document.line(path)
    return None if name is None else Task(name, 1.0 if days is None else days, after, earliest, done, who, line)


def _waits_for_itself(name: str, tasks: dict[str, Task]) -> bool:
    seen: set[str] = set()
    ahead = list(tasks[name].after)
    while ahead:
        step = ahead.pop()
        if step == name:
            return True
        if step in tasks and step not in seen:
            seen.add(step)
            ahead.extend(tasks[step].after)
    return False


def _date(table: Table, key: str) -> str | None:
    """A day, as a date or as text that is one."""
    value = table.get(key)
    if value is None:
        return None
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return value.isoformat()
    try:
        return datetime.date.fromisoformat(value).isoformat()
    except (TypeError, ValueError):
        table.check.fault("bad-date", table.at(key), "job.no-date", "job.write-date")
        return None
