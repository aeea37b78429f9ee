"""Another language is one file: every text of every sheet comes out in it, and nothing else is said."""

from __future__ import annotations

import dataclasses
import io
import re
import sys
from collections.abc import Iterator
from enum import Enum
from pathlib import Path

import pytest
from babel.messages.pofile import read_po as parse
from babel.messages.pofile import write_po

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tools"))

import words as tool

from job_texts import job_texts
from stringline.demo import demo_job_text
from stringline.job.read import read_job
from stringline.plan import plan
from stringline.sheets.index import SHEETS
from stringline.sheets.language import Language, read_po
from stringline.sheets.voice import Voice
from stringline.sheets.words import catalogue
from stringline.system.read import load_system

OPEN, SHUT = "\u27e6", "\u27e7"


def marked() -> Language:
    """A language in which every text stands in brackets."""
    made = parse(io.BytesIO(tool.template()), charset="utf-8")
    for message in made:
        if message.id:
            message.string = (
                tuple(f"{OPEN}{t}{SHUT}" for t in message.id) if message.pluralizable else f"{OPEN}{message.id}{SHUT}"
            )
    out = io.BytesIO()
    write_po(out, made)
    return read_po("xx", out.getvalue())


def _in_brackets(text: str) -> str:
    return f"{OPEN}{text}{SHUT}"


@pytest.fixture(scope="module")
def language() -> Language:
    return marked()


def test_the_file_for_translators_holds_every_text() -> None:
    found = {m.context: m.id for m in parse(io.BytesIO(tool.template())) if m.id}
    assert found == {code: entry for code, entry in catalogue().items() if entry}


def test_every_text_of_every_sheet_comes_from_the_catalogue(language: Language) -> None:
    texts = {"tern-cottage": demo_job_text("tern-cottage"), "heron-yard": demo_job_text("heron-yard")}
    texts |= {k: v for k, v in job_texts().items() if k in ("made-05", "made-12", "made-14", "made-21")}
    for name, text in texts.items():
        job = read_job(text, name)
        whole = plan(job, load_system(job.system) if job.system else None)
        for key, make in SHEETS.items():
            sheet = make(whole, Voice(job.unit, language))
            if sheet is not None:
                bare = [t for t in _texts(sheet) if _english(t) and t not in text]  # what somebody wrote
                assert not bare, f"{name}, {key}: {bare[:5]}"


def _english(text: str) -> bool:
    """Whether words stand outside the brackets: names and what somebody wrote stand inside a text of ours or alone."""
    outside = re.sub(f"{OPEN}.*{SHUT}", "", text, flags=re.S)
    return len(re.findall(r"[A-Za-z]{3,}", outside)) >= 2


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, Enum):
        return
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for item in value.values():
            yield from _texts(item)
    elif isinstance(value, tuple | list):
        for item in value:
            yield from _texts(item)
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        for f in dataclasses.fields(value):
            if f.name not in ("key", "style", "source", "reason"):
                yield from _texts(getattr(value, f.name))
