"""Words stand in one room: nothing below it holds a sentence or asks for a unit, and no code is without its words."""

from __future__ import annotations

import ast
import dataclasses
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import stringline
from stringline.job.model import SurveyInput
from stringline.sheets.words import catalogue, chapters

SRC = Path(stringline.__file__).parent
ABOVE = ("sheets", "cli", "terminal", "book", "as_json", "tables", "__main__.py")
DATA = ("sources",)  # titles and places of publications: data, the same in every language
CODE = re.compile(r"[a-z_]+(\.[A-Za-z0-9_ @-]+)+")
FIELD = re.compile(r"\{(\w+)(?::[^{}]*)?\}")
# Names of fonts, units and marks in a file; what a reader of TOML calls a fault of its own; patterns of text.
NAMES = re.compile(r"Source Sans|\{\} (ft|in|mm|mm2|AWG)$|^\{\}-title|Unnamed job|nclosed array|\\")
# Places in a job are written like codes.
JOB_KEYS = {f.name for f in dataclasses.fields(SurveyInput)} | {"sigma", "system"}
DOCUMENTS = ("job/template.py", "job/from_outline.py")  # the remarks in a job file that is begun for somebody
VOCABULARY = ("lead/observations.py",)  # what a person may write in a job, not what is said


def _files() -> list[Path]:
    return sorted(SRC.rglob("*.py"))


def _room(path: Path) -> str:
    return path.relative_to(SRC).parts[0]


def _below() -> list[Path]:
    return [p for p in _files() if _room(p) not in (*ABOVE, *DATA)]


@cache
def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def _unseen(tree: ast.Module) -> set[int]:
    """Strings that no person is shown: docstrings, notes under constants, and what only a programmer's error says."""
    found: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            found.add(id(node.value))
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call):
            name = node.exc.func
            if isinstance(name, ast.Name) and name.id.endswith("Error"):
                found |= {id(n) for n in ast.walk(node.exc)}
        if isinstance(node, ast.ClassDef) and any(ast.unparse(b).endswith("Enum") for b in node.bases):
            found |= {id(n.value) for n in node.body if isinstance(n, ast.Assign)}  # a value that files and JSON hold
        if isinstance(node, ast.Assert) and node.msg is not None:
            found |= {id(n) for n in ast.walk(node.msg)}
    return found


