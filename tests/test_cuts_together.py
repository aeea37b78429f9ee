"""Several jobs cut together from the command line, and the firm's rack as a list."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringline.as_json.write import rack_json
from stringline.cli import main
from stringline.cutting.rack import rack_after
from stringline.demo import demo_job_text
from stringline.faults import Faults
from stringline.job.lists import RackPiece, read_rack
from stringline.lengths import Unit
from stringline.sheets.voice import Voice
from stringline.tables.csv_tables import RACK_COLUMNS, rack_csv

RACK = "label;length;count\n;7' 3\";2\n# a remark\nA9;4' 2 1/2\";\n"


def jobs(folder: Path) -> list[str]:
    """Two jobs at the stage of ordering, without the demo's planted slip."""
    text = demo_job_text().replace('["2", "4", "40\' 9\\""]', '["2", "4", "40\' 3\\""]')
    text = text[: text.index("# After the pour")].replace('"fit-out"', '"order"')
    found = []
    for name in ("Tern", "Plover"):
        path = folder / f"{name}.toml"
        path.write_text(text.replace("Tern Cottage", f"{name} Cottage"), encoding="utf-8")
        found.append(str(path))
    return found


def test_jobs_share_sticks_and_the_rack_is_written_as_it_is_afterwards(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rack = tmp_path / "rack.csv"
    rack.write_text(RACK, encoding="utf-8")
    assert main(["cuts", *jobs(tmp_path), "--rack", str(rack), "--rack-out", str(rack), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["jobs"] == ["Tern Cottage (invented)", "Plover Cottage (invented)"]
    (track,) = found["tracks"]
    assert len(track["runs"]) == 4
    assert track["bound_m"] <= track["bought_m"]
    for run in track["runs"]:
        assert sum(run["whole_m"]) + run["last_m"] == pytest.approx(run["length_m"], abs=1e-6)
    labels = {p["label"] for p in found["rack"]["after"]}
    assert {p["label"] for p in found["rack"]["take"]} <= {"R1", "R2", "A9"}
    assert labels == ({"R1", "R2", "A9"} - {p["label"] for p in found["rack"]["take"]}) | {
        p["label"] for p in found["rack"]["back"]
    }
    read = read_rack(rack.read_text(encoding="utf-8"), "rack", Unit.FT_IN)
    assert {p.label for p in read} == labels


def test_text_names_the_pieces_to_take_and_who_is_held(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    first, second = jobs(tmp_path)
    text = Path(second).read_text(encoding="utf-8").replace("40' 3", "40' 9")
    Path(second).write_text(text, encoding="utf-8")
    rack = tmp_path / "rack.csv"
    rack.write_text(RACK, encoding="utf-8")
    assert main(["cuts", first, second, "--rack", str(rack)]) == 1
    out = capsys.readouterr().out
    assert "from the pulley to the housing:" in out
    assert "The rack afterwards: " in out
    assert out.index("HOLD Plover Cottage (invented): survey-misread") < out.index(": buy ")
    assert rack.read_text(encoding="utf-8") == RACK


@pytest.mark.parametrize(
    ("extra", "told"),
    [
        (("nowhere.toml",), "nowhere.toml"),
        (("--seconds", "nan"), "no time"),
        (("--rack", "nowhere.csv"), "no such file"),
        (("--rack-out", "no/such/folder/rack.csv"), "no such folder"),
    ],
)
def test_bad_input_is_told_and_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], extra: tuple[str, ...], told: str
) -> None:
    assert main(["cuts", *jobs(tmp_path), *extra]) == 2
    assert told in capsys.readouterr().err


def test_every_fault_of_a_rack_is_told_with_its_line() -> None:
    text = "label,length\nx,0\n=1,3 ft\ny,foo\nx,4 ft\nx,5 ft\nz,1 ft,2,p,q\n"
    with pytest.raises(Faults) as caught:
        read_rack(text, "rack.csv", Unit.FT_IN)
    found = [(f.code, f.line) for f in caught.value.faults]
    assert ("zero-length", 2) in found
    assert ("bad-name", 3) in found
    assert ("length", 4) in found
    assert ("csv-cells", 7) in found
    assert ("name-twice", None) in found


@pytest.mark.parametrize("text", ["", "\n", "name,size\na,1 m\n"])
def test_a_list_that_is_no_rack_is_refused(text: str) -> None:
    with pytest.raises(Faults):
        read_rack(text, "rack.csv", Unit.MM)


@given(st.lists(st.integers(min_value=300, max_value=6000), max_size=12))
@settings(max_examples=30, deadline=None, derandomize=True)
def test_a_rack_reads_back_as_it_was_written(lengths: list[int]) -> None:
    text = ",".join(RACK_COLUMNS) + "\n" + "".join(f",{n} mm,,\n" for n in lengths)
    rack = read_rack(text, "rack.csv", Unit.MM) if lengths else ()
    again = read_rack(rack_csv(rack, Voice(Unit.MM)), "rack.csv", Unit.MM) if lengths else ()
    assert sorted(again, key=lambda p: p.label) == sorted(rack, key=lambda p: p.label)


def test_what_comes_back_gets_labels_that_were_never_given_and_is_written_down_not_up() -> None:
    rack = (RackPiece("R7", 2.0, "2 m"), RackPiece("A", 1.0, "1 m"))
    after, fresh = rack_after(rack, ["R7"], {"p": [0.7399, 1.5]})
    assert [p.label for p in fresh] == ["R8", "R9"]
    written = csv.DictReader(io.StringIO(rack_csv(after, Voice(Unit.MM))))
    assert {row["label"]: row["length"] for row in written} == {"A": "1 m", "R8": "1500 mm", "R9": "739 mm"}
    assert [row["text"] for row in rack_json(fresh, Unit.FT)] == ["4.920 ft", "2.425 ft"]
    assert [p.label for p in after] == ["A", "R8", "R9"]
