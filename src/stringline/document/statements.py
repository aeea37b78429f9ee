"""Cut a document into statements, each a header or a key with its value, also where brackets are wrong.

Brackets are counted line by line. Where the count and the look of the next line disagree, the look is believed: a line
that starts a key or a section ends a list left open, and a line that starts another item goes on with one closed early.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from stringline.document.locate import TOKEN

_KEY_LINE = re.compile(r"\s*([A-Za-z0-9_-]+|\"[^\"\n]*\")(\s*\.\s*[A-Za-z0-9_-]+)*\s*=(?!=)")
_HEADER_LINE = re.compile(r"\s*\[\[?\s*[A-Za-z_][A-Za-z0-9_.-]*\s*\]{0,2}\s*(#.*)?")
_HALF_HEADER = re.compile(r"\s*[A-Za-z_][A-Za-z0-9_.-]*\s*\]{1,2}\s*(#.*)?")


@dataclass(slots=True)
class Statement:
    """A header or a key with its value: first line from 0, its lines, and whether its brackets were left open."""

    first: int
    lines: list[str]
    header: bool
    open: bool = False

    @property
    def text(self) -> str:
        """Its lines as one text."""
        return "\n".join(self.lines)


def split(lines: list[str]) -> list[Statement]:
    """Cut into statements by brackets; a line that starts a key or a header ends an array left open before it."""
    found: list[Statement] = []
    depth = 0
    number = 0
    while number < len(lines):
        line = lines[number]
        fresh = depth == 0
        if not fresh and (_KEY_LINE.match(line) or _HEADER_LINE.fullmatch(line)):
            found[-1].open, depth, fresh = True, 0, True
        if fresh and (not line.strip(" \t") or line.lstrip(" \t").startswith("#")):
            number += 1
            continue
        if fresh:
            header = line.lstrip().startswith("[") or _HALF_HEADER.fullmatch(line) is not None
            found.append(Statement(number, [], header))
        taken, after = _follow(lines, number, depth)
        found[-1].lines.extend(lines[number : number + taken])
        if found[-1].header:
            after = 0
        elif fresh and after == 0 and without_remark(line).endswith("=") and next_code(lines, number + 1)[:1] == "[":
            after = 1  # the list's own bracket is missing
        elif taken == 1 and not fresh:
            after = steady(line, next_code(lines, number + 1), depth, after)
        depth = after
        number += taken
    if depth and found:
        found[-1].open = True
    return found


def steady(line: str, following: str, depth: int, after: int) -> int:
    """The depth behind a line of a list, where a bracket is plainly missing from that line."""
    if after == 0 and line.strip() not in ("]", "],", "}") and _goes_on(following):
        return depth  # one bracket too many: the list goes on in the next line
    if after == depth + 1 and opens_an_item(line) and following[:1] in ("[", "]"):
        return depth  # one too few: the next line begins another item
    return after


def _goes_on(following: str) -> bool:
    return bool(following) and not _KEY_LINE.match(following) and not _HEADER_LINE.fullmatch(following)


def opens_an_item(line: str) -> bool:
    """Whether a line begins an item of a list and goes on with it."""
    code = without_remark(line).strip()
    return code[:1] in ("[", "{") and code[-1:] not in ("[", "{")


def next_code(lines: list[str], number: int) -> str:
    """The next line with something on it, its indent off; empty where there is none."""
    for line in lines[number:]:
        stripped = line.strip()
        if stripped and not stripped.startswith("#"):
            return stripped
    return ""


def _follow(lines: list[str], number: int, depth: int) -> tuple[int, int]:
    """Lines taken (more than one only for a long string) and the bracket depth after them."""
    line = lines[number]
    if ('"""' in line or "'''" in line) and (whole := _long_string(lines, number)) > 1:
        return whole, depth + balance("\n".join(lines[number : number + whole]))
    return 1, max(0, depth + balance(line))


def balance(text: str) -> int:
    """Brackets opened less brackets closed, strings and comments left out."""
    total = 0
    for match in TOKEN.finditer(text):
        if match.lastgroup == "mark":
            total += (match.group() in "[{") - (match.group() in "]}")
    return total


def _long_string(lines: list[str], number: int) -> int:
    """How many lines a long string that starts on this line spans; 1 where none starts or it is never closed."""
    rest = "\n".join(lines[number:])
    for match in TOKEN.finditer(rest):
        if match.lastgroup == "nl":
            return 1
        if match.lastgroup == "string" and "\n" in match.group():
            end = rest.find("\n", match.end())
            return rest.count("\n", 0, end if end >= 0 else len(rest)) + 1
    return 1


def without_remark(line: str) -> str:
    """A line without its comment."""
    for match in TOKEN.finditer(line):
        if match.lastgroup == "comment":
            return line[: match.start()].rstrip()
    return line.rstrip()