def _sentences(path: Path) -> Iterator[tuple[int, str]]:
    tree = _tree(path)
    unseen = _unseen(tree)
    inner = {id(v) for n in ast.walk(tree) if isinstance(n, ast.JoinedStr) for v in n.values}
    for node in ast.walk(tree):
        if id(node) in unseen or id(node) in inner:
            continue
        if isinstance(node, ast.JoinedStr):
            text = "".join(str(v.value) if isinstance(v, ast.Constant) else "{}" for v in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = node.value
        else:
            continue
        prose = re.search(r"[A-Za-zα-ω]{2,}[,;:.]? +[A-Za-z{(]|[A-Za-z})] +[A-Za-z]{2,}", text)
        if prose and not NAMES.search(text) and "<" not in text and not CODE.fullmatch(text):
            yield node.lineno, text


@pytest.mark.parametrize("path", _below(), ids=lambda p: str(p.relative_to(SRC)))
def test_no_room_below_the_words_holds_a_sentence(path: Path) -> None:
    if str(path.relative_to(SRC)) in (*DOCUMENTS, *VOCABULARY):
        return
    found = [f"{path.name}:{line}: {text[:80]!r}" for line, text in _sentences(path)]
    assert not found, "\n".join(found)


@pytest.mark.parametrize("path", _below(), ids=lambda p: str(p.relative_to(SRC)))
def test_no_room_below_the_words_takes_a_unit_to_write_in(path: Path) -> None:
    """`job` and `lengths` know the unit that bare numbers are written in; nobody else below the words needs one."""
    if _room(path) in ("job", "lengths.py", "document", "faults.py") or str(path.relative_to(SRC)) in VOCABULARY:
        return
    found = [
        f"{path.name}:{node.lineno}: {node.arg}"
        for node in ast.walk(_tree(path))
        if isinstance(node, ast.arg) and node.annotation is not None and "Unit" in ast.unparse(node.annotation)
    ]
    assert not found, "\n".join(found)


def _literals(path: Path) -> set[str]:
    return {n.value for n in ast.walk(_tree(path)) if isinstance(n, ast.Constant) and isinstance(n.value, str)}


def _patterns(path: Path) -> set[str]:
    """Codes that are put together from a value: ``f"common.side.{side}"`` as a pattern."""
    found = set()
    for node in ast.walk(_tree(path)):
        if isinstance(node, ast.JoinedStr):
            parts = [re.escape(str(v.value)) if isinstance(v, ast.Constant) else ".+" for v in node.values]
            found.add("".join(parts))
    return found


def test_every_code_that_is_used_has_words() -> None:
    words, known = catalogue(), set(chapters())
    lost = {
        f"{path.relative_to(SRC)}: {text}"
        for path in _files()
        for text in _literals(path)
        if re.fullmatch(r"[a-z_]+(\.[a-z0-9-]*[a-z0-9])+", text)
        and text.partition(".")[0] in known
        and text not in words
        and text.partition(".")[2] not in JOB_KEYS
        and not text.endswith((".toml", ".csv", ".py", ".typ", ".json", ".pdf", ".svg", ".dxf", ".xlsx"))
    }
    assert not lost, "\n".join(sorted(lost))


def test_every_text_of_the_catalogue_is_used() -> None:
    literals = {text for path in _files() if "words" not in path.parts for text in _literals(path)}
    patterns = {re.compile(p) for path in _files() for p in _patterns(path) if "\\." in p}
    groups = {
        spec for entry in catalogue().values() for t in _texts(entry) for spec in re.findall(r":@([a-z_.-]+)\}", t)
    }
    idle = [
        code
        for code in catalogue()
        if code not in literals
        and not any(code.startswith(f"{g}.") for g in groups)
        and not any(p.fullmatch(code) for p in patterns)
    ]
    assert not idle, "\n".join(idle)


def _texts(entry: str | tuple[str, str]) -> tuple[str, ...]:
    return (entry,) if isinstance(entry, str) else entry


def test_a_finding_brings_every_value_that_its_words_need() -> None:
    words = catalogue()
    lost = []
    for path in _files():
        for node in ast.walk(_tree(path)):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "finding"):
                continue
            if not node.args or any(k.arg is None for k in node.keywords):
                continue
            given = {k.arg for k in node.keywords}
            for code in _literal_codes(node.args[0]):
                entry = words.get(code)
                needed = set() if entry is None else {f for t in _texts(entry) for f in FIELD.findall(t)}
                if needed - given:
                    lost.append(f"{path.relative_to(SRC)}:{node.lineno}: {code} lacks {sorted(needed - given)}")
    assert not lost, "\n".join(lost)


def _literal_codes(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from _literal_codes(node.body)
        yield from _literal_codes(node.orelse)


def test_a_figure_is_worked_out_in_the_one_file_that_its_key_finds() -> None:
    """The key printed beside a figure, searched for below the words, leads to one file."""
    where: dict[str, set[str]] = {}
    for path in _below():
        for node in ast.walk(_tree(path)):
            if not isinstance(node, ast.Call):
                continue
            called = ast.unparse(node.func)
            if called not in ("Figure", "Figure.sum", "Figure.single", "Figure.by_rule") or not node.args:
                continue
            label = node.args[0]
            if isinstance(label, ast.Call) and ast.unparse(label.func) == "finding" and label.args:
                label = label.args[0]
            for code in _literal_codes(label):
                where.setdefault(code, set()).add(str(path.relative_to(SRC)))
    assert len(where) > 60
    several = {code: sorted(files) for code, files in where.items() if len(files) > 1}
    assert not several, several
