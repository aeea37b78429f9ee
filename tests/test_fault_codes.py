"""Every fault's code is explained once, and nothing is explained that no longer exists."""

from __future__ import annotations

import ast
import re
from dataclasses import replace
from pathlib import Path

import pytest

import stringline
from stringline.as_json.write import faults_json
from stringline.faults import CODES, Fault, Faults
from stringline.finding import finding
from stringline.lengths import Unit
from stringline.sheets.faults import faults_text
from stringline.sheets.words import chapter

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
    assert not unexplained, "give each a line in stringline/faults.py and its words in sheets/words/faults.py"


def test_nothing_is_explained_that_no_longer_exists() -> None:
    assert set(CODES) <= set(codes_used())


def test_codes_are_plain_words_and_explanations_are_sentences() -> None:
    told = {"head", "at", "nowhere", "short"}
    assert {c.removeprefix("faults.") for c in chapter("faults")} - told == CODES
    for code in CODES:
        assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", code)
        text = chapter("faults")[f"faults.{code}"]
        assert isinstance(text, str)
        assert text[0].isupper()
        assert text.endswith(".")


def test_a_fault_of_no_known_kind_cannot_be_made() -> None:
    with pytest.raises(ValueError, match="no fault is called 'emty'"):
        Fault("emty", "job.name", "there is no name", "write one")


def test_faults_are_told_in_the_unit_of_their_document() -> None:
    fault = Fault("sigma", finding("trial.where"), "it is wrong", finding("faults.short", wrong="a", right="b"), 7)
    assert faults_text(Faults("x.toml", [fault])) == (
        "x.toml: 1 fault, nothing was done.\n  line 7, trial.where: it is wrong; a; b."
    )
    two = Faults("x.toml", [replace(fault, where="survey.sigma", line=None), fault], Unit.FT)
    assert faults_text(two).splitlines()[0] == "x.toml: 2 faults, nothing was done."
    assert faults_text(two).splitlines()[2] == "  survey.sigma: it is wrong; a; b."
    assert (two.unit, faults_json(two)["faults"][1]["right"]) == (Unit.FT, "a; b")
