"""Add to a job file without disturbing it: comments, layout and every earlier reading stay as they were.

A reading is never changed and never taken out. A new one is appended; an old one is set aside by giving the reason.
The functions that change a job take and give text; the caller writes it with :func:`stringline.files.write_atomic`.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from stringline.document.load import load, spell
from stringline.document.locate import Path
from stringline.document.places import Places, places_of
from stringline.document.splice import Piece, PlaceError, item_added, keys_added, spliced, value_set, wrapped
from stringline.document.toml_text import toml_value
from stringline.faults import Fault, Faults
from stringline.finding import finding
from stringline.job.read import read_job
from stringline.job.readings import Built, Coordinate, Level, Marked, Offset, RunReading, Tape
from stringline.job.rows import kind_at
from stringline.job.tree import row_of
from stringline.lengths import Unit

TAPES: Path = ("survey", "tapes")
ID_SIGNS = "34679acdefhjkmnprtwxy"  # nothing that is read as something else: no 0 or o, 1 or l, 2 or z, 5 or s, 8 or b
_ID_LENGTH = 5
_A_FILE = "job.toml"


@dataclass(frozen=True, slots=True)
class Written:
    """A reading as it stands in the file: where, of what kind, its items as they were written, and what marks it."""

    path: Path
    line: int | None
    kind: str
    items: tuple[str, ...]
    id: str | None = None
    struck: str | None = None


def fresh_id(taken: Iterable[str | None], below: Callable[[int], int]) -> str:
    """A short id that no reading has yet. ``below(n)`` gives a random whole number from 0 to n − 1.

    >>> fresh_id(["k7m3a"], lambda n: n - 1)
    'yyyyy'
    """
    used = {given for given in taken if given is not None}
    while True:
        made = "".join(ID_SIGNS[below(len(ID_SIGNS))] for _ in range(_ID_LENGTH))
        if made not in used:
            return made


def readings_of(text: str, *, document: str = _A_FILE) -> list[Written]:
    """Every reading of a job's text, in the file's order, as far as it can be read. Raises Faults if it is not TOML."""
    source = load(text, document)
    source.close()
    return [
        Written(path, source.line(path), kind, items, _text(behind.get("id")), _text(behind.get("struck")))
        for path, kind, items, behind in _written((), source.data)
    ]


def append_tape(
    text: str,
    a: str,
    b: str,
    reading: str | int | float,
    *,
    document: str = _A_FILE,
    **behind: str | None,
) -> str:
    """The job's text with one more tape reading behind the others; ``behind`` are its sigma, id, by, at and device.

    Raises Faults as :func:`append_row` does.
    """
    said = {name: value for name, value in behind.items() if value is not None}
    return append_row(text, TAPES, [a, b, reading, *([said] if said else [])], document=document)


def append_reading(text: str, reading: Marked, unit: Unit, *, document: str = _A_FILE) -> str:
    """The job's text with one more reading, of whatever kind, behind those of its kind; ``unit`` is the job's.

    Raises Faults as :func:`append_row` does.
    """
    return append_row(text, _list_of(reading), row_of(reading, unit), document=document)


def append_row(text: str, path: Path, row: list[Any] | dict[str, Any], *, document: str = _A_FILE) -> str:
    """The job's text with one more row in the list at ``path``; everything else stays byte for byte.

    Where a length stands alone, as after the pour, it becomes the first of a list. Raises Faults where the text is not
    TOML, for what is wrong with this row, and where the file is laid out so that nothing can be added; faults elsewhere
    in the job do not keep a reading out.
    """
    before = _values(text, document)
    places = places_of(text)
    expected = copy.deepcopy(before)
    try:
        pieces, place = _appended(text, places, before, expected, path, row)
        after = spliced(text, pieces, expected)
    except (PlaceError, TypeError, KeyError, IndexError, AttributeError):
        raise Faults(document, [_by_hand(path, toml_value(row))]) from None
    _hold(after, place, document)
    return after


def strike(text: str, path: Path, reason: str, *, document: str = _A_FILE) -> str:
    """The job's text with the reading at ``path`` (:attr:`Written.path`) set aside, and why; the reading itself stays.

    Raises Faults where the text is not TOML, where no reading stands there, where it is set aside already, or where
    there is no reason.
    """
    found = next((r for r in readings_of(text, document=document) if r.path == path), None)
    line = None if found is None else found.line
    if not reason.strip():
        raise Faults(document, [Fault("empty", spell(path), "job.no-reason", "job.say-why-aside", line)])
    if found is None:
        raise Faults(document, [Fault("no-such-reading", spell(path), "job.no-reading-here", "job.name-a-reading")])
    if found.struck is not None:
        wrong = finding("job.aside-already", reason=found.struck)
        raise Faults(document, [Fault("struck-already", spell(path), wrong, "job.take-a-new-one", line)])
    expected = _values(text, document)
    places = places_of(text)
    said = toml_value(reason)
    value = _at(expected, path)
    behind = {"struck": reason}
    if not isinstance(value, list):
        _put(expected, path, [value, behind])
        pieces = wrapped(places.values[path], "[", f", {{ struck = {said} }}]")
    elif isinstance(value[-1], dict):
        value[-1].update(behind)
        pieces = keys_added(text, places, (*path, len(value) - 1), {"struck": said})
    else:
        value.append(behind)
        pieces = item_added(text, places, path, f"{{ struck = {said} }}")
    try:
        return spliced(text, pieces, expected)
    except PlaceError:
        raise Faults(document, [_by_hand(path, f"struck = {said}", line)]) from None


def set_choice(text: str, path: Path, value: Any, *, document: str = _A_FILE) -> str:
    """The job's text with another choice at ``path``, such as ``("cover", "margins", "side")``; all else stays.

    Raises Faults where the text is not TOML, where the value is wrong, and where the file is laid out so that it cannot
    be put in. A reading is no choice: TypeError.
    """
    if any(kind_at(path[:depth]) is not None for depth in range(1, len(path) + 1)):
        raise TypeError("a reading is appended or set aside, never changed")
    return set_values(text, {path: value}, document=document, held=True)


def set_values(text: str, values: dict[Path, Any], *, document: str = _A_FILE, held: bool = False) -> str:
    """The job's text with these values; with ``held``, faults at their places are raised as well."""
    expected = _values(text, document)
    places = places_of(text)
    pieces: list[Piece] = []
    new: dict[Path, dict[str, str]] = {}
    try:
        for path, value in values.items():
            if path in places.values:
                pieces += value_set(places, path, toml_value(value))
            else:
                new.setdefault(path[:-1], {})[str(path[-1])] = toml_value(value)
            _put(expected, path, value)
        for table, keys in new.items():
            pieces += keys_added(text, places, table, keys)
        after = spliced(text, pieces, expected)
    except (PlaceError, TypeError, KeyError, IndexError):
        path, value = next(iter(values.items()))
        raise Faults(document, [_by_hand(path, f"{path[-1]} = {toml_value(value)}")]) from None
    for path in values if held else ():
        _hold(after, path, document)
    return after


