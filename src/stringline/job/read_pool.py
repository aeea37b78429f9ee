"""Read [pool]: the water's edge in order, and what stands around it."""

from __future__ import annotations

from typing import Any

from stringline.document.locate import Path
from stringline.document.schema import Table
from stringline.job.model import Corner, Obstacle, Pool

KINDS = ("wall", "rail", "rock", "step", "deck-edge")


def read_pool(table: Table | None) -> Pool | None:
    """The pool as written, None where there is no such section; what is wrong has been noted in the document."""
    if table is None:
        return None
    curve = table.flag("curve", default=False)
    water = _read_water(table, curve)
    obstacles: list[Obstacle] = []
    for i, item in enumerate(table.items("obstacles")):
        found = _read_obstacle(table, (*table.at("obstacles"), i), item, [o.name for o in obstacles])
        if found is not None:
            obstacles.append(found)
    table.close()
    return Pool(water, curve, tuple(obstacles))


def _read_water(table: Table, curve: bool) -> tuple[Corner, ...]:
    check = table.check
    path = table.at("water")
    corners: list[Corner] = []
    may_round = False
    raw = table.items("water", need='water = ["1", "2", "3", "4"], the points of the water\'s edge in order')
    for i, item in enumerate(raw):
        here = (*path, i)
        if isinstance(item, dict):
            radius = _read_arc(table, here, item)
            if curve:
                check.fault(
                    "arc-place", here, "a smooth curve has no corner to round", "leave this out, or write curve = false"
                )
            elif not may_round:
                check.fault(
                    "arc-place",
                    here,
                    "no corner's name stands directly before this rounding",
                    'write it behind the name of the corner it rounds, as "1", { arc = "6 in" }, "2"',
                )
            elif radius is not None and corners:
                corners[-1] = Corner(corners[-1].point, radius)
            may_round = False
            continue
        name = check.name(here, item)
        may_round = True
        if name is None:
            continue
        if any(c.point == name for c in corners):
            last = i == len(raw) - 1 and corners[0].point == name
            right = "leave it out, the edge closes by itself" if last else "name each point once"
            check.fault("name-twice", here, f'"{name}" stands in the water\'s edge a second time', right)
            continue
        corners.append(Corner(name))
    names = sum(not isinstance(item, dict) for item in raw)
    if isinstance(table.data.get("water"), list) and names < 3 and not check.document.is_damaged(path):
        check.fault("item-count", path, f"{names} points are no water's edge", "name at least three, in their order")
    return tuple(corners)


def _read_arc(table: Table, path: Path, item: dict[str, Any]) -> float | None:
    inner = Table(table.check, path, item)
    radius = inner.length("arc", positive=True, need='{ arc = "6 in" }, the radius of the corner')
    inner.close()
    return radius


def _read_obstacle(table: Table, path: Path, item: Any, taken: list[str]) -> Obstacle | None:
    check = table.check
    inner = check.table(path, item)
    if inner is None:
        return None
    raw_name = inner.get("name", need='name = "garden wall", or what it is called')
    name = None if raw_name is None else check.name(inner.at("name"), raw_name)
    if name is not None and name in taken:
        check.fault("name-twice", inner.at("name"), f'another obstacle is called "{name}"', "give each its own name")
    raw_points = inner.get("points", need='points = ["w1", "w2"], the points it runs through')
    points = () if raw_points is None else check.names(inner.at("points"), raw_points, once=False)
    if raw_points == []:
        check.fault("empty", inner.at("points"), "it has no points", "name at least one point")
    kind = inner.word("kind", KINDS, need=True)
    inner.close()
    if name is None or not points or kind is None:
        return None
    return Obstacle(name, points, kind, check.document.line(path))
