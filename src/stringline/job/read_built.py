"""Read [as_built]: what was measured after the pour."""

from __future__ import annotations

from collections.abc import Mapping

from stringline.document.schema import Table
from stringline.job.model import AsBuilt
from stringline.job.read_survey import read_sigma


def read_as_built(table: Table | None, line: int | None) -> AsBuilt | None:
    """What was measured after the pour, None where there is no such section."""
    if table is None:
        return None
    check = table.check
    gauge = _pairs(table, "gauge", "station, distance between the tracks")
    channel = _lengths(table, "channel", ("left", "right"))
    diagonals: tuple[float, float] | None = None
    if raw := table.items("diagonals"):
        found = [check.length((*table.at("diagonals"), i), item, positive=True) for i, item in enumerate(raw)]
        if len(raw) != 2:
            check.fault("item-count", table.at("diagonals"), "there are two diagonals", "write both, in a list of two")
        elif found[0] is not None and found[1] is not None:
            diagonals = (found[0].m, found[1].m)
    offsets = table.table("offsets")
    left: tuple[tuple[float, float], ...] = ()
    right: tuple[tuple[float, float], ...] = ()
    if offsets is not None:
        left = _pairs(offsets, "left", "station, offset from the stringline, + to the right", signed=True)
        right = _pairs(offsets, "right", "station, offset from the stringline, + to the right", signed=True)
        offsets.close()
    built = AsBuilt(
        gauge=gauge,
        channel_left_m=channel["left"],
        channel_right_m=channel["right"],
        diagonals_m=diagonals,
        offsets_left=left,
        offsets_right=right,
        housing_inside_m=_lengths(table, "housing", ("inside",))["inside"],
        fascia_clear_m=_lengths(table, "fascia", ("clear",))["clear"],
        lid_opening_m=_lengths(table, "lid", ("opening",))["opening"],
        sigma_m=read_sigma(table),
        line=line,
    )
    table.close()
    return built


def _lengths(table: Table, key: str, names: tuple[str, ...]) -> Mapping[str, float | None]:
    """A table of lengths, each of which may be absent."""
    inner = table.table(key)
    if inner is None:
        return dict.fromkeys(names)
    found = {name: inner.length(name, positive=True) for name in names}
    inner.close()
    return found


def _pairs(table: Table, key: str, what: str, *, signed: bool = False) -> tuple[tuple[float, float], ...]:
    """Rows of [station, value], in metres, in the order of their stations."""
    check = table.check
    rows: list[tuple[float, float]] = []
    for i, item in enumerate(table.items(key)):
        path = (*table.at(key), i)
        row = check.items(path, item, f"a list of two, [{what}]")
        if row is None:
            continue
        if len(row) != 2:
            check.fault("item-count", path, f"this has {len(row)} items", f"write two, [{what}]")
            continue
        station = check.length((*path, 0), row[0])
        value = check.length((*path, 1), row[1], signed=signed, positive=not signed)
        if station is not None and value is not None:
            rows.append((station.m, value.m))
    return tuple(sorted(rows))
