"""The table of statistical limits: nothing in it without a source, no copy of it elsewhere."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
from scipy import stats

import stringline
from stringline import limits
from stringline.sources import ALL


def test_every_limit_says_its_source() -> None:
    stated = {name for name, value in vars(limits).items() if isinstance(value, float)}
    assert stated == set(limits.SOURCES)
    assert set(limits.SOURCES.values()) <= set(ALL)


def test_the_limits_follow_from_their_levels() -> None:
    assert 2.0 * stats.norm.sf(limits.BAARDA_W) == pytest.approx(limits.READING_ALPHA)
    shift = limits.NONCENTRALITY  # of a good reading's w, by a slip of the smallest detectable size
    assert stats.norm.sf(limits.BAARDA_W - shift) == pytest.approx(limits.POWER)
    assert limits.UNTESTED_R < limits.UNCHECKED_R < limits.PARTLY_R < limits.ENOUGH_R < 1.0


def test_no_module_has_a_copy_of_them() -> None:
    """Numbers that can only be Baarda's limits stand in the table and nowhere else."""
    room = Path(stringline.__file__).parent
    copies = [
        f"{path.name}: {node.value}"
        for path in sorted(room.rglob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, float)
        if path.name != "limits.py" and round(node.value, 2) in (3.29, 4.13, 3.84)
    ]
    assert copies == []