def _appended(
    text: str, places: Places, before: Any, expected: Any, path: Path, row: list[Any] | dict[str, Any]
) -> tuple[list[Piece], Path]:
    """What to put in for one more row, and where it then stands; ``expected`` is changed along."""
    item = toml_value(row)
    old = _at(before, path)
    if kind_at(path) == "built":
        return _built_again(text, places, expected, path, row, old)
    _put(expected, path, [*(old or []), row])
    place = (*path, len(old or []))
    if old is not None:
        return item_added(text, places, path, item), place
    eol = "\r\n" if "\r\n" in text else "\n"
    listed = f"[{eol}  {item},{eol}]"
    within = any(path[:depth] in places.values for depth in range(1, len(path)))
    standing = len(path) == 2 and not within  # in an inline table a list stands on one line
    return keys_added(text, places, path[:-1], {str(path[-1]): listed if standing else f"[{item}]"}), place


def _built_again(text: str, places: Places, expected: Any, path: Path, row: Any, old: Any) -> tuple[list[Piece], Path]:
    """One more reading of a length that stands alone: the first, the second, or another one of it."""
    item = toml_value(row)
    if isinstance(path[-1], int):  # a diagonal
        pair = path[:-1]
        if _at(expected, pair) is None:
            both: list[Any] = ["", ""]
            both[path[-1]] = row
            _put(expected, pair, both)
            return keys_added(text, places, pair[:-1], {str(pair[-1]): toml_value(both)}), path
        if old == "":
            _put(expected, path, row)
            return value_set(places, path, item), path
    if old is None:
        _put(expected, path, row)
        return keys_added(text, places, path[:-1], {str(path[-1]): item}), path
    if not isinstance(old, list):
        _put(expected, path, [[old], row])
        return wrapped(places.values[path], "[[", f"], {item}]"), (*path, 1)
    if not isinstance(old[0], list):
        _put(expected, path, [old, row])
        return wrapped(places.values[path], "[", f", {item}]"), (*path, 1)
    _put(expected, path, [*old, row])
    return item_added(text, places, path, item), (*path, len(old))


