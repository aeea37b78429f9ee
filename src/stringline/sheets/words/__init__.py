"""The one catalogue of words: every code with its English, a chapter for each first part of a code.

``survey.retape`` stands in the chapter :mod:`stringline.sheets.words.survey`, in its ``WORDS``. An entry is a text, or
two texts (one and many) chosen by the value ``n``. Within a text, ``{name}`` is the value of that name; how it is
written follows from the unit at the end of its name, or from what stands behind a colon (:mod:`stringline.sheets.voice`
lists both). Chapters are read when a code of theirs is first said.
"""

from __future__ import annotations

import pkgutil
from functools import cache
from importlib import import_module

Entry = str | tuple[str, str]


CHAPTERS = frozenset(m.name for m in pkgutil.iter_modules(__path__))


@cache
def chapter(name: str) -> dict[str, Entry]:
    """The words of one chapter. Raises ModuleNotFoundError for a chapter that there is not."""
    words: dict[str, Entry] = import_module(f"{__name__}.{name}").WORDS
    return words


def english(code: str) -> Entry:
    """The English of a code. Raises KeyError for one that the catalogue does not have."""
    return chapter(code.partition(".")[0])[code]


def chapters() -> tuple[str, ...]:
    """The names of all chapters."""
    return tuple(sorted(CHAPTERS))


def catalogue() -> dict[str, Entry]:
    """Every code with its English."""
    return {code: entry for name in chapters() for code, entry in chapter(name).items()}
