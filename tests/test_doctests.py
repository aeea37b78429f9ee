"""The examples in the docstrings say what the program does: every one is run."""

from __future__ import annotations

import doctest
import pkgutil
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path

import pytest

import stringline

OPTIONS = doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS


def _with_examples() -> list[str]:
    """Names of the modules whose text holds an example, found without importing any but the packages."""
    names = ["stringline", *(m.name for m in pkgutil.walk_packages(stringline.__path__, "stringline."))]
    found = []
    for name in names:
        spec = find_spec(name)
        if spec is not None and spec.origin is not None and ">>> " in Path(spec.origin).read_text(encoding="utf-8"):
            found.append(name)
    return found


@pytest.mark.parametrize("name", _with_examples())
def test_examples(name: str) -> None:
    ran = doctest.testmod(import_module(name), optionflags=OPTIONS)
    assert ran.attempted > 0
    assert ran.failed == 0