def _list_of(reading: Marked) -> Path:
    """The path of the list that a reading stands in."""
    match reading:
        case Tape():
            return TAPES
        case Offset():
            return ("survey", "offsets")
        case Level():
            return ("survey", "levels")
        case Coordinate():
            return ("survey", "coordinates")
        case RunReading():
            return ("run", "leads")
        case Built():
            steps = reading.what.split(".")
            return ("as_built", *(int(step) if step.isdigit() else step for step in steps))
    raise TypeError(f"{type(reading).__name__} is no kind of reading")


def _written(path: Path, value: Any) -> Iterable[tuple[Path, str, tuple[str, ...], dict[str, Any]]]:
    """Every reading among a document's values, whatever else stands beside it."""
    kind = kind_at(path)
    if kind is not None:
        several = isinstance(value, list) and (kind != "built" or (bool(value) and isinstance(value[0], list)))
        for place, row in enumerate(value) if several else [(None, value)]:
            items = list(row) if isinstance(row, list) else [row]
            behind = items.pop() if items and isinstance(items[-1], dict) else {}
            if items and (kind == "built" or len(items) >= 2) and items != [""]:
                yield (path if place is None else (*path, place)), kind, tuple(map(str, items)), behind
    elif isinstance(value, dict | list):
        for step, inner in value.items() if isinstance(value, dict) else enumerate(value):
            yield from _written((*path, step), inner)


def _text(value: Any) -> str | None:
    return None if value is None else str(value)


def _values(text: str, document: str) -> dict[str, Any]:
    source = load(text, document)
    source.close()
    return source.data


def _at(data: Any, path: Path) -> Any:
    """The value at a path; None where there is none."""
    for step in path:
        if isinstance(data, dict):
            data = data.get(step)
        elif isinstance(data, list) and isinstance(step, int) and step < len(data):
            data = data[step]
        else:
            return None
    return data


def _put(data: Any, path: Path, value: Any) -> None:
    for step in path[:-1]:
        data = data.setdefault(step, {}) if isinstance(data, dict) else data[step]
    data[path[-1]] = value


def _hold(text: str, path: Path, document: str) -> None:
    """Raise the faults that a job's text has at a path, if any."""
    where = spell(path)
    try:
        read_job(text, document, lambda _: "")
    except Faults as faults:
        here = [
            f for f in faults.faults if str(f.where) == where or str(f.where).startswith((f"{where}[", f"{where}."))
        ]
        if here:
            raise Faults(document, here, faults.unit) from None


def _by_hand(path: Sequence[str | int], line: str, at: int | None = None) -> Fault:
    return Fault("no-place", spell(tuple(path)), "job.no-place", finding("job.add-by-hand", line=line), at)
