"""Findings and faults as a person is told them, for tests that look at the words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from stringline.faults import Fault, Faults
from stringline.finding import Code
from stringline.lengths import Unit
from stringline.sheets.faults import fault_text, faults_text
from stringline.sheets.voice import Voice


def said(code: Code, unit: Unit = Unit.M) -> str:
    """A finding in words."""
    return Voice(unit).say(code)


def wrong(fault: Fault, unit: Unit = Unit.M) -> str:
    """What is wrong, in words."""
    return said(fault.wrong, unit)


def right(fault: Fault, unit: Unit = Unit.M) -> str:
    """What would be right, in words."""
    return said(fault.right, unit)


def told(fault: Fault, unit: Unit = Unit.M) -> str:
    """A fault as it is printed."""
    return fault_text(fault, Voice(unit))


@contextmanager
def refused(says: str = "") -> Iterator[pytest.ExceptionInfo[Faults]]:
    """Faults are raised, and what is printed of them holds a match of ``says``."""
    with pytest.raises(Faults) as caught:
        yield caught
    text = faults_text(caught.value)
    assert re.search(says, text), text
