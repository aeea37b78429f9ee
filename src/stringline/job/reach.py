"""Hold the sections of a job against each other: every point named is one that a reading reaches."""

from __future__ import annotations

import re
from typing import Any

from stringline.document.load import spell
from stringline.document.locate import Path
from stringline.document.schema import Checker, nearest
from stringline.finding import finding
from stringline.job.model import Pool, SurveyInput
from stringline.lengths import LengthError, parse

_UNREAD = ("name-not-quoted", "bad-name", "wrong-type")


def check_reach(check: Checker, data: dict[str, Any], survey: SurveyInput, pool: Pool | None) -> None:
    """Note each point that is named and not reached, a housing off the water's edge, and a rounding too big.

    Rows that had faults of their own count as reaching their points, and so does text that could not be read, so that
    one slip is told once. A job without a single reading is a job not yet measured: nothing is said about its points.
    """
    reached, idle = _reached(_section(data, "survey"), survey)
    unread = isinstance(_section(data, "survey").get("coordinates"), str) and not survey.coordinates
    if (reached or idle) and not unread:  # a list that could not be read may hold any point
        lost = _lost(check, data)
        wrong = {f.where for f in check.document.faults}
        for path, name in _named(data):
            if name not in reached and spell(path) not in wrong and not _stands_in(name.strip(), lost):
                _not_reached(check, path, name, reached, idle)
    _check_housing(check, data, pool)
    _check_arcs(check, data, survey)


def _reached(section: dict[str, Any], survey: SurveyInput) -> tuple[set[str], set[str]]:
    """Points that readings in use reach, and points that only readings set aside reach."""
    reached: set[str] = set()
    idle: set[str] = set()
    for key, at in (("tapes", (0, 1)), ("offsets", (0, 1, 4)), ("coordinates", (0,))):
        for row in _rows(section, key):
            (idle if _is_struck(row) else reached).update(_spelt(row[k]) for k in at if k < len(row))
    for shot in survey.coordinates:  # also those from a file
        (reached if shot.struck is None else idle).add(shot.point)
    if reached:
        reached.update(survey.known)
        known = section.get("known")
        reached.update(known if isinstance(known, dict) else ())
    return reached, idle - reached


def _is_struck(row: list[Any]) -> bool:
    remarks = row[-1] if row and isinstance(row[-1], dict) else {}
    return bool(_spelt(remarks.get("struck", "")))


def _lost(check: Checker, data: dict[str, Any]) -> str:
    """What was written for readings and could not be read as such."""
    section = _section(data, "survey")
    rows = [row for key in ("tapes", "offsets") for row in _items(section, key) if not isinstance(row, list)]
    return "\n".join([check.document.lost, *map(str, rows)])


def _stands_in(name: str, text: str) -> bool:
    return bool(text) and re.search(rf"(?<!\w){re.escape(name)}(?!\w)", text) is not None


def _section(data: dict[str, Any], key: str) -> dict[str, Any]:
    """A section as written, empty where it is absent or no table."""
    found = data.get(key)
    return found if isinstance(found, dict) else {}


def _rows(section: dict[str, Any], key: str) -> list[list[Any]]:
    return [row for row in _items(section, key) if isinstance(row, list)]


def _items(section: dict[str, Any], key: str) -> list[Any]:
    rows = section.get(key)
    return rows if isinstance(rows, list) else [] if rows is None else [rows]


def _spelt(item: Any) -> str:
    """The name that was meant, quotes forgotten or spaces too many."""
    return item.strip() if isinstance(item, str) else str(item)


def _named(data: dict[str, Any]) -> list[tuple[Path, str]]:
    """Every point named outside the readings, with its place."""
    found: list[tuple[Path, str]] = []

    def take(path: Path, value: Any) -> None:
        if isinstance(value, list):
            for i, item in enumerate(value):
                point = item.get("through") if isinstance(item, dict) else item
                if isinstance(point, str) and point.strip():
                    found.append(((*path, i), point))

    survey, pool, cover = (_section(data, key) for key in ("survey", "pool", "cover"))
    take(("survey", "baseline"), survey.get("baseline"))
    take(("survey", "behind"), survey.get("behind"))
    sketch = survey.get("sketch")
    found.extend((("survey", "sketch", key), key) for key in (sketch if isinstance(sketch, dict) else ()))
    take(("pool", "water"), pool.get("water"))
    obstacles = pool.get("obstacles")
    for i, item in enumerate(obstacles if isinstance(obstacles, list) else []):
        if isinstance(item, dict):
            take(("pool", "obstacles", i, "points"), item.get("points"))
    control = _section(data, "control").get("point")
    if isinstance(control, str) and control.strip():
        found.append((("control", "point"), control))
    if not isinstance(pool.get("water"), list):
        take(("cover", "housing"), cover.get("housing"))
    return found


def _not_reached(check: Checker, path: Path, name: str, reached: set[str], idle: set[str]) -> None:
    name = name.strip()
    if name in reached:
        return
    if name in idle:
        check.fault(
            "not-reached",
            path,
            finding("job.all-set-aside", name=name),
            "job.take-new-reading",
        )
        return
    close = nearest(name, sorted(reached))
    hint = finding("job.meant-or-tape", meant=close, name=name) if close else finding("job.tape-to", name=name)
    check.fault("not-reached", path, finding("job.not-reached", name=name), hint)


def _check_housing(check: Checker, data: dict[str, Any], pool: Pool | None) -> None:
    """The housing's edge joins two neighbours of the water's edge."""
    housing = _section(data, "cover").get("housing")
    if (
        pool is None
        or not isinstance(housing, list)
        or len(housing) != 2
        or check.document.is_damaged(("pool", "water"))
    ):
        return
    if any(str(f.where).startswith("pool.water[") and f.code in _UNREAD for f in check.document.faults):
        return  # a point of the edge could not be read, so neighbours are not what they seem
    names = [c.point for c in pool.water if not c.through]
    a, b = (_spelt(item) for item in housing)
    path: Path = ("cover", "housing")
    missing = [n for n in (a, b) if n not in names]
    if missing:
        check.fault(
            "housing-edge",
            path,
            finding("job.not-of-edge", name=missing[0]),
            "job.name-neighbours",
        )
    elif a != b and not pool.curve and (names.index(a) - names.index(b)) % len(names) not in (1, len(names) - 1):
        beside = [names[(names.index(a) + step) % len(names)] for step in (-1, 1)]
        check.fault(
            "housing-edge",
            path,
            finding("job.no-neighbours", a=a, b=b),
            finding("job.beside-lie", a=a, before=beside[0], after=beside[1]),
        )


def _check_arcs(check: Checker, data: dict[str, Any], survey: SurveyInput) -> None:
    """No corner is rounded with a radius longer than the longest reading."""
    water = _section(data, "pool").get("water")
    longest = max((t.length.m for t in survey.tapes), default=None)
    if longest is None or not isinstance(water, list) or check.unit is None:
        return
    for i, item in enumerate(water):
        arc = item.get("arc") if isinstance(item, dict) else None
        if not isinstance(arc, str | int | float):
            continue
        try:
            radius = parse(arc, check.unit).m
        except LengthError:
            continue
        if radius > longest:
            check.fault(
                "arc-too-big",
                ("pool", "water", i),
                finding("job.arc-too-big", radius=str(arc), longest_m=longest),
                "job.radius-of-corner",
            )
