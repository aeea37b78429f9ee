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
from stringline.finding import Code, finding, nested
from stringline.lengths import Length, LengthError, Unit, parse

_KINDS = {
    dict: "document.table",
    list: "document.list",
    str: "document.text",
    bool: "document.flag",
    int: "document.number",
    float: "document.number",
}
LONGEST_NAME = 40


def kind_of(value: Any) -> Code:
    """What a value is."""
    return _KINDS.get(type(value), "document.date")


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like this one, or None where none is like it."""
    known = list(known)
    plain = {k.casefold().replace("-", "_"): k for k in reversed(known)}
    close = difflib.get_close_matches(word.casefold().replace("-", "_"), list(plain), 1, 0.6)
    return plain[close[0]] if close else None


def write(what: Code) -> Code:
    """What would be right: to write ``what``."""
    return finding("document.write", what=nested(what))


class Checker:
    """Checks single values of one document. ``unit`` is what bare numbers mean (None until it is known)."""

    def __init__(self, document: Document, unit: Unit | None = None) -> None:
        self.document = document
        self.unit = unit

    def fault(self, code: str, path: Path, wrong: Code, right: Code) -> None:
        """Note a fault at a path."""
        self.document.fault(code, path, wrong, right)

    def wrong_type(self, path: Path, value: Any, wanted: Code) -> None:
        """Note a value of the wrong kind."""
        wrong = finding("document.wrong-kind", kind=nested(kind_of(value)), wanted=nested(wanted))
        self.fault("wrong-type", path, wrong, finding("document.write-here", wanted=nested(wanted)))

    def text(self, path: Path, value: Any, *, example: Code | None = None) -> str | None:
        """A text with something in it."""
        if not isinstance(value, str):
            self.wrong_type(path, value, "document.text-in-quotes")
            return None
        if not value.strip():
            self.fault("empty", path, "document.text-empty", write(example or "document.what-it-should-say"))
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
            self.wrong_type(path, value, finding("document.one-of-words", words=words))
            return None
        if value not in words:
            close = nearest(value, words) if len(value) > 2 else None  # too little to tell what was meant
            hint = finding("document.write-one-of", words=words)
            if close:
                hint = finding("document.word-if-meant", word=close, words=words)
            self.fault("unknown-word", path, finding("document.unknown-word", word=value[:40]), hint)
            return None
        return value

    def flag(self, path: Path, value: Any) -> bool | None:
        """True or false."""
        if not isinstance(value, bool):
            self.wrong_type(path, value, "document.flag-without-quotes")
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
            self.wrong_type(path, value, "document.number-without-quotes")
            return None
        if isinstance(value, int) and abs(value) > 10**15:
            self.fault("out-of-range", path, "document.number-too-big", "document.check-digits")
            return None
        if whole and (not isinstance(value, int)):
            self.fault("out-of-range", path, finding("document.not-whole", value=str(value)), "document.write-whole")
            return None
        if not math.isfinite(value):
            self.fault("out-of-range", path, finding("document.not-finite", value=str(value)), "document.write-finite")
            return None
        if value < low or value > high or (above is not None and value <= above):
            bounds = []
            if above is not None:
                bounds.append(finding("document.more-than", low=above))
            elif low > -math.inf:
                bounds.append(finding("document.or-more", low=low))
            if high < math.inf:
                bounds.append(finding("document.or-less", high=high))
            right = finding("document.has-to-be", bounds=bounds)
            self.fault("out-of-range", path, finding("document.out-of-range", value=str(value)), right)
            return None
        return float(value)

    def length(self, path: Path, value: Any, *, signed: bool = False, positive: bool = False) -> Length | None:
        """A length in the document's unit; 0 or more unless ``signed``, more than 0 with ``positive``."""
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            self.wrong_type(path, value, "document.length")
            return None
        try:
            found = parse(value, self.unit, signed=signed)
        except LengthError as error:
            self.fault("bad-length", path, error.wrong, error.right)
            return None
        if positive and found.m == 0.0:
            self.fault("zero-length", path, "document.length-nothing", "document.write-longer")
            return None
        return found

    def name(self, path: Path, value: Any) -> str | None:
        """The name of a point or thing."""
        if isinstance(value, int | float) and not isinstance(value, bool):
            number = finding("document.number-for-name", value=str(value))
            self.fault("name-not-quoted", path, number, finding("document.quote", name=str(value)))
            return None
        if not isinstance(value, str):
            self.wrong_type(path, value, "document.name-in-quotes")
            return None
        if not value or value != value.strip():
            if value.strip():
                spaces = finding("document.spaces-around", name=value)
                self.fault("bad-name", path, spaces, finding("document.write-name", name=value.strip()))
            else:
                self.fault("bad-name", path, "document.name-empty", "document.write-point-name")
            return None
        if len(value) > LONGEST_NAME or not value.isprintable():
            wrong = finding("document.name-signs", signs=len(value))
            self.fault("bad-name", path, wrong, finding("document.use-at-most", most=LONGEST_NAME))
            return None
        return value

    def items(self, path: Path, value: Any, what: Code = "document.list-in-brackets") -> list[Any] | None:
        """A list."""
        if not isinstance(value, list):
            self.wrong_type(path, value, what)
            return None
        return value

    def names(self, path: Path, value: Any, *, once: bool = True) -> tuple[str, ...]:
        """A list of names, each at most once unless ``once`` is off."""
        found: list[str] = []
        for i, item in enumerate(self.items(path, value, "document.list-of-names") or []):
            name = self.name((*path, i), item)
            if name is None:
                continue
            if once and name in found:
                twice = finding("document.name-twice", name=name)
                self.fault("name-twice", (*path, i), twice, "document.name-once")
                continue
            found.append(name)
        return tuple(found)

    def table(self, path: Path, value: Any) -> Table | None:
        """A table."""
        if not isinstance(value, dict):
            self.wrong_type(path, value, "document.table-as")
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

    def get(self, key: str, *, need: Code | None = None) -> Any:
        """The raw value, or None where it is not there; with ``need`` (what to write) that is noted as missing."""
        if self.has(key):
            return self.data[key]
        if need is not None and not self.check.document.is_damaged(self.at(key)):
            self.check.fault("missing", self.at(key), finding("document.missing", what=key), write(need))
        return None

    def text(self, key: str, *, need: Code | None = None) -> str | None:
        """The text at a key."""
        value = self.get(key, need=need)
        return None if value is None else self.check.text(self.at(key), value, example=need)

    def word(self, key: str, words: Sequence[str], *, need: bool = False) -> str | None:
        """The word at a key, one of ``words``."""
        wanted = finding("document.word-at", key=key, first=words[0], rest=words[1:])
        value = self.get(key, need=wanted if need else None)
        return None if value is None else self.check.word(self.at(key), value, words)

    def flag(self, key: str, *, default: bool) -> bool:
        """True or false at a key."""
        value = self.get(key)
        found = None if value is None else self.check.flag(self.at(key), value)
        return default if found is None else found

    def length(
        self, key: str, *, signed: bool = False, positive: bool = False, need: Code | None = None
    ) -> float | None:
        """The length at a key, in metres."""
        value = self.get(key, need=need)
        found = None if value is None else self.check.length(self.at(key), value, signed=signed, positive=positive)
        return None if found is None else found.m

    def number(self, key: str, *, low: float = -math.inf, high: float = math.inf) -> float | None:
        """The number at a key."""
        value = self.get(key)
        return None if value is None else self.check.number(self.at(key), value, low=low, high=high)

    def items(self, key: str, *, need: Code | None = None) -> list[Any]:
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
            right = finding("document.it-can-be", keys=self.known)
            if close:
                right = finding("document.if-meant", key=close)
            shown = key if key.isprintable() else repr(key)
            if close:
                self.check.document.withdraw("missing", self.at(close))
            self.check.fault("unknown-key", self.at(key), finding("document.means-nothing", key=shown[:40]), right)
