"""Any job that can be written reads back as what was written, in any order of its sections and any layout."""

from __future__ import annotations

import random
from typing import Any

import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from stringline.job.model import Corner, Job
from stringline.job.model_later import FIGURES
from stringline.job.read import MINIMISE, MOUNTS, read_job
from stringline.job.read_pool import KINDS
from stringline.judging import Stage
from stringline.lengths import Unit, parse

NAMES = st.text(
    alphabet=st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs")), min_size=1, max_size=12
).filter(lambda s: s == s.strip() and s.isprintable())
REMARKS = st.text(alphabet=st.characters(codec="utf-8", exclude_characters="\r"), min_size=1, max_size=20).filter(
    str.strip
)


def length_texts(least: int = 1) -> st.SearchStrategy[str]:
    """Lengths in several spellings, from ``least`` sixteenths of an inch or millimetres."""
    feet = st.builds("{}' {} {}/16\"".format, st.integers(0, 90), st.integers(0, 11), st.integers(1, 15))
    dashed = st.builds("{}-{}-3/{}".format, st.integers(1, 90), st.integers(0, 11), st.sampled_from([4, 8, 16, 32]))
    metric = st.builds("{} mm".format, st.integers(least, 40_000))
    decimal = st.builds("{}.{:03d} m".format, st.integers(1, 40), st.integers(0, 999))
    return st.one_of(feet, dashed, metric, decimal)


@st.composite
def jobs(draw: st.DrawFn) -> dict[str, Any]:
    """The values of a sound job."""
    points = draw(st.lists(NAMES, min_size=4, max_size=9, unique=True))
    a, b, *rest = points
    tapes: list[list[Any]] = [[a, b, draw(length_texts())]]
    for name in rest:
        row: list[Any] = [draw(st.sampled_from([a, b])), name, draw(length_texts())]
        remarks = {"by": draw(REMARKS), "device": draw(REMARKS), "sigma": draw(length_texts())}
        kept: set[str] = draw(st.sets(st.sampled_from(sorted(remarks))))
        fourth: bool = draw(st.booleans())
        tapes.append([*row, {k: remarks[k] for k in sorted(kept)}] if kept or fourth else row)
    survey: dict[str, Any] = {"tapes": tapes, "behind": draw(st.lists(st.sampled_from(rest), unique=True))}
    if draw(st.booleans()):
        survey["baseline"] = [a, b]
    else:
        survey["known"] = {name: [draw(length_texts()), f"-{draw(length_texts())}"] for name in (a, b)}
    head = {"name": draw(REMARKS), "unit": str(draw(st.sampled_from(Unit))), "stage": str(draw(st.sampled_from(Stage)))}
    job: dict[str, Any] = {"job": head, "survey": survey}
    if draw(st.booleans()):
        water: list[Any] = []
        for name in points:
            water += [name, {"arc": "6 mm"}] if draw(st.booleans()) else [name]
        kind = draw(st.sampled_from(KINDS))
        job["pool"] = {"water": water, "obstacles": [{"name": draw(NAMES), "points": [a, rest[0]], "kind": kind}]}
        job["cover"] = {
            "mount": draw(st.sampled_from(MOUNTS)),
            "drive_side": draw(st.sampled_from(["left", "right"])),
            "housing": draw(st.sampled_from([[b, a], [a, b], "any"])),
            "margins": {"side": draw(length_texts()), "end": "0"},
            "minimise": draw(st.sampled_from(MINIMISE)),
        }
    if draw(st.booleans()):
        job["rack"] = {"offcuts": draw(st.lists(length_texts(), max_size=3))}
    if draw(st.booleans()):
        job["order"] = {
            "after_pour": draw(st.booleans()),
            "figures": {draw(st.sampled_from(FIGURES)): draw(length_texts())},
        }
    return job


def check(job: Job, written: dict[str, Any]) -> None:
    unit = Unit(written["job"]["unit"])
    assert (job.name, job.unit, str(job.stage)) == (written["job"]["name"], unit, written["job"]["stage"])
    survey = written["survey"]
    assert len(job.survey.tapes) == len(survey["tapes"])
    for tape, row in zip(job.survey.tapes, survey["tapes"], strict=True):
        remarks = row[3] if len(row) > 3 else {}
        assert (tape.a, tape.b, tape.length) == (row[0], row[1], parse(row[2], unit))
        assert (tape.by, tape.device) == (remarks.get("by"), remarks.get("device"))
        assert tape.sigma_m == (parse(remarks["sigma"], unit).m if "sigma" in remarks else None)
    assert job.survey.baseline == (tuple(survey["baseline"]) if "baseline" in survey else None)
    assert job.survey.known == {
        name: tuple(parse(x, unit, signed=True).m for x in xy) for name, xy in survey.get("known", {}).items()
    }
    assert list(job.survey.behind) == survey["behind"]
    assert [o.text for o in job.offcuts] == written.get("rack", {"offcuts": []})["offcuts"]
    assert job.waits_for_pour == written.get("order", {"after_pour": False})["after_pour"]
    if job.order is not None:
        assert job.order.placed is not None
        assert {k: v.text for k, v in job.order.placed.figures.items()} == written["order"]["figures"]
    assert (job.pool is None) == ("pool" not in written)
    if job.pool is not None and job.cover is not None:
        expected: list[Corner] = []
        for item in written["pool"]["water"]:
            if isinstance(item, str):
                expected.append(Corner(item))
            else:
                expected[-1] = Corner(expected[-1].point, 0.006)
        assert list(job.pool.water) == expected
        housing = written["cover"]["housing"]
        assert job.cover.housing == (None if housing == "any" else tuple(housing))
        assert job.cover.side_margin_m == parse(written["cover"]["margins"]["side"], unit).m
        assert job.cover.end_margin_m == 0.0


@settings(max_examples=120, deadline=None, derandomize=True)
@given(jobs(), st.integers(0, 10**6))
def test_what_is_written_reads_back_in_any_layout(written: dict[str, Any], seed: int) -> None:
    chance = random.Random(seed)
    sections = list(written.items())
    chance.shuffle(sections)
    text = tomlkit.dumps(dict(sections))
    check(read_job(text, "x"), written)
    # the same with remarks, blank lines and other line ends thrown in between sections
    loose = text.replace("\n[", "\n\n   # [not a section]\n\n\t[").replace("\n", "\r\n")
    check(read_job(loose, "x"), written)
    lines = loose.split("\r\n")
    for tape in read_job(loose, "x").survey.tapes:
        assert tape.line is not None
        assert tape.length.text.split('"')[0] in lines[tape.line - 1]
