"""Find what is not TOML, say so with its line, and leave out as little as possible so that the rest can be read.

Nothing that this gives back is ever used as a job: a document with a fault is refused. It only lets the other faults
be found in the same go.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass

from stringline.document.locate import TOKEN, Path
from stringline.faults import Fault

MOST = 60  # faults of this kind in one document before it is given up as no TOML at all

_KEY_LINE = re.compile(r"\s*([A-Za-z0-9_-]+|\"[^\"\n]*\")(\s*\.\s*[A-Za-z0-9_-]+)*\s*=(?!=)")
_HEADER_LINE = re.compile(r"\s*\[\[?\s*[A-Za-z_][A-Za-z0-9_.-]*\s*\]{0,2}\s*(#.*)?")
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")
_PLACE = re.compile(r" \(at line (\d+), column \d+\)| \(at end of document\)")


@dataclass(slots=True)
class _Statement:
    """A header or a key with its value: first line from 0, its lines, and whether its brackets were left open."""

    first: int
    lines: list[str]
    header: bool
    open: bool = False

    @property
    def text(self) -> str:
        return "\n".join(self.lines)


@dataclass(frozen=True, slots=True)
class Mended:
    """Text that is TOML, line for line; the faults found; the paths where something was left out, and what it was."""

    text: str
    faults: list[Fault]
    damaged: set[Path]
    lost: str


def mend(text: str) -> Mended:
    """Leave out what is not TOML; ``text`` in the result is empty where that does not come to an end."""
    faults: list[Fault] = []
    damaged: set[Path] = set()
    lines = [_printable(line, number, faults) for number, line in enumerate(text.split("\n"))]
    table: Path = ()
    statements = _split(lines)
    for statement in statements:
        if statement.header:
            table = _mend_header(statement, faults, damaged)
        elif len(faults) < MOST:
            _mend_value(statement, table, faults, damaged)
        else:
            _blank(statement)
        lines[statement.first : statement.first + len(statement.lines)] = statement.lines
    mended = _drop_repeats(lines, statements, faults, damaged)
    before, after = text.split("\n"), mended.split("\n")
    after += [""] * (len(before) - len(after))
    lost = "\n".join(old for old, new in zip(before, after, strict=True) if len(new) < len(old) and old.strip())
    return Mended(mended, faults, damaged, lost)


def _printable(line: str, number: int, faults: list[Fault]) -> str:
    """The line with a space for each control sign, which TOML has no place for."""
    if not _CONTROL.search(line):
        return line
    if len(faults) < MOST:
        wrong = "there is a sign here that cannot be seen"
        faults.append(Fault("syntax", "the file", wrong, "delete the line and type it again", number + 1))
    return _CONTROL.sub(" ", line)


def _split(lines: list[str]) -> list[_Statement]:
    """Cut into statements by brackets; a line that starts a key or a header ends an array left open before it."""
    found: list[_Statement] = []
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
            found.append(_Statement(number, [], line.lstrip().startswith("[")))
        taken, depth = _follow(lines, number, depth)
        found[-1].lines.extend(lines[number : number + taken])
        if found[-1].header:
            depth = 0
        number += taken
    if depth and found:
        found[-1].open = True
    return found


def _follow(lines: list[str], number: int, depth: int) -> tuple[int, int]:
    """Lines taken (more than one only for a long string) and the bracket depth after them."""
    line = lines[number]
    if ('"""' in line or "'''" in line) and (whole := _long_string(lines, number)) > 1:
        return whole, depth + _balance("\n".join(lines[number : number + whole]))
    return 1, max(0, depth + _balance(line))


def _balance(text: str) -> int:
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


def _mend_header(statement: _Statement, faults: list[Fault], damaged: set[Path]) -> Path:
    """Check a header; one that cannot be read is put right where its name is plain, else its keys are left out."""
    text = statement.text
    try:
        parsed = tomllib.loads(text)
    except ValueError as error:
        names = re.findall(r"[A-Za-z0-9_-]+", text.split("#")[0])
        faults.append(_fault(statement, 0, str(error), "header"))
        names = names[:1] or [f"line-{statement.first + 1}"]
        damaged.add(tuple(names))
        statement.lines[0] = f"[{names[0]}]"
        return (names[0],)
    path: list[str] = []
    level: object = parsed
    while (isinstance(level, dict) and level) or isinstance(level, list):
        if isinstance(level, list):
            level = level[0]
            continue
        name = next(iter(level))
        path.append(name)
        level = level[name]
    return tuple(path)


def _mend_value(statement: _Statement, table: Path, faults: list[Fault], damaged: set[Path]) -> None:
    """Check a key and its value, leaving out the lines of an array, or the whole, that cannot be read."""
    path = (*table, *_key_of(statement.lines[0]))
    if statement.open:
        faults.append(
            Fault(
                "not-closed",
                ".".join(map(str, path)),
                "the bracket opened on this line is never closed",
                "put the closing ] or } after its last item",
                statement.first + 1,
            )
        )
        damaged.add(path)
        statement.lines[-1] += " " + _closing(statement.text)
    for _ in range(MOST):
        try:
            tomllib.loads(statement.text)
        except (ValueError, RecursionError) as error:
            at = _line_of(str(error), len(statement.lines))
            before = _line_before(statement.lines, at)
            if "nclosed array" in str(error) and before is not None:
                faults.append(_missing_comma(statement.first + before, path))
                statement.lines[before] = _code(statement.lines[before]) + ","
                continue
            faults.append(_fault(statement, at, str(error), "value", path))
            damaged.add(path)
            if not _blank_line(statement, at):
                _blank(statement)
                return
        else:
            return
    _blank(statement)


