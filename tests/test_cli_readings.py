"""Taking a reading again without an editor: a new one is added, an old one is set aside, and nothing is overwritten."""

from __future__ import annotations

import difflib
import json
import re
from pathlib import Path

import pytest

from stringline.cli import main
from stringline.demo import demo_job_text
from stringline.job.read import read_job_file


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(demo_job_text(), encoding="utf-8")
    return path


def lost(before: str, after: str) -> list[str]:
    return [line for line in difflib.ndiff(before.splitlines(), after.splitlines()) if line.startswith("- ")]


def suspect(job: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, str]:
    main(["survey", str(job), "--json"])
    (found,) = json.loads(capsys.readouterr().out)["suspects"]
    assert isinstance(found, dict)
    return found


def test_taped_again_and_set_aside_the_demo_holds_no_more(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The whole way out of a misread tape: named, taped again, set aside, no longer contradicted."""
    wrong = suspect(job, capsys)
    again = f"{float(wrong['expected_m']):.3f}m"
    old = job.read_text(encoding="utf-8")
    assert main(["tape", str(job), wrong["from"], wrong["to"], again, "--by", "RH", "--device", "tape 2"]) == 0
    printed = capsys.readouterr().out
    assert again in printed
    assert "taped before" in printed
    assert lost(old, job.read_text(encoding="utf-8")) == []
    tapes = read_job_file(job).survey.tapes
    assert (tapes[-1].a, tapes[-1].b, tapes[-1].by, tapes[-1].device) == (wrong["from"], wrong["to"], "RH", "tape 2")
    assert tapes[-1].at is not None
    first = next(t for t in tapes if {t.a, t.b} == {wrong["from"], wrong["to"]})
    assert f"--line {first.line} " in printed
    why = ["--line", str(first.line), "--reason", "read the wrong foot mark"]
    assert main(["strike", str(job), wrong["to"], wrong["from"], *why]) == 0
    assert "still counts as" in capsys.readouterr().out
    main(["survey", str(job), "--json"])
    assert json.loads(capsys.readouterr().out)["suspects"] == []
    assert first.length.text in job.read_text(encoding="utf-8").replace('\\"', '"')


def test_which_of_two_is_asked(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["tape", str(job), "A", "B", "24-0"])
    old = job.read_text(encoding="utf-8")
    capsys.readouterr()
    assert main(["strike", str(job), "A", "B", "--reason", "why"]) == 2
    assert "--line" in capsys.readouterr().err
    assert job.read_text(encoding="utf-8") == old


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["A", "1", "7ft", "13in"], "a foot has 12"),
        (["A", "1", "7.28"], "could be feet or inches"),
        (["A", "A", "7ft"], "the new reading"),
        (["A", "1", "-7ft"], ""),
    ],
)
def test_a_reading_that_cannot_be_is_refused(
    words: list[str], told: str, job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    old = job.read_text(encoding="utf-8")
    assert main(["tape", str(job), *words]) == 2
    err = capsys.readouterr().err
    assert told in err
    assert " line " not in err.split("\n", 1)[1]
    assert job.read_text(encoding="utf-8") == old


def test_a_new_name_is_remarked_on(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tape", str(job), "A", "l", "12-3"]) == 0
    assert "l is in no tape before" in capsys.readouterr().out


def test_faults_elsewhere_keep_no_reading_out(job: Path) -> None:
    job.write_text(job.read_text(encoding="utf-8").replace('stage = "', 'stage = "never'), encoding="utf-8")
    assert main(["tape", str(job), "A", "1", "12-3"]) == 0
    assert '"12-3"' in job.read_text(encoding="utf-8")


def test_json(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tape", str(job), "A", "B", "24-0", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert set(told["added"]) == {"line", "id", "from", "to", "read"}
    assert (told["added"]["from"], told["added"]["to"], told["added"]["read"]) == ("A", "B", "24-0")
    assert len(told["also_count"]) == 1
    line = str(told["added"]["line"])
    assert main(["strike", str(job), "A", "B", "--line", line, "--reason", "no", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["struck"]["read"] == "24-0"
    assert main(["strike", str(job), "A", "nobody", "--reason", "no", "--json"]) == 2
    assert json.loads(capsys.readouterr().out)["faults"][0]["code"] == "no-such-reading"


def test_nothing_is_written_into_standard_input(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tape", "-", "A", "B", "24-0"]) == 2
    assert main(["strike", "-", "A", "B", "--reason", "x"]) == 2


def test_windows_line_ends_stay(job: Path) -> None:
    job.write_bytes(demo_job_text().replace("\n", "\r\n").encode())
    assert main(["tape", str(job), "A", "B", "24-0"]) == 0
    raw = job.read_bytes()
    assert raw.count(b"\n") == raw.count(b"\r\n")


def test_what_was_added_is_set_aside_by_its_id(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tape", str(job), "A", "B", "24-0", "--by", "RH", "--json"]) == 0
    given = json.loads(capsys.readouterr().out)["added"]["id"]
    assert re.fullmatch(r"[34679acdefhjkmnprtwxy]{5}", given)
    assert read_job_file(job).survey.tapes[-1].id == given
    main(["tape", str(job), "A", "B", "24-1"])
    printed = capsys.readouterr().out
    assert f'stringline strike {job} {given} --reason "why"' in printed  # of the one before, which counts too
    assert main(["strike", str(job), given, "--reason", "hooked on the wrong nail"]) == 0
    assert "A–B 24-0 (hooked on the wrong nail)" in capsys.readouterr().out
    struck = [t for t in read_job_file(job).survey.tapes if t.struck is not None]
    assert [(t.id, t.struck) for t in struck] == [(given, "hooked on the wrong nail")]
    assert main(["strike", str(job), given, "--reason", "again"]) == 2
    assert "set aside already: hooked on the wrong nail" in capsys.readouterr().err


def test_a_reading_of_any_kind_is_set_aside_by_its_id(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    old = '[job]\nunit = "ft-in"\n[survey]\nbaseline = ["A", "B"]\ntapes = [["A", "B", "24-0"]]\n[as_built]\n'
    built_rows = 'gauge = [["0", "18-3", { id = "g1" }]]\nchannel = { left = ["36-2", { id = "c1" }] }\n'
    job.write_text(old + built_rows, encoding="utf-8")
    assert main(["strike", str(job), "c1", "--reason", "tape caught"]) == 0
    assert "as built 36-2 (tape caught)" in capsys.readouterr().out
    assert main(["strike", str(job), "g1", "--reason", "tape caught", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)["struck"]
    assert (told["id"], told["kind"], told["items"]) == ("g1", "built-at", ["0", "18-3"])
    built = read_job_file(job).as_built
    assert built is not None
    assert [r.struck for r in built.readings] == ["tape caught", "tape caught"]
    assert job.read_text(encoding="utf-8").startswith(old)


def test_an_id_that_nobody_has(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["strike", str(job), "nope", "--reason", "why"]) == 2
    assert "no reading has an id yet" in capsys.readouterr().err
    main(["tape", str(job), "A", "B", "24-0"])
    (given,) = [t.id for t in read_job_file(job).survey.tapes if t.id is not None]
    capsys.readouterr()
    assert main(["strike", str(job), "nope", "--reason", "why"]) == 2
    assert f"write one of {given}" in capsys.readouterr().err
