"""From text to values with their lines, going on past what is not TOML so that the other faults are found too."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from typing import Any

from stringline.document.locate import Path, locate
from stringline.document.mend import THE_FILE, mend
from stringline.faults import Fault, Faults
from stringline.finding import Code, Finding
from stringline.lengths import Unit


@dataclass(slots=True)
class Document:
    """A document as far as it could be read.

    ``damaged`` holds the paths under which something was left out because it was not TOML: what is missing there may
    have been written, so nothing is said about it. ``lost`` is the text that was left out.
    """

    name: str
    data: dict[str, Any]
    lines: dict[Path, int]
    faults: list[Fault] = field(default_factory=list)
    damaged: set[Path] = field(default_factory=set)
    lost: str = ""
    unit: Unit | None = None  # what its lengths are read in, where that is known

    def line(self, path: Path) -> int | None:
        """The line of that path, or of the nearest thing around it; None where nothing around it has one."""
        for depth in range(len(path), 0, -1):
            if path[:depth] in self.lines:
                return self.lines[path[:depth]]
        return None

    def fault(self, code: str, path: Path, wrong: Code, right: Code, *, line: int | None = None) -> None:
        """Note a fault at a path."""
        self.faults.append(Fault(code, spell(path), wrong, right, self.line(path) if line is None else line))

    def withdraw(self, code: str, path: Path) -> None:
        """Take back a fault that a better one explains."""
        self.faults = [f for f in self.faults if (f.code, f.where) != (code, spell(path))]

    def is_damaged(self, path: Path) -> bool:
        """Whether something at, above or below that path was left out."""
        return any(d[: len(path)] == path or path[: len(d)] == d for d in self.damaged)

    def close(self) -> None:
        """Raise Faults where any was noted."""
        if self.faults:
            raise Faults(self.name, self.faults, self.unit)


def load(text: str, name: str) -> Document:
    """Read TOML. What is not TOML becomes faults in the document and is left out of its values; never raises."""
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    try:
        return Document(name, tomllib.loads(text), locate(text))
    except (ValueError, RecursionError) as error:
        if isinstance(error, RecursionError):
            return Document(name, {}, {}, [_too_deep()], {()}, text)
    mended = mend(text)
    try:
        data = tomllib.loads(mended.text)
    except (ValueError, RecursionError):
        return Document(name, {}, {}, mended.faults or [_too_deep()], {()}, text)
    return Document(name, data, locate(mended.text), mended.faults, mended.damaged, mended.lost)


def decode(raw: bytes, name: str) -> str:
    """Turn bytes into text; raises Faults naming the first line that is not UTF-8."""
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
            line = 1
        fault = Fault("not-utf8", THE_FILE, "document.not-utf8", "document.save-as-utf8", line)
        raise Faults(name, [fault]) from None


def spell(path: Path) -> str | Finding:
    """A path as a person would look for it, array elements counted from 1: ``survey.tapes[3]``; the file as a whole."""
    out = ""
    for step in path:
        if isinstance(step, int):
            out += f"[{step + 1}]"
        else:
            shown = step if re.fullmatch(r"[A-Za-z0-9_-]+", step) else f'"{step[:40]}"'
            out += f".{shown}" if out else shown
    return out or THE_FILE


def _too_deep() -> Fault:
    return Fault("syntax", THE_FILE, "document.too-deep", "document.look-for-brackets", 1)
