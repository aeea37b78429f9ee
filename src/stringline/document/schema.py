"""Check values one by one, noting every fault and going on: what the job file and the catalogues are read with.

Each method gives None for a value that is not there or is wrong; a wrong one has been noted in the document by then.
"""

from __future__ import annotations

import datetime
import difflib
import math
from collections.abc import Iterable, Sequence
from typing import Any

from stringline.document.load import Document
from stringline.document.locate import Path
from stringline.finding import Code
from stringline.lengths import Length, LengthError, Unit, parse

_WORDS = {dict: "a table", list: "a list", str: "a text", bool: "true or false", int: "a number", float: "a number"}
LONGEST_NAME = 40


def kind_of(value: Any) -> str:
    """What a value is, in a person's words."""
    return _WORDS.get(type(value), "a date or time")


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like this one, or None where none is like it."""
    known = list(known)
    plain = {k.casefold().replace("-", "_"): k for k in reversed(known)}
    close = difflib.get_close_matches(word.casefold().replace("-", "_"), list(plain), 1, 0.6)
    return plain[close[0]] if close else None


def listed(words: Sequence[str]) -> str:
    """``a, b or c``."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"


class Checker:
    """Checks single values of one document. ``unit`` is what bare numbers mean (None until it is known)."""

    def __init__(self, document: Document, unit: Unit | None = None) -> None:
        self.document = document
        self.unit = unit

    def fault(self, code: str, path: Path, wrong: Code, right: Code) -> None:
        """Note a fault at a path."""
        self.document.fault(code, path, wrong, right)

    def wrong_type(self, path: Path, value: Any, wanted: str) -> None:
        """Note a value of the wrong kind."""
        self.fault("wrong-type", path, f"this is {kind_of(value)}, not {wanted}", f"write {wanted} here")

    def text(self, path: Path, value: Any, *, example: str | None = None) -> str | None:
        """A text with something in it."""
        if not isinstance(value, str):
            self.wrong_type(path, value, "a text in quotes")
            return None
        if not value.strip():
            self.fault("empty", path, "the text is empty", f"write {example or 'what it should say'}")
            return None
        return value

    def note(self, path: Path, value: Any) -> str | None:
        """Free text, or a date or time, as text."""
        if isinstance(value, datetime.date | datetime.time):
            return value.isoformat()
        return self.text(path, value)

    def word(self, path: Path, value: Any, words: Sequence[str]) -> str | None:
        """One of some words."""
        if not isinstance(value, str):
            self.wrong_type(path, value, f"one of the words {listed(words)}")
            return None
        if value not in words:
            close = nearest(value, words) if len(value) > 2 else None  # too little to tell what was meant
            hint = f'write "{close}" if that is meant; it can be {listed(words)}' if close else f"write {listed(words)}"
            self.fault("unknown-word", path, f'"{value[:40]}" is not known here', hint)
            return None
        return value

    def flag(self, path: Path, value: Any) -> bool | None:
        """True or false."""
        if not isinstance(value, bool):
            self.wrong_type(path, value, "true or false, without quotes")
            return None
        return value

    def number(
        self,
        path: Path,
        value: Any,
        *,
        low: float = -math.inf,
        high: float = math.inf,
        above: float | None = None,
        whole: bool = False,
    ) -> float | None:
        """A finite number from ``low`` to ``high``, more than ``above`` where that is given."""
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.wrong_type(path, value, "a number without quotes")
            return None
        if isinstance(value, int) and abs(value) > 10**15:
            self.fault("out-of-range", path, "this number is too big", "check its digits")
            return None
        if whole and (not isinstance(value, int)):
            self.fault("out-of-range", path, f"{value} is not a whole number", "write a whole number")
            return None
        if not math.isfinite(value):
            self.fault("out-of-range", path, f"{value} is not a number that can be used", "write a finite number")
            return None
        if value < low or value > high or (above is not None and value <= above):
            least = f"more than {above:g}" if above is not None else f"{low:g} or more" if low > -math.inf else ""
            most = f"{high:g} or less" if high < math.inf else ""
            bounds = " and ".join(b for b in (least, most) if b)
            self.fault("out-of-range", path, f"{value} is out of range", f"it has to be {bounds}")
            return None
        return float(value)

    def length(self, path: Path, value: Any, *, signed: bool = False, positive: bool = False) -> Length | None:
        """A length in the document's unit; 0 or more unless ``signed``, more than 0 with ``positive``."""
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            self.wrong_type(path, value, "a length")
            return None
        try:
            found = parse(value, self.unit, signed=signed)
        except LengthError as error:
            self.fault("bad-length", path, error.wrong, error.right)
            return None
        if positive and found.m == 0.0:
            self.fault("zero-length", path, "the length is nothing", "write a length of more than 0")
            return None
        return found

    def name(self, path: Path, value: Any) -> str | None:
        """The name of a point or thing."""
        if isinstance(value, int | float) and not isinstance(value, bool):
            self.fault(
                "name-not-quoted", path, f"{value} is a number where a name belongs", f'put it in quotes: "{value}"'
            )
            return None
        if not isinstance(value, str):
            self.wrong_type(path, value, "a name in quotes")
            return None
        if not value or value != value.strip():
            wrong = f'"{value}" has spaces around it' if value.strip() else "the name is empty"
            self.fault(
                "bad-name", path, wrong, f'write "{value.strip()}"' if value.strip() else "write the point's name"
            )
            return None
        if len(value) > LONGEST_NAME or not value.isprintable():
            self.fault(
                "bad-name",
                path,
                f"a name of {len(value)} signs, or with signs that cannot be printed",
                f"use at most {LONGEST_NAME} letters, figures and signs",
            )
            return None
        return value

    def items(self, path: Path, value: Any, what: str = "a list in [ ]") -> list[Any] | None:
        """A list."""
        if not isinstance(value, list):
            self.wrong_type(path, value, what)
            return None
        return value

    def names(self, path: Path, value: Any, *, once: bool = True) -> tuple[str, ...]:
        """A list of names, each at most once unless ``once`` is off."""
        found: list[str] = []
        for i, item in enumerate(self.items(path, value, 'a list of names, as ["A", "B"]') or []):
            name = self.name((*path, i), item)
            if name is None:
                continue
            if once and name in found:
                self.fault("name-twice", (*path, i), f'"{name}" stands here a second time', "name each point once")
                continue
            found.append(name)
        return tuple(found)

    def table(self, path: Path, value: Any) -> Table | None:
        """A table."""
        if not isinstance(value, dict):
            self.wrong_type(path, value, "a table, as { key = value } or a [section]")
            return None
        return Table(self, path, value)


