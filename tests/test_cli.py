"""The command line as a person meets it: verbs, exit codes, standard input, and faults."""

import io
import json
import subprocess
import sys
from pathlib import Path

import pytest

from stringline.cli import main

BENNING = """
[job]
name = "Benning"
unit = "m"
stage = "survey"

[survey]
sigma = "10 mm"
known = { 1 = ["0 m", "1000 m"], 2 = ["1000 m", "1000 m"] }
tapes = [
  ["1", "3", 1000.02],
  ["1", "4", 1414.20],
  ["2", "3", 1414.24],
  ["2", "4", 999.98],
  ["3", "4", 1000.00],
]
sketch = { 1 = [0, 10], 2 = [10, 10], 3 = [0, 0], 4 = [10, 0] }
"""


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(BENNING, encoding="utf-8")
    return path


def test_survey_prints_the_contracted_json(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["survey", str(job), "--json"]) == 0
    value = json.loads(capsys.readouterr().out)
    assert value["schema"] == 1
    assert value["freedom"] == 1
    assert value["points"]["4"]["x_m"] == pytest.approx(999.9930, abs=5e-5)
    assert value["points"]["4"]["y_m"] == pytest.approx(0.0174, abs=5e-5)
    assert value["sigma0"] == pytest.approx(0.6882, abs=5e-5)
    first = value["tapes"][0]
    assert first["from"] == "1"
    assert first["to"] == "3"
    assert first["residual_m"] == pytest.approx(first["adjusted_m"] - first["read_m"], abs=1e-12)
    assert first["redundancy"] == pytest.approx(0.143, abs=5e-4)


def test_a_job_on_standard_input_reads_the_same(
    job: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    main(["survey", str(job), "--json"])
    from_file = json.loads(capsys.readouterr().out)
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(BENNING.encode())))
    assert main(["survey", "-", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == from_file


def test_a_missing_file_is_one_clear_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["survey", str(tmp_path / "none.toml")]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "no such file" in printed.err


def test_faults_come_as_json_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text(BENNING.replace("1000.02", '"-3 m"').replace('"m"', '"furlong"'), encoding="utf-8")
    assert main(["plan", str(bad), "--json"]) == 2
    value = json.loads(capsys.readouterr().out)
    assert {f["line"] for f in value["faults"]} >= {4, 11}
    assert all(f["wrong"] and f["right"] for f in value["faults"])


def test_new_writes_a_file_that_reads_and_never_overwrites(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "tern-cottage.toml"
    assert main(["new", str(path)]) == 0
    text = path.read_text(encoding="utf-8")
    assert "Tern Cottage" in text
    # A fresh file has nothing wrong with it but that nothing has been taped yet.
    assert main(["survey", str(path), "--json"]) == 2
    printed = capsys.readouterr().out
    faults = json.loads(printed[printed.index("{") :])["faults"]
    assert [f["where"] for f in faults] == ["survey.tapes"]
    assert main(["new", str(path)]) == 2
    assert path.read_text(encoding="utf-8") == text
    assert "there already" in capsys.readouterr().err


def test_an_unknown_verb_ends_with_two(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fly"]) == 2
    assert "no verb 'fly'" in capsys.readouterr().err
    assert main(["survvey", "job.toml"]) == 2
    assert "write survey if that is meant" in capsys.readouterr().err
    assert main(["survey", "job.toml", "--jsn"]) == 2
    assert "stringline --help" in capsys.readouterr().err


def test_systems_lists_an_invented_catalogue(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["systems"]) == 0
    assert "invented-18" in capsys.readouterr().out
    assert main(["systems", "invented-18", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["invented"] is True


def test_a_template_catalogue_left_unfilled_names_every_gap(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["systems", "--template"]) == 0
    path = tmp_path / "ours.toml"
    path.write_text(capsys.readouterr().out, encoding="utf-8")
    assert main(["systems", str(path), "--json"]) == 2
    faults = json.loads(capsys.readouterr().out)["faults"]
    gaps = [f for f in faults if "to be filled in" in f["wrong"]]
    lines = path.read_text(encoding="utf-8").splitlines()
    assert len(gaps) > 50
    assert len({f["line"] for f in gaps}) == len(gaps)
    assert all(f["where"].split(".")[-1].split("_m")[0][:5] in lines[f["line"] - 1] for f in gaps)


def test_sources_say_how_far_they_were_seen(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sources", "--json"]) == 0
    listed = json.loads(capsys.readouterr().out)["sources"]
    assert {"practice, no source", "from memory"} <= {s["standing"] for s in listed}
    assert main(["sources", "nobody"]) == 2


def test_help_imports_nothing_heavy() -> None:
    code = (
        "import sys\n"
        "from stringline.cli import build_parser\n"
        "build_parser().format_help()\n"
        "print(sorted(set(sys.modules) & {'numpy', 'scipy', 'ezdxf', 'typst', 'shapely', 'tomlkit', 'segno'}))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize(
    "sketch",
    [
        "{ 1 = [0, 10], 2 = [10, 10], 3 = [0, 0], 4 = [10, 0] }",  # a frame of its own
        "{ 3 = [50, -40], 4 = [900, 100] }",  # rough places of two points in the frame of the control
    ],
)
def test_a_sketch_picks_the_mirror_image(sketch: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "job.toml"
    head = BENNING[: BENNING.index("sketch")]
    path.write_text(head + f"sketch = {sketch}\n", encoding="utf-8")
    assert main(["survey", str(path), "--json"]) == 0
    points = json.loads(capsys.readouterr().out)["points"]
    assert points["3"]["y_m"] == pytest.approx(-0.0226, abs=5e-5)
    path.write_text(head, encoding="utf-8")
    assert main(["survey", str(path), "--json"]) == 2
    assert "mirror" in {f["code"] for f in json.loads(capsys.readouterr().out)["faults"]}
