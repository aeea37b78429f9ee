"""Read [pool]: the water's edge in order, and what stands around it."""

from __future__ import annotations

from typing import Any

from stringline.document.locate import Path
from stringline.document.schema import Table
from stringline.finding import finding
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
    before = "nothing"  # what stands before: nothing | name | arc | through
    raw = table.items("water", need="job.need-water")
    for i, item in enumerate(raw):
        here = (*path, i)
        if isinstance(item, dict):
            kind = "through" if "through" in item else "arc"
            corner = _read_bend(table, here, item, kind)
            if _misplaced(table, here, kind, before, curve):
                continue
            before = kind
            if corner is None:
                continue
            if kind == "through":
                _add(table, here, corners, corner, last=False)
            elif corners:
                corners[-1] = Corner(corners[-1].point, corner.radius_m)
            continue
        name = check.name(here, item)
        before = "name"
        if name is not None:
            _add(table, here, corners, Corner(name), last=i == len(raw) - 1)
    names = sum(not isinstance(item, dict) or "through" in item for item in raw)
    if isinstance(table.data.get("water"), list) and names < 3 and not check.document.is_damaged(path):
        check.fault("item-count", path, finding("job.few-points", n=names), "job.name-three")
    return tuple(corners)


def _add(table: Table, path: Path, corners: list[Corner], corner: Corner, *, last: bool) -> None:
    """Add a point, once."""
    if not any(c.point == corner.point for c in corners):
        corners.append(corner)
        return
    closing = last and corners[0].point == corner.point
    right = "job.closes-by-itself" if closing else "document.name-once"
    table.check.fault("name-twice", path, finding("job.water-twice", name=corner.point), right)


def _read_bend(table: Table, path: Path, item: dict[str, Any], kind: str) -> Corner | None:
    """``{ arc = radius }`` or ``{ through = name }``; the arc's corner has no name of its own yet."""
    inner = Table(table.check, path, item)
    found: Corner | None = None
    if kind == "through":
        name = table.check.name(inner.at("through"), inner.get("through"))
        found = None if name is None else Corner(name, through=True)
    else:
        radius = inner.length("arc", positive=True, need="job.need-arc")
        found = None if radius is None else Corner("", radius)
    inner.close()
    return found


def _misplaced(table: Table, path: Path, kind: str, before: str, curve: bool) -> bool:
    """Whether a rounding or a bow stands where it means nothing; notes it."""
    if curve:
        wrong, right = f"job.curve-has-no-{kind}", "job.leave-out-or-no-curve"
    elif kind == "arc" and before != "name":
        wrong, right = "job.arc-alone", "job.place-arc"
    elif kind == "through" and before not in ("name", "arc"):
        wrong, right = "job.bow-alone", "job.place-bow"
    else:
        return False
    table.check.fault("arc-place", path, wrong, right)
    return True


def _read_obstacle(table: Table, path: Path, item: Any, taken: list[str]) -> Obstacle | None:
    check = table.check
    inner = check.table(path, item)
    if inner is None:
        return None
    raw_name = inner.get("name", need="job.need-obstacle-name")
    name = None if raw_name is None else check.name(inner.at("name"), raw_name)
    if name is not None and name in taken:
        twice = finding("job.obstacle-twice", name=name)
        check.fault("name-twice", inner.at("name"), twice, "job.name-of-its-own")
    raw_points = inner.get("points", need="job.need-obstacle-points")
    points = () if raw_points is None else check.names(inner.at("points"), raw_points, once=False)
    if raw_points == []:
        check.fault("empty", inner.at("points"), "job.no-points", "job.name-one-point")
    kind = inner.word("kind", KINDS, need=True)
    inner.close()
    if name is None or not points or kind is None:
        return None
    return Obstacle(name, points, kind, check.document.line(path))