class Table:
    """A table being read: each key is taken once, and :meth:`close` notes the keys that nobody took."""

    def __init__(self, check: Checker, path: Path, data: dict[str, Any]) -> None:
        self.check = check
        self.path = path
        self.data = data
        self.known: list[str] = []

    def at(self, key: str) -> Path:
        """The path of a key."""
        return (*self.path, key)

    def has(self, key: str) -> bool:
        """Whether the key is there; marks it as known."""
        if key not in self.known:
            self.known.append(key)
        return key in self.data

    def get(self, key: str, *, need: str | None = None) -> Any:
        """The raw value, or None where it is not there; with ``need`` (what to write) that is noted as missing."""
        if self.has(key):
            return self.data[key]
        if need is not None and not self.check.document.is_damaged(self.at(key)):
            self.check.fault("missing", self.at(key), f"{key} is missing", f"write {need}")
        return None

    def text(self, key: str, *, need: str | None = None) -> str | None:
        """The text at a key."""
        value = self.get(key, need=need)
        return None if value is None else self.check.text(self.at(key), value, example=need)

    def word(self, key: str, words: Sequence[str], *, need: bool = False) -> str | None:
        """The word at a key, one of ``words``."""
        value = self.get(key, need=f'{key} = "{words[0]}", or {listed(words[1:])}' if need else None)
        return None if value is None else self.check.word(self.at(key), value, words)

    def flag(self, key: str, *, default: bool) -> bool:
        """True or false at a key."""
        value = self.get(key)
        found = None if value is None else self.check.flag(self.at(key), value)
        return default if found is None else found

    def length(
        self, key: str, *, signed: bool = False, positive: bool = False, need: str | None = None
    ) -> float | None:
        """The length at a key, in metres."""
        value = self.get(key, need=need)
        found = None if value is None else self.check.length(self.at(key), value, signed=signed, positive=positive)
        return None if found is None else found.m

    def number(self, key: str, *, low: float = -math.inf, high: float = math.inf) -> float | None:
        """The number at a key."""
        value = self.get(key)
        return None if value is None else self.check.number(self.at(key), value, low=low, high=high)

    def items(self, key: str, *, need: str | None = None) -> list[Any]:
        """The list at a key, empty where there is none."""
        value = self.get(key, need=need)
        return [] if value is None else self.check.items(self.at(key), value) or []

    def table(self, key: str) -> Table | None:
        """The table at a key."""
        value = self.get(key)
        return None if value is None else self.check.table(self.at(key), value)

    def close(self) -> None:
        """Note every key that nobody asked for, with the nearest one that would mean something."""
        for key in self.data:
            if key in self.known:
                continue
            close = nearest(key, [k for k in self.known if k not in self.data] or self.known)
            right = f"write {close} if that is meant" if close else f"it can be {listed(self.known)}"
            shown = key if key.isprintable() else repr(key)
            if close:
                self.check.document.withdraw("missing", self.at(close))
            self.check.fault("unknown-key", self.at(key), f"{shown[:40]} means nothing here", right)
