"""Read [run]: leads and what was seen while the cover ran, now and in earlier runs."""

from __future__ import annotations

from stringline.document.locate import Path
from stringline.document.schema import Table
from stringline.job.model import EarlierRun, Run, RunReading

ROW = '[station, closing lead, opening lead, current], with "" for what was not taken'
SIDES = ("drive", "idle", "both")
# what can have been put right after a run; the first ones are amounts of length, the others plain numbers
LENGTH_CAUSES = ("rope-length", "reel-size", "square", "hem-roll")
NUMBER_CAUSES = ("reel-stacking", "rope-stretch", "hem-drag", "both-drag", "slider-drag", "tight-spot")


def read_run(table: Table | None) -> Run | None:
    """The runs, None where there is no such section."""
    if table is None:
        return None
    leads, seen = _read_leads(table), _read_seen(table)
    earlier = [_read_earlier(table, (*table.at("earlier"), i), item) for i, item in enumerate(table.items("earlier"))]
    table.close()
    return Run(leads, seen, tuple(e for e in earlier if e is not None))


def _read_earlier(table: Table, path: Path, item: object) -> EarlierRun | None:
    """One run before, and what was put right after it."""
    inner = table.check.table(path, item)
    if inner is None:
        return None
    leads, seen = _read_leads(inner), _read_seen(inner)
    cause = inner.word("cause", (*LENGTH_CAUSES, *NUMBER_CAUSES), need=True)
    side = inner.word("side", SIDES, need=True)
    amount: float | None = None
    if cause in LENGTH_CAUSES:
        amount = inner.length("amount", signed=True, need='amount = "5/8 in", or another length')
    else:
        value = inner.get("amount", need="amount, how much was put right, as a number")
        amount = None if value is None or cause is None else inner.check.number(inner.at("amount"), value)
    inner.close()
    if cause is None or side is None or amount is None:
        return None
    return EarlierRun(leads, cause, side, amount, seen)


def _read_seen(table: Table) -> tuple[str, ...]:
    found = [table.check.text((*table.at("seen"), i), item) for i, item in enumerate(table.items("seen"))]
    return tuple(s for s in found if s is not None)


def _read_leads(table: Table) -> tuple[RunReading, ...]:
    check = table.check
    leads: list[RunReading] = []
    for i, item in enumerate(table.items("leads")):
        path = (*table.at("leads"), i)
        row = check.items(path, item, f"a list, {ROW}")
        if row is None:
            continue
        if not 2 <= len(row) <= 4:
            count = f"{len(row)} item{'' if len(row) == 1 else 's'}"
            check.fault("item-count", path, f"this has {count}", f"write {ROW}")
            continue
        row = [*row, "", ""][:4]
        station = check.length((*path, 0), row[0])
        closing, opening = (None if row[k] == "" else check.length((*path, k), row[k], signed=True) for k in (1, 2))
        current = None if row[3] == "" else check.number((*path, 3), row[3], low=0, high=1000)
        if station is not None:
            leads.append(
                RunReading(
                    station.m,
                    None if closing is None else closing.m,
                    None if opening is None else opening.m,
                    current,
                    check.document.line(path),
                )
            )
    return tuple(leads)
