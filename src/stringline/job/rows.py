"""A job as flat rows and back: one row a reading and one a choice, each of texts and numbers alone.

A reading's row has its ``kind`` (:data:`KINDS`), the ``path`` of the list it stands in and its ``place`` there, who
took it and when (:data:`stringline.job.readings.MARKS`), and what was read, as it was written. Every other value of a
job is a row of kind ``choice`` with its ``path`` and ``value``. A row of kind ``empty`` says that a table or a list is
there and holds nothing. A path is a list of keys and places, as JSON text.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from stringline.document.load import Document
from stringline.document.locate import Path
from stringline.job.model import Job
from stringline.job.read import read_document
from stringline.job.readings import BUILT_ONCE, MARKS
from stringline.job.tree import Tree, tree_of

Row = dict[str, Any]
"""One flat row: every value is a text, a number, true, false or None, so that it can be JSON or a row of a table."""

KINDS: dict[str, tuple[str, ...]] = {
    "tape": ("a", "b", "length"),
    "offset": ("a", "b", "station", "offset", "point"),
    "level": ("point", "rod"),
    "coordinate": ("point", "x", "y"),
    "built-at": ("station", "length"),
    "built": ("length",),
    "lead": ("station", "closing", "opening", "current_a"),
}
"""Kinds of readings, and what the items of each are called in its row."""

_BEHIND = {"tape": ("sigma",), "offset": ("sigma",), "level": ("sigma", "setup"), "coordinate": ("sigma",)}
_LISTS: dict[Path, str] = {
    ("survey", "tapes"): "tape",
    ("survey", "offsets"): "offset",
    ("survey", "levels"): "level",
    ("survey", "coordinates"): "coordinate",
    ("as_built", "gauge"): "built-at",
    ("as_built", "offsets", "left"): "built-at",
    ("as_built", "offsets", "right"): "built-at",
    ("run", "leads"): "lead",
}


def rows_of(job: Job) -> list[Row]:
    """One row a reading and one a choice, in the order of the job's file.

    Coordinates from a list beside the job are rows like any others; the name of the list is a choice.
    """
    listed = job.survey.coordinate_file
    tree = tree_of(replace(job, survey=replace(job.survey, coordinate_file=None)))
    rows = list(_rows((), tree))
    return rows if listed is None else [*rows, _choice(_FILE, listed)]


def job_of(rows: Iterable[Row], document: str = "rows") -> Job:
    """The job that the rows are of, in whatever order they come. Raises Faults for what a job's file could not say.

    Readings of one list stand by their ``place``, those without one behind the others in the order of the rows.
    """
    tree: dict[Any, Any] = {}
    lists: dict[Path, list[Row]] = {}
    listed: str | None = None
    for row in rows:
        path = tuple(json.loads(row["path"]))
        if row["kind"] in KINDS:
            lists.setdefault(path, []).append(row)
        elif row["kind"] == "empty":
            _put(tree, path, {} if row["value"] == "table" else [])
        elif path == _FILE:
            listed = row["value"]
        else:
            _put(tree, path, row["value"])
    for path, found in lists.items():
        found.sort(key=lambda r: (r.get("place") is None, r.get("place") or 0))
        _put(tree, path, [_items(row) for row in found])
    job = read_document(Document(document, _closed(tree), {}))
    return job if listed is None else replace(job, survey=replace(job.survey, coordinate_file=listed))


_FILE: Path = ("survey", "coordinate_file")


def kind_at(path: Path) -> str | None:
    """The kind of the readings listed at a path; None where none are."""
    if path in _LISTS:
        return _LISTS[path]
    if path[:1] == ("as_built",) and ".".join(map(str, path[1:])) in BUILT_ONCE:
        return "built"
    return "lead" if path[:2] == ("run", "earlier") and len(path) == 4 and path[3] == "leads" else None


def _rows(path: Path, value: Any) -> Iterator[Row]:
    kind = kind_at(path)
    if kind is not None and value not in ("", []):
        items = value if isinstance(value, list) and isinstance(value[0], list) else [_as_row(value)]
        yield from (_reading(path, kind, place, row) for place, row in enumerate(items))
    elif isinstance(value, dict | list):
        if not value:
            yield {**_choice(path, "table" if isinstance(value, dict) else "list"), "kind": "empty"}
        for step, inner in value.items() if isinstance(value, dict) else enumerate(value):
            yield from _rows((*path, step), inner)
    else:
        yield _choice(path, value)


def _as_row(value: Any) -> list[Any]:
    """A single length as the row that it stands for."""
    return value if isinstance(value, list) else [value]


def _choice(path: Path, value: Any) -> Row:
    return {"kind": "choice", "path": json.dumps(path), "value": value}


def _reading(path: Path, kind: str, place: int, row: list[Any]) -> Row:
    behind: Tree = row[-1] if isinstance(row[-1], dict) else {}
    items = row[:-1] if behind else row
    names = KINDS[kind]
    return {
        "kind": kind,
        "path": json.dumps(path),
        "place": place,
        **dict.fromkeys((*names, *_BEHIND.get(kind, ()), *MARKS)),
        **{name: None if item == "" else item for name, item in zip(names, items, strict=False)},
        **behind,
    }


def _items(row: Row) -> list[Any]:
    """A reading's row as the row of a job's file."""
    names = KINDS[row["kind"]]
    items = ["" if row.get(name) is None else row[name] for name in names]
    behind = {name: v for name in (*_BEHIND.get(row["kind"], ()), *MARKS) if (v := row.get(name)) is not None}
    return [*items, behind] if behind else items


def _put(tree: dict[Any, Any], path: Path, value: Any) -> None:
    for step in path[:-1]:
        tree = tree.setdefault(step, {})
    if value == {} and path[-1] in tree:
        return
    tree[path[-1]] = value


def _closed(tree: Any) -> Any:
    """Tables whose keys are places become lists."""
    if not isinstance(tree, dict):
        return tree
    if tree and all(isinstance(key, int) for key in tree):
        return [_closed(tree[key]) for key in sorted(tree)]
    return {key: _closed(value) for key, value in tree.items()}