def _blank_line(statement: _Statement, at: int) -> bool:
    """Take one line out of an array of several lines, keeping its brackets; False where that cannot be done."""
    if len(statement.lines) == 1:
        return False
    line = statement.lines[at]
    start = re.match(r"\s*[^=]+=\s*\[(?=\s*\[)", line) if at == 0 else None
    if start:
        kept = start.group()
    elif at == 0:
        return False
    else:
        kept = "]" if at == len(statement.lines) - 1 else ""
    if line == kept:
        return False
    statement.lines[at] = kept
    return True


def _blank(statement: _Statement) -> None:
    statement.lines = [""] * len(statement.lines)


def _drop_repeats(lines: list[str], statements: list[_Statement], faults: list[Fault], damaged: set[Path]) -> str:
    """What is left wrong is between statements: a key or a section given twice. Leave the second one out."""
    for _ in range(MOST):
        text = "\n".join(lines)
        try:
            tomllib.loads(text)
        except (ValueError, RecursionError) as error:
            at = _line_of(str(error), len(lines))
            index = max((i for i, s in enumerate(statements) if s.first <= at and any(s.lines)), default=None)
            if index is None:
                break
            statement = statements[index]
            what = statement.lines[0].split("=")[0].strip()
            faults.append(
                Fault(
                    "given-twice",
                    what,
                    f"{what} is given a second time",
                    "keep one of them, with everything that belongs to it",
                    statement.first + 1,
                )
            )
            last = index
            if statement.header:
                while last + 1 < len(statements) and not statements[last + 1].header:
                    last += 1
            for gone in statements[index : last + 1]:
                _blank(gone)
                lines[gone.first : gone.first + len(gone.lines)] = gone.lines
            damaged.add(())
        else:
            return text
    return ""


def _key_of(line: str) -> Path:
    match = re.match(r"\s*([A-Za-z0-9_.\s-]+?)\s*=", line)
    return tuple(part.strip() for part in match.group(1).split(".")) if match else ()


def _line_of(message: str, count: int) -> int:
    """The line that the standard reader names, from 0; the last one where it names the end."""
    match = _PLACE.search(message)
    return min(int(match.group(1)) - 1, count - 1) if match and match.group(1) else count - 1


def _line_before(lines: list[str], at: int) -> int | None:
    """The last line with something on it before ``at``, where it ends an item without a comma."""
    for number in range(at - 1, -1, -1):
        code = _code(lines[number])
        if code:
            return number if code[-1] not in ",[{=" else None
    return None


def _code(line: str) -> str:
    """A line without its comment."""
    for match in TOKEN.finditer(line):
        if match.lastgroup == "comment":
            return line[: match.start()].rstrip()
    return line.rstrip()


def _closing(text: str) -> str:
    """The brackets that would close what is open."""
    stack: list[str] = []
    for match in TOKEN.finditer(text):
        if match.lastgroup == "mark":
            token = match.group()
            if token in "[{":
                stack.append("]" if token == "[" else "}")
            elif token in "]}" and stack:
                stack.pop()
    return "".join(reversed(stack))


def _missing_comma(number: int, path: Path) -> Fault:
    return Fault(
        "missing-comma",
        ".".join(map(str, path)),
        "there is no comma after this item",
        "put a comma between the items of a list",
        number + 1,
    )


def _fault(statement: _Statement, at: int, message: str, kind: str, path: Path = ()) -> Fault:
    """A syntax fault in plain words, with the remedy that its look suggests."""
    line = statement.lines[at]
    where = ".".join(map(str, path)) or line.strip()[:40]
    plain = _PLACE.sub("", message)
    wrong = f"this is not TOML ({plain[:1].lower()}{plain[1:]})"
    if kind == "header":
        right = "write a section as [survey], alone on its line"
    elif re.search(r"[0-9]\"\"", line) or re.search(r"\"[^\"\\]*[0-9]\"\s*[^\s,\]}#]", line):
        right = 'inside double quotes write the inch mark as \\", as in "24\' 0\\"", or write 24-0'
    elif line.count('"') % 2 or line.count("'") % 2:
        right = 'a text starts and ends with the same quote; inside it write the inch mark as \\", as in "24\' 0\\""'
    elif "=" not in line and len(statement.lines) == 1:
        right = 'write a name, an equals sign and a value, as in name = "Tern Cottage"'
    else:
        right = 'a text stands in quotes, a list in [ ] with commas, as in ["A", "B", "24-0"]'
    return Fault("syntax", where, wrong, right, statement.first + at + 1)
