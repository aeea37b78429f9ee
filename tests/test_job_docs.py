"""What docs/job-file.md and docs/catalogue.md state is true of the program."""

from __future__ import annotations

import dataclasses
import re
from pathlib import Path

import pytest

from stringline.job.model_later import FIGURES
from stringline.job.read import MINIMISE, MOUNTS, read_job
from stringline.job.read_built import LENGTH_CAUSES, NUMBER_CAUSES
from stringline.job.read_later import CONDUCTORS, METALS
from stringline.job.read_pool import KINDS
from stringline.job.read_survey import TAPE_CLASSES
from stringline.judging import Stage
from stringline.lead.causes import FAMILIES
from stringline.lead.observations import KNOWN
from stringline.lengths import Unit, parse
from stringline.system.model import System
from stringline.system.read import load_system
from stringline.worked import Kind

DOCS = Path(__file__).parent.parent / "docs"
JOB = (DOCS / "job-file.md").read_text("utf-8")
CATALOGUE = (DOCS / "catalogue.md").read_text("utf-8")


def test_the_whole_file_shown_reads_and_uses_every_key() -> None:
    (text,) = re.findall(r"```toml\n(.*?)```", JOB, re.DOTALL)
    job = read_job(text, "docs/job-file.md")
    assert job.order is not None
    later = (job.order, job.order.placed, job.rack, job.power, job.drain, job.control, job.tasks)
    for part in (job, job.pool, job.cover, job.as_built, job.run, *later):
        assert part is not None
        for field in dataclasses.fields(part):
            if field.name not in ("known", "line", "minimise"):
                assert getattr(part, field.name) not in (None, ()), field.name
    assert job.tasks is not None
    for name in ("after", "earliest", "done", "who"):
        assert any(getattr(task, name) for task in job.tasks.listed)
    assert {t.struck for t in job.survey.tapes} == {None, "the hook slipped"}


@pytest.mark.parametrize(
    "words",
    [
        LENGTH_CAUSES,
        NUMBER_CAUSES,
        [str(u) for u in Unit],
        [str(s) for s in Stage],
        TAPE_CLASSES,
        MOUNTS,
        MINIMISE,
        KINDS,
        FIGURES,
        METALS,
    ],
)
def test_every_word_that_may_stand_is_told(words: list[str]) -> None:
    for word in words:
        assert re.search(rf"(?<![a-z-]){re.escape(word)}(?![a-z-])", JOB), word


def test_the_wires_shown_are_sizes_that_may_stand() -> None:
    shown = re.findall(r'"([0-9/.]+ (?:AWG|mm2))"', JOB)
    assert len(shown) >= 3
    assert set(shown) <= set(CONDUCTORS)


def test_every_spelling_shown_reads() -> None:
    rows = re.findall(r"^\| (`.*?) \| (feet and inches|inches|decimal feet|metric) \|$", JOB, re.MULTILINE)
    assert len(rows) == 4
    notations = {"feet and inches": {"ft-in"}, "inches": {"in"}, "decimal feet": {"ft"}, "metric": {"m", "cm", "mm"}}
    for spellings, kind in rows:
        found = [parse(s, Unit.FT_IN) for s in re.findall(r"`([^`]+)`", spellings)]
        assert len({f.exact_m for f in found}) == 1
        assert {f.notation for f in found} <= notations[kind]


def test_every_value_named_in_the_catalogue_page_exists() -> None:
    system = load_system("invented-18")
    for section, key in re.findall(r"`([a-z_]+)\.([a-z_]+)`", CATALOGUE):
        if section == "stringline":
            continue
        part = getattr(system, section)
        assert hasattr(part, f"{key}_m") or hasattr(part, key), f"{section}.{key}"
    assert {f.name for f in dataclasses.fields(System)} >= {"track", "wedge", "fabric"}


def test_the_causes_that_can_be_put_right_are_those_that_are_diagnosed() -> None:
    assert {f.key for f in FAMILIES if f.kind is Kind.LENGTH} == set(LENGTH_CAUSES)
    assert {f.key for f in FAMILIES if f.kind is not Kind.LENGTH} == set(NUMBER_CAUSES)


def test_what_is_understood_of_what_was_seen_is_listed() -> None:
    run = JOB.partition("## [run]")[2].partition("\n## ")[0]
    assert [phrase for phrase in re.findall(r'"([a-z ]+)"', run) if phrase] == list(KNOWN)
