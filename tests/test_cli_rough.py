"""Rough handling of the command line: full disks, closed pipes, files for folders, a hand on Ctrl-C."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from stringline.cli import main
from stringline.demo import demo_job_text
from stringline.faults import Faults

STRINGLINE = [sys.executable, "-m", "stringline"]


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(demo_job_text(), encoding="utf-8")
    return path


@pytest.mark.parametrize("verb", ["book", "demo"])
def test_a_file_where_a_folder_is_wanted(
    verb: str, job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").write_text("not a folder")
    args = [verb, *([str(job)] if verb == "book" else []), "--out"]
    for place in ("file", "file/below"):
        assert main([*args, str(tmp_path / place)]) == 2
        assert "cannot be read or written" in capsys.readouterr().err
    assert (tmp_path / "file").read_text() == "not a folder"


def test_such_faults_come_as_json_too(job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("")
    assert main(["book", str(job), "--json", "--out", str(tmp_path / "file")]) == 2
    assert json.loads(capsys.readouterr().out)["faults"][0]["code"] == "not-written"
    assert main(["survey", "--json"]) == 2
    assert json.loads(capsys.readouterr().out)["faults"][0]["code"] == "usage"


def test_a_reader_that_goes_away_is_no_fault(job: Path) -> None:
    with subprocess.Popen(
        [*STRINGLINE, "plan", "--json", str(job)], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as child:
        assert child.stdout is not None
        assert child.stderr is not None
        child.stdout.close()
        assert child.stderr.read() == b""
        assert child.wait() == 0


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs the device that is always full")
def test_output_that_cannot_be_written_is_told(job: Path) -> None:
    with Path("/dev/full").open("w") as full:
        done = subprocess.run([*STRINGLINE, "survey", str(job)], stdout=full, stderr=subprocess.PIPE, check=False)
    assert done.returncode == 2
    assert b"no space left" in done.stderr
    assert b"Traceback" not in done.stderr


def test_a_run_stopped_by_hand_ends_with_130(
    job: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("stringline.cli.jobs.plan_of", stopped)
    assert main(["plan", str(job)]) == 130
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "stopped" in printed.err


def test_a_terminal_without_our_signs_shows_something_else(job: Path) -> None:
    done = subprocess.run(
        [*STRINGLINE, "survey", str(job)],
        env={**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"},
        capture_output=True,
        check=False,
    )
    assert done.returncode == 1
    assert b"RE-TAPE" in done.stdout
    assert b"Traceback" not in done.stderr


def test_what_is_printed_into_a_pipe_has_no_colour(job: Path) -> None:
    done = subprocess.run([*STRINGLINE, "plan", str(job)], capture_output=True, check=False)
    assert b"\x1b" not in done.stdout + done.stderr


def test_odd_file_names(job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("w\u00f6rk $(x) 'q'.toml", "-- a;b.toml", "\U0001f3ca.toml"):
        odd = tmp_path / name
        shutil.copy(job, odd)
        assert main(["survey", str(odd)]) == 1
        assert "Tern Cottage" in capsys.readouterr().out


def test_faults_that_the_parser_finds_are_faults_like_any_other() -> None:
    from stringline.cli import build_parser

    with pytest.raises(Faults, match="command line"):
        build_parser().parse_args(["book", "x.toml", "--paper", "foolscap"])
