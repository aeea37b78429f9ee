"""Every fault's code is explained once, and nothing is explained that no longer exists."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import stringline
from stringline.fault_codes import CODES

ROOT = Path(stringline.__file__).parent


def codes_used() -> dict[str, set[str]]:
    """Each code that the program can give, with the modules that give it: the first argument of a fault."""
    found: dict[str, set[str]] = {}
    for path in sorted(ROOT.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(node, ast.Call) or not node.args:
                continue
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            first = node.args[0]
            if not isinstance(first, ast.Constant) or not isinstance(first.value, str):
                continue
            if name in ("Fault", "fault") or (name == "add" and len(node.args) >= 4):
                found.setdefault(first.value, set()).add(path.relative_to(ROOT).as_posix())
    return found


def test_every_code_used_is_explained() -> None:
    unexplained = {code: where for code, where in codes_used().items() if code not in CODES}
    assert not unexplained, "give each a line in stringline/fault_codes.py"


def test_nothing_is_explained_that_no_longer_exists() -> None:
    assert set(CODES) <= set(codes_used())


def test_codes_are_plain_words_and_explanations_are_sentences() -> None:
    for code, text in CODES.items():
        assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", code)
        assert text[0].isupper()
        assert text.endswith(".")
