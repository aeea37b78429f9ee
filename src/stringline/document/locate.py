"""On which line each key and each array element of a TOML document stands.

The standard reader gives values without their places. This scanner takes a document that the standard reader has
accepted and follows only its punctuation: it knows strings, comments, brackets, keys and headers, and no values.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
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

    >>> locate("[job]\\nname = 'Tern'\\n")
    {('job',): 1, ('job', 'name'): 2}
    """
    scan = Scanner()
    line = 1
    for match in TOKEN.finditer(text):
        kind = match.lastgroup
        if kind == "space" or kind == "comment":
            continue
        if kind == "nl":
            line += 1
            scan.end_of_line()
            continue
        token = match[0]
        scan.named = kind == "bare" or kind == "string"
        if token == "[" and text.startswith("[[", match.start()):
            token = "[["
        scan.then(token, line)
        if kind == "string":
            line += token.count("\n")
    return scan.lines


class Scanner:
    """Where a scan stands: ``then`` takes the next token and its line, ``named`` says whether it can be a name.

    A bracket that another one follows comes as ``[[``; the other one follows all the same.
    """

    def __init__(self) -> None:
        self.lines: dict[Path, int] = {}
        self.counts: dict[Path, int] = {}
        self.table: Path = ()
        self.stack: list[_Frame] = []
        self.keys: list[str] = []
        self.pending: Path = ()  # of the value to come
        self.named = False
        self.double = False  # whether the header is of an array of tables
        self.then: Callable[[str, int], None] = self._statement

    def end_of_line(self) -> None:
        """Outside brackets a statement ends with its line."""
        if not self.stack:
            self.keys, self.then = [], self._statement

    def _statement(self, token: str, line: int) -> None:
        if token[0] == "[":
            self.double, self.then = token == "[[", self._header
        else:
            self.then = self._key
            self._key(token, line)

    def _header(self, token: str, line: int) -> None:
        if self.named:
            self.keys.append(_key(token))
        elif token == "]":
            if self.keys:
                self.table = _enter(tuple(self.keys), self.double, line, self.lines, self.counts)
            self.keys, self.then = [], self._done

    def _key(self, token: str, line: int) -> None:
        if self.named:
            self.keys.append(_key(token))
        elif token == "=":
            around = self.stack[-1].path if self.stack else self.table
            self.pending = (*around, *self.keys)
            for depth in range(len(around) + 1, len(self.pending) + 1):
                self.lines.setdefault(self.pending[:depth], line)
            self.keys, self.then = [], self._value
        elif token == "}" and self.stack:
            self._close()

    def _value(self, token: str, line: int) -> None:
        if self.stack and (self.stack[-1].array or token in (",", "}")):
            self._behind(token, line)
        else:
            self._begin(token)

    def _behind(self, token: str, line: int) -> None:
        """Behind a value within brackets, or before the next one of an array."""
        frame = self.stack[-1]
        if token == ("]" if frame.array else "}"):
            self._close()
        elif token == ",":
            frame.index, frame.fresh = frame.index + 1, True
            self.then = self._value if frame.array else self._key
        elif frame.array and frame.fresh:
            frame.fresh = False
            self.pending = (*frame.path, frame.index)
            self.lines[self.pending] = line
            self._begin(token)

    def _begin(self, token: str) -> None:
        if token[0] == "[":
            self.stack.append(_Frame(self.pending, True))
            self.then = self._value
        elif token == "{":
            self.stack.append(_Frame(self.pending, False))
            self.then = self._key
        else:
            self.then = self._behind if self.stack else self._done

    def _close(self) -> None:
        self.stack.pop()
        self.keys, self.then = [], self._behind if self.stack else self._done

    def _done(self, token: str, line: int) -> None:
        """What stands behind a statement on its line changes nothing."""


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
