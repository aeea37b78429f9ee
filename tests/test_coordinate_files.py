"""A job that names a list of coordinates beside it: read from the job's folder, every fault with its line."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path

import pytest

from stringline.cli import main
from stringline.faults import Faults
from stringline.job.read import read_job

JOB = """
[job]
name = "Listed (invented)"
unit = "m"

[survey]
coordinates = "points.csv"
coordinate_sigma = "4 mm"

[pool]
water = ["1", "2", "3", "4"]
"""
CSV = "name,x,y\n1,1.0,2.0\n2,11.0,2.003\n3,11.0,7\n4,1.0,7.001\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    (tmp_path / "points.csv").write_text(CSV, encoding="utf-8")
    return tmp_path


def test_a_list_beside_the_job_is_read(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["survey", str(folder / "job.toml"), "--json"])
    points = json.loads(capsys.readouterr().out)["points"]
    assert points["3"]["x_m"] == pytest.approx(11.0)
    assert points["2"]["y_m"] == pytest.approx(2.003)
    assert points["4"]["sx_m"] == pytest.approx(0.004)


def test_on_standard_input_the_list_is_looked_for_here(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(folder)
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(JOB.encode())))
    main(["survey", "-", "--json"])
    assert set(json.loads(capsys.readouterr().out)["points"]) == {"1", "2", "3", "4"}


def test_faults_in_the_list_carry_its_lines(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "points.csv").write_text(CSV.replace("1,1.0,2.0", "1,1.0,north").replace("4,1.0", ",1.0"), "utf-8")
    assert main(["plan", str(folder / "job.toml"), "--json"]) == 2
    faults = json.loads(capsys.readouterr().out)["faults"]
    assert [f["line"] for f in faults] == [7, 7]
    assert ["line 2 of points.csv" in f["wrong"] or "line 5 of points.csv" in f["wrong"] for f in faults] == [True] * 2


def test_a_missing_list_is_one_fault(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "points.csv").unlink()
    assert main(["survey", str(folder / "job.toml"), "--json"]) == 2
    faults = json.loads(capsys.readouterr().out)["faults"]
    assert [f["code"] for f in faults] == ["no-file"]
    assert "points.csv" in faults[0]["wrong"]


def test_a_job_without_its_folder_cannot_reach_a_file() -> None:
    with pytest.raises(Faults) as caught:
        read_job(JOB, "job")
    assert [f.code for f in caught.value.faults] == ["no-file"]
    assert caught.value.faults[0].line == 7
