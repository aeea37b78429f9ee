"""On which line each key and each array element of a TOML document stands.

The standard reader gives values without their places. This scanner takes a document that the standard reader has
accepted and follows only its punctuation: it knows strings, comments, brackets, keys and headers, and no values.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass

Path = tuple[str | int, ...]

TOKEN = re.compile(
    r'''
      (?P<nl>\n)
    | (?P<space>[ \t\r]+)
    | (?P<comment>\#[^\n]*)
    | (?P<string>
          """(?:\\.|"{1,2}(?!")|[^"\\])*"{3,5}
        | \'\'\'(?:\'{1,2}(?!\')|[^\'])*\'{3,5}
        | "(?:\\[^\n]|[^"\\\n])*"
        | \'[^\'\n]*\'
      )
    | (?P<mark>[\[\]{},=.])
    | (?P<bare>[^\s\[\]{},=."'\#]+)
    | (?P<loose>.)
    ''',
    re.VERBOSE | re.DOTALL,
)


@dataclass(slots=True)
class _Frame:
    """An array or inline table that is open: its path, and the next index (arrays) or whether a key comes (tables)."""

    path: Path
    array: bool
    index: int = 0
    fresh: bool = True


def locate(text: str) -> dict[Path, int]:
    """Map each key path to its line, counted from 1; array elements are numbered from 0.

    ``("survey", "tapes", 3)`` is the fourth tape, ``("survey",)`` the section's header. Text that is not TOML gives a
    map that may be short or wrong, never an error.
    """
    lines: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    table: Path = ()
    stack: list[_Frame] = []
    keys: list[str] = []
    pending: Path = ()
    mode = "start"  # start of a statement | header | key | value | after a value | done with the statement
    double = False
    line = 1
    for match in TOKEN.finditer(text):
        kind = match.lastgroup
        token = match.group()
        if kind == "nl":
            line += 1
            if not stack:
                mode, keys = "start", []
            continue
        if kind == "space" or kind == "comment":
            continue
        here = line
        if kind == "string":
            line += token.count("\n")
        if mode == "start":
            mode = "key"
            if token == "[":
                mode, double = "header", text.startswith("[[", match.start())
                continue
        if mode == "header":
            if token == "]":
                if keys:
                    table = _enter(tuple(keys), double, here, lines, counts)
                keys, mode = [], "done"
            elif kind in ("bare", "string"):
                keys.append(_key(token))
            continue
        if mode == "key":
            frame = stack[-1] if stack else None
            if token == "=":
                path = (frame.path if frame else table) + tuple(keys)
                for depth in range(len(path) - len(keys) + 1, len(path) + 1):
                    lines.setdefault(path[:depth], here)
                keys, mode = [], "value"
                pending = path
            elif token == "}" and frame is not None:
                stack.pop()
                keys, mode = [], "after"
            elif kind in ("bare", "string"):
                keys.append(_key(token))
            continue
        if mode in ("value", "after") and stack and stack[-1].array:
            frame = stack[-1]
            if token == ",":
                frame.index, frame.fresh, mode = frame.index + 1, True, "value"
                continue
            if token == "]":
                stack.pop()
                mode = "after" if stack else "done"
                continue
            if not frame.fresh:
                continue
            frame.fresh = False
            pending = (*frame.path, frame.index)
            lines[pending] = here
            mode = "value"
        elif stack and not stack[-1].array and token in (",", "}") and mode in ("value", "after"):
            if token == "}":
                stack.pop()
                mode = "after" if stack else "done"
            else:
                mode = "key"
            continue
        if mode != "value":
            continue
        if token == "[":
            stack.append(_Frame(pending, True))
        elif token == "{":
            stack.append(_Frame(pending, False))
            mode = "key"
        else:
            mode = "after" if stack else "done"
    return lines


def _enter(keys: tuple[str, ...], double: bool, line: int, lines: dict[Path, int], counts: dict[Path, int]) -> Path:
    """Resolve a header's keys to a path, counting the elements of arrays of tables."""
    path: Path = ()
    for depth, key in enumerate(keys):
        path = (*path, key)
        lines.setdefault(path, line)
        last = depth == len(keys) - 1
        if last and double:
            counts[path] = counts.get(path, -1) + 1
            path = (*path, counts[path])
            lines[path] = line
        elif path in counts:
            path = (*path, counts[path])
        elif last:
            lines[path] = line
    return path


def _key(token: str) -> str:
    """A key as its name: quotes off, escapes resolved."""
    if token[0] == "'":
        return token.strip("'")
    if token[0] != '"':
        return token
    if "\\" not in token:
        return token[1:-1]
    try:
        name = tomllib.loads(f"{token} = 0")
    except ValueError:
        return token
    return next(iter(name))
