"""Change a TOML text by what is put in at a few places; every other byte stays, comments and line ends too.

Each function gives the pieces to put in; :func:`spliced` puts them in and holds that the text then reads as expected.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from stringline.document.locate import Path
from stringline.document.places import Places, Span
from stringline.document.toml_text import toml_key


@dataclass(frozen=True, slots=True)
class Piece:
    """Text to put in at an offset; ``end`` lies behind the offset only where a value is replaced."""

    at: int
    text: str
    end: int | None = None


class PlaceError(ValueError):
    """Raised where a text is laid out so that nothing can be put in without writing it anew."""


def spliced(text: str, pieces: Sequence[Piece], expected: dict[str, Any]) -> str:
    """The text with the pieces put in. Raises PlaceError where it would then not read as ``expected``."""
    out = text
    for _, piece in sorted(enumerate(pieces), key=lambda p: (p[1].at, p[0]), reverse=True):
        out = out[: piece.at] + piece.text + out[piece.at if piece.end is None else piece.end :]
    try:
        read = tomllib.loads(out.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError as why:
        raise PlaceError(str(why)) from None
    if not _same(read, expected):
        raise PlaceError("the text would not read as it was with what was added")
    return out


def _same(a: Any, b: Any) -> bool:
    """Whether two values are the same, tables in any order; nan is itself here, and 1 is not 1.0."""
    if isinstance(a, dict) and isinstance(b, dict):
        return a.keys() == b.keys() and all(_same(a[key], b[key]) for key in a)
    if isinstance(a, list) and isinstance(b, list):
        return len(a) == len(b) and all(map(_same, a, b))
    return type(a) is type(b) and repr(a) == repr(b)


def item_added(text: str, places: Places, path: Path, item: str) -> list[Piece]:
    """Another item at the end of the array at ``path``, laid out as its last one. Raises PlaceError."""
    span, inside = places.values.get(path), places.inside.get(path)
    if span is None or inside is None or text[span.start] != "[":
        raise PlaceError(f"{path} is no list in brackets")
    closing = span.end - 1
    line = _line_start(text, closing)
    if line > span.start and not text[line:closing].strip():
        indent = text[line:closing] + "  "
        pieces = []
        if inside.last_end is not None:
            last = _line_start(text, _last_start(places, path))
            head = text[last : _last_start(places, path)]
            indent = head if not head.strip() else indent
            if inside.comma_end is None:
                pieces.append(Piece(inside.last_end, ","))
        return [*pieces, Piece(line, f"{indent}{item},{_line_end(text, line)}")]
    if inside.last_end is None:
        return [Piece(span.start + 1, item)]
    if inside.comma_end is not None:
        return [Piece(inside.comma_end, f" {item}")]
    start = _last_start(places, path)
    line = _line_start(text, start)
    if line > span.start and not text[line:start].strip():
        return [Piece(inside.last_end, f",{_line_end(text, line)}{text[line:start]}{item}")]
    return [Piece(inside.last_end, f", {item}")]


def keys_added(text: str, places: Places, table: Path, keys: Mapping[str, str]) -> list[Piece]:
    """More keys, each with its value's text, in the table at ``table``, which may not be there yet.

    Raises PlaceError where they cannot be put in.
    """
    lines = [f"{toml_key(key)} = {value}" for key, value in keys.items()]
    if table in places.inside and text[places.values[table].start] == "{":
        last, inline = places.inside[table].last_end, ", ".join(lines)
        return [Piece(places.values[table].start + 1, f" {inline} ") if last is None else Piece(last, f", {inline}")]
    if table in places.values:
        raise PlaceError(f"{table} is no table")
    if table in places.bodies:
        return [_below(text, places.bodies[table], lines)]
    if table in places.dotted:
        body, end = places.dotted[table]
        return [_below(text, end, [f"{_dotted(table[len(body) :])}.{line}" for line in lines])]
    within = [at for path, at in places.headers.items() if path[: len(table)] == table]
    if within:  # [survey.sketch] is there and [survey] is not
        at = min(within)
        return [Piece(at, _line_end(text, at).join([f"[{_dotted(table)}]", *lines, "", ""]))]
    if len(table) > 1:
        return keys_added(text, places, table[:-1], {_name(table[-1]): f"{{ {', '.join(lines)} }}"})
    eol = _line_end(text, len(text))
    before = "" if not text.removeprefix("\ufeff") else eol if text.endswith("\n") else eol + eol
    return [Piece(len(text), before + eol.join([f"[{_dotted(table)}]", *lines, ""]))]


def value_set(places: Places, path: Path, value: str) -> list[Piece]:
    """Another value in the place of the one at ``path``. Raises PlaceError where there is none."""
    span = places.values.get(path)
    if span is None:
        raise PlaceError(f"there is no value at {path}")
    return [Piece(span.start, value, span.end)]


def wrapped(span: Span, before: str, after: str) -> list[Piece]:
    """Text put before and behind a value."""
    return [Piece(span.end, after), Piece(span.start, before)]


def _below(text: str, at: int, lines: Sequence[str]) -> Piece:
    """Lines of their own below the one that holds the offset."""
    end = text.find("\n", at)
    if end < 0:
        eol = _line_end(text, at)
        return Piece(len(text), "".join(eol + line for line in lines))
    eol = _line_end(text, end + 1)
    return Piece(end + 1, "".join(line + eol for line in lines))


def _last_start(places: Places, path: Path) -> int:
    """Where the last item of an array begins."""
    n = 0
    while (*path, n + 1) in places.values:
        n += 1
    return places.values[(*path, n)].start


def _line_start(text: str, at: int) -> int:
    return max(text.rfind("\n", 0, at) + 1, 1 if text.startswith("\ufeff") else 0)


def _line_end(text: str, at: int) -> str:
    """The kind of line end nearest before an offset, else the first behind it, else a plain one."""
    found = text.rfind("\n", 0, at)
    if found < 0:
        found = text.find("\n", at)
    return "\r\n" if found > 0 and text[found - 1] == "\r" else "\n"


def _dotted(path: Path) -> str:
    return ".".join(toml_key(_name(step)) for step in path)


def _name(step: str | int) -> str:
    if isinstance(step, int):
        raise PlaceError("a table in a list has no name")
    return step
