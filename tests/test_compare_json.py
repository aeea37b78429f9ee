"""The tool that holds one tree's JSON against another's, and the jobs it asks about."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from job_texts import MOUNTS, STAGES, job_texts
from stringline.job.model import Job
from stringline.job.read import read_job
from stringline.lengths import Unit

sys.path.append(str(Path(__file__).resolve().parent.parent / "tools"))
import compare_json as tool


def answers(value: Any, code: int = 0) -> dict[str, Any]:
    return {"a.toml": {"plan": {"exit": code, "out": json.dumps(value), "err": ""}}}


def found(old: Any, new: Any) -> list[tuple[str, str, str]]:
    return [(d.path, d.old, d.new) for d in tool.compare(answers(old), answers(new))]


@pytest.fixture(scope="module")
def made() -> dict[str, Job]:
    return {name: read_job(text, name) for name, text in job_texts().items()}


def test_the_made_jobs_are_of_every_kind(made: dict[str, Job]) -> None:
    jobs = list(made.values())
    assert len(jobs) == 40
    assert {j.unit for j in jobs} == set(Unit)
    assert {j.cover.mount for j in jobs if j.cover} == set(MOUNTS)
    assert {str(j.stage) for j in jobs} == set(STAGES)
    assert {j.pool.curve for j in jobs if j.pool} == {True, False}
    assert {j.cover.housing is None for j in jobs if j.cover} == {True, False}
    parts: tuple[Callable[[Job], object], ...] = (
        lambda j: j.pool and j.pool.obstacles,
        lambda j: j.survey.offsets,
        lambda j: j.survey.levels,
        lambda j: j.survey.coordinates,
        lambda j: j.survey.sketch and not j.survey.tapes,
        lambda j: any(t.struck for t in j.survey.tapes),
        lambda j: j.as_built,
        lambda j: j.run and j.run.leads,
        lambda j: j.run and j.run.earlier,
        lambda j: j.cover is None,
        lambda j: not j.system,
    )
    for has in parts:
        assert any(has(j) for j in jobs)
        assert not all(has(j) for j in jobs)


def test_the_made_jobs_hold_order_and_rack() -> None:
    texts = job_texts().values()
    for line in ("[order]", "[rack]", "after_pour = true", 'mark = "abc123"'):
        assert 0 < sum(line in t for t in texts) < 40


def test_the_made_jobs_are_the_same_every_time() -> None:
    assert job_texts(5) == {k: v for k, v in job_texts().items() if k < "made-05"}


def test_numbers_may_differ_by_rounding_only() -> None:
    assert found({"x": 1.0, "y": 0.0}, {"x": 1 + 1e-10, "y": 1e-13}) == []
    assert found({"x": [1.0, 2.0]}, {"x": [1.0, 2.0 + 1e-8]}) == [("x[1]", "2.0", "2.00000001")]
    assert found({"x": True}, {"x": 1}) == [("x", "true", "1")]


def test_what_comes_and_goes_is_told() -> None:
    assert found({"a": 1}, {"b": 1}) == [("a", "1", "(gone)"), ("b", "(absent)", "1")]
    assert found({"a": [1, 2]}, {"a": [1]}) == [("a[]", "2 items", "1 items")]
    assert [d.path for d in tool.compare(answers({}), answers({}, 1))] == ["(exit)"]


def test_long_texts_are_told_from_where_they_part() -> None:
    same = "a" * 200
    [(_, old, new)] = found({"t": same + "old"}, {"t": same + "new"})
    assert old == '"…' + "a" * 60 + 'old"'
    assert new == '"…' + "a" * 60 + 'new"'


def test_items_are_matched_by_their_names() -> None:
    old = [{"code": "p", "says": "x"}, {"code": "q", "says": "y"}]
    new = [{"code": "n", "says": "w"}, {"code": "p", "says": "x"}, {"code": "q", "says": "z"}]
    assert [f[0] for f in found({"c": old}, {"c": new})] == ["c[q].says", "c[n]"]
    assert [f[0] for f in found({"c": old}, {"c": old[::-1]})] == ["c[]"]


def test_only_what_is_listed_with_a_reason_is_allowed(capsys: pytest.CaptureFixture[str]) -> None:
    differences = tool.compare(answers({"t": [{"x": 1, "y": 1}]}), answers({"t": [{"x": 2, "y": 2}]}))
    rows = '[[difference]]\nverb = "*"\npath = "t[].x"\nreason = "rounded up"\n'
    assert tool.tell(differences, tool.allowed_in(rows), 5) == 1
    said = capsys.readouterr().out
    assert "allowed: rounded up" in said
    assert "t[0].y" in said
    assert tool.tell(differences, [], 5) == 2
    with pytest.raises(ValueError, match="reason"):
        tool.allowed_in(rows.replace("rounded up", " "))


def test_the_present_table_is_sound() -> None:
    tool.allowed_in(tool.ALLOWED.read_text("utf-8"))


def test_a_tree_is_asked_through_its_command_line() -> None:
    texts = {k: v for k, v in job_texts(10).items() if k == "made-09"}
    said = tool.ask(tool.ROOT, {"bad.toml": "x", **texts}, ["survey"])
    assert said["bad.toml"]["survey"]["exit"] == 2
    assert json.loads(said["made-09"]["survey"]["out"])["schema"] == 1
