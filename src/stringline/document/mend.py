"""Find what is not TOML, say so with its line, and leave out as little as possible so that the rest can be read.

Nothing that this gives back is ever used as a job: a document with a fault is refused. It only lets the other faults
be found in the same go.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, replace

from stringline.document.locate import TOKEN, Path
from stringline.document.statements import Statement, balance, next_code, opens_an_item, split, steady, without_remark
from stringline.faults import Fault
from stringline.finding import Code, finding

THE_FILE = finding("document.the-file")

MOST = 60  # faults of this kind in one document before it is given up as no TOML at all

_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")
_TEXT = re.compile(r'"(?:\\.|[^"\\])*"|' + "'[^']*'")
_PLACE = re.compile(r" \(at line (\d+), column \d+\)| \(at end of document\)")


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
    statements = split(lines)
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
        faults.append(Fault("syntax", THE_FILE, "document.unseen-sign", "document.type-line-again", number + 1))
    return _CONTROL.sub(" ", line)


def _mend_header(statement: Statement, faults: list[Fault], damaged: set[Path]) -> Path:
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


def _mend_value(statement: Statement, table: Path, faults: list[Fault], damaged: set[Path]) -> None:
    """Check a key and its value, leaving out the lines of an array, or the whole, that cannot be read."""
    path = (*table, *_key_of(statement.lines[0]))
    if statement.open:
        faults.append(
            Fault(
                "not-closed",
                ".".join(map(str, path)),
                "document.never-closed",
                "document.close-it",
                statement.first + 1,
            )
        )
        damaged.add(path)
        statement.lines[-1] += " " + _closing(statement.text)
    if len(statement.lines) > 1 and not _reads(statement.text):
        _mend_rows(statement, path, faults, damaged)
    for _ in range(MOST):
        try:
            tomllib.loads(statement.text)
        except (ValueError, RecursionError) as error:
            at = _line_of(str(error), len(statement.lines))
            before = _line_before(statement.lines, at)
            if "nclosed array" in str(error) and before is not None:
                faults.append(_missing_comma(statement.first + before, path))
                statement.lines[before] = without_remark(statement.lines[before]) + ","
                continue
            faults.append(_fault(statement, at, str(error), "value", path))
            damaged.add(path)
            if not _blank_line(statement, at):
                _blank(statement)
                return
        else:
            return
    _blank(statement)


def _mend_rows(statement: Statement, path: Path, faults: list[Fault], damaged: set[Path]) -> None:
    """In a list with an item on each line, leave out the lines that are no item by themselves."""
    depth = balance(statement.lines[0])
    for at in range(1, len(statement.lines) - 1):
        line = statement.lines[at]
        code = without_remark(line).strip()
        following = next_code(statement.lines, at + 1)
        after = depth + balance(line)
        if depth == 1 and code and len(faults) < MOST:
            wrong: Code | None = None
            if after < 1 and code not in ("]", "],"):
                wrong = "document.closes-too-many"
            elif after == 2 and opens_an_item(line) and following[:1] in ("[", "]"):
                wrong = "document.never-closed"
            unreadable = wrong is None and after == 1 and code[0] in "[{" and not _reads(f"x = [{code}]")
            if wrong is not None or unreadable:
                fault = _fault(statement, at, _why(code), "value", path)
                faults.append(fault if wrong is None else replace(fault, wrong=wrong, right="document.item-brackets"))
                damaged.add(path)
                statement.lines[at] = ""
                continue
        depth = steady(line, following, depth, after)


def _reads(text: str) -> bool:
    return _why_not(text) is None


def _why(code: str) -> str:
    return _why_not(f"x = [{code}]") or ""


def _why_not(text: str) -> str | None:
    """What the standard reader has against a text, None where nothing."""
    try:
        tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        return str(error)
    return None


def _blank_line(statement: Statement, at: int) -> bool:
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


def _blank(statement: Statement) -> None:
    statement.lines = [""] * len(statement.lines)


def _drop_repeats(lines: list[str], statements: list[Statement], faults: list[Fault], damaged: set[Path]) -> str:
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
                    finding("document.given-twice", what=what),
                    "document.keep-one",
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
        code = without_remark(lines[number])
        if code:
            return number if code[-1] not in ",[{=" else None
    return None


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
        "document.no-comma",
        "document.put-comma",
        number + 1,
    )


def _fault(statement: Statement, at: int, message: str, kind: str, path: Path = ()) -> Fault:
    """A syntax fault in plain words, with the remedy that its look suggests."""
    line = statement.lines[at]
    where = ".".join(map(str, path)) or line.strip()[:40]
    plain = _PLACE.sub("", message)
    right: Code
    if kind == "header":
        right = "document.write-section"
    elif (looks := _remedy(line)) is not None:
        right = looks
    elif "=" not in line and len(statement.lines) == 1:
        right = "document.write-key"
    else:
        right = "document.write-value"
    return Fault("syntax", where, finding("document.not-toml", reason=plain), right, statement.first + at + 1)


def _remedy(line: str) -> Code | None:
    """What the look of a line suggests, judged by what is left of it once its whole texts are taken out."""
    if found := re.match(r"\s*([A-Za-z]\w*)\s+([A-Za-z]\w*)\s*=", line):
        return finding("document.one-word", key=f"{found[1]}_{found[2]}")
    bare = _TEXT.sub("\N{REPLACEMENT CHARACTER}", line).split("#")[0]
    if re.search("[\u201c-\u201f\u2018-\u201b\xab\xbb]", bare):
        return "document.curly-quotes"
    if re.search("\ufffd\\s+\ufffd|\\]\\s*\\[", bare):
        return "document.put-comma"
    if re.search(r"[0-9]\"\"", line) or re.search(r"\"[^\"\\]*[0-9]\"\s*[^\s,\]}#]", line):
        return "document.inch-mark"
    if '"' in bare or "'" in bare:
        return "document.same-quote"
    if re.search(r"\d,\d{3}\b", bare):
        return "lengths.no-comma"
    if re.search(r"[\[,]\s*0\d", bare):
        return "document.no-nought-in-front"
    if re.search(r"[\[,]\s*(?!true\b|false\b|inf\b|nan\b)[A-Za-z]\w*\s*[,\]]", bare):
        return "document.names-in-quotes"
    return None
