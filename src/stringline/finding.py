"""What a room below the words has to say: a code and its values. The words stand in :mod:`stringline.sheets.words`."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Finding:
    """Something to be said to a person, as a code and the values that its words need.

    A value is a number in SI whose name ends in its unit (``gauge_m``, ``tension_n``), a whole number, a text that
    somebody wrote (a point's name, a reason), another finding, or a tuple of these. The words, the unit that a length
    is read in and the language are chosen where it is said.

    >>> finding("survey.retape", frm="2", to="4", expected_m=12.3).code
    'survey.retape'
    >>> finding("survey.retape", frm="2", to="4").get("to")
    '4'
    """

    code: str
    values: tuple[tuple[str, Any], ...] = ()

    def get(self, name: str) -> Any:
        """The value called ``name``; None where the finding has none."""
        return dict(self.values).get(name)

    def __str__(self) -> str:
        """The code and its values, for a programmer; a person is shown the words."""
        return f"{self.code}({', '.join(f'{k}={v}' for k, v in self.values)})" if self.values else self.code


Code = str | Finding
"""A finding, or the bare code of one that has no values."""


def finding(code: str, /, **values: Any) -> Finding:
    """Make a finding; lists become tuples so that it stays a value."""
    return Finding(code, tuple((k, tuple(v) if isinstance(v, list) else v) for k, v in values.items()))


def code_of(said: Code) -> str:
    """The code alone."""
    return said if isinstance(said, str) else said.code


def nested(said: Code) -> Finding:
    """A finding that may stand as a value of another one; a bare code there would be read as a name.

    >>> nested("check.hems")
    Finding(code='check.hems', values=())
    """
    return Finding(said) if isinstance(said, str) else said


def in_turn(*said: Code) -> Code:
    """Findings that are said one after the other, as one; it alone where it is the only one.

    >>> in_turn("check.nothing-to-do")
    'check.nothing-to-do'
    """
    return said[0] if len(said) == 1 else finding("common.in-turn", said=[nested(s) for s in said])


def within(said: Code) -> Iterator[Finding]:
    """The finding itself and every finding among its values, outermost first."""
    if isinstance(said, str):
        yield Finding(said)
        return
    yield said
    for _, value in said.values:
        for inner in value if isinstance(value, tuple) else (value,):
            if isinstance(inner, Finding):
                yield from within(inner)


class Refused(ValueError):
    """Raised where the engineering can make nothing of an input that is well formed; carries why, as a finding."""

    def __init__(self, why: Code) -> None:
        self.why = why
        super().__init__(str(why))
