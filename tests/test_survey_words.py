"""What the survey says: every code has words and is used, and no code stands where a name should."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import stringline
from job_texts import job_texts
from stringline.demo import DEMOS, demo_job_text
from stringline.faults import Faults
from stringline.finding import Code, within
from stringline.job.model import Job
from stringline.job.read import read_job
from stringline.lengths import Unit
from stringline.sheets.voice import Voice
from stringline.sheets.words import catalogue, chapter
from stringline.survey.design.untaped import is_untaped, taping
from stringline.survey.run import survey

ROOM = Path(stringline.__file__).parent
CHAPTERS = ("survey", "taping", "levels")


@cache
def constants(folder: str) -> frozenset[str]:
    """Every text in the source of a room, docstrings and all."""
    trees = (
        ast.parse(path.read_text(encoding="utf-8"))
        for path in (ROOM / folder).rglob("*.py")
        if "words" not in path.parts
    )
    return frozenset(
        node.value
        for tree in trees
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    )


@cache
def paths() -> frozenset[str]:
    """Places in a document that a fault names; they look like codes and are none."""
    calls = (
        node
        for path in (ROOM / "survey").rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and len(node.args) > 1
    )
    return frozenset(
        arg.value
        for call in calls
        for arg in call.args[:2]
        if isinstance(arg, ast.Constant) and isinstance(arg.value, str)
        if ast.unparse(call.func) in ("Fault", "faults.add", "unreached")
    )


@pytest.mark.parametrize("name", CHAPTERS)
def test_every_code_of_the_chapter_is_used(name: str) -> None:
    begun = tuple(text for text in constants(".") if text.startswith(f"{name}.") and text[-1] in ".-")
    groups = {word for entry in catalogue().values() for word in re.findall(r":@([\w.-]+)", str(entry))}
    unused = {
        code
        for code in chapter(name)
        if code not in constants(".") and not code.startswith(begun) and code.rpartition(".")[0] not in groups
    }
    assert unused == set()


def test_every_code_of_the_room_has_words() -> None:
    codes = {
        text
        for text in constants("survey")
        if text.partition(".")[0] in CHAPTERS and re.fullmatch(r"[a-z]+\.[a-z-]+", text)
    }
    assert codes - paths() - set(catalogue()) == set()


def jobs() -> list[Job]:
    texts = {**{name: demo_job_text(name) for name in DEMOS}, **job_texts()}
    return [read_job(text, name) for name, text in texts.items()]


def said_of(job: Job) -> Iterator[Code]:
    if is_untaped(job):
        plan = taping(job)
        yield from (plan.where, *plan.notes)
        return
    try:
        found = survey(job.survey)
    except Faults as faults:
        for fault in faults.faults:
            yield from (fault.wrong, fault.right)
        return
    yield from found.notes
    yield from (o.label for o in found.others)
    for suspect in found.suspects:
        yield from (suspect.slip, *suspect.rivals, *([] if suspect.would_tell is None else [suspect.would_tell]))
    yield from (tape.buys for tape in found.next_tapes)


def test_findings_of_forty_jobs_can_be_said_and_hold_no_code_as_a_name() -> None:
    codes, count = set(catalogue()), 0
    for job in jobs():
        for code in said_of(job):
            count += 1
            texts = [
                v
                for f in within(code)
                for _, value in f.values
                for v in (value if isinstance(value, tuple) else (value,))
            ]
            assert not codes & {t for t in texts if isinstance(t, str)}, code
            for unit in (Unit.FT_IN, Unit.MM):
                words = Voice(unit).say(code)
                assert words not in codes
                assert "{" not in words
    assert count > 100
