"""Lists of pieces and sticks in CSV: what is read, and every fault with its line."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from sheet_reader import headline, tables, text_of
from stringline.as_json.write import stock_json
from stringline.cli import main
from stringline.faults import Faults
from stringline.job.lists import read_stock
from stringline.lengths import Unit
from stringline.nesting.listed import ListedPlan, cut_listed
from stringline.sheets.stock import listed_sheet
from stringline.sheets.voice import Voice

STICKS = "name,length,count\nstick,5600,\n"


def cut(pieces: str, sticks: str, kerf: str = "0") -> ListedPlan:
    lists = read_stock(pieces, sticks, kerf)
    return cut_listed(lists.pieces, lists.sticks, lists.kerf_m)


def test_bare_numbers_are_millimetres_and_an_empty_count_has_no_end() -> None:
    found = stock_json(cut("name,length,count\na,1380,22\nb,2200,20\n", STICKS))
    assert found["proven"]
    assert found["sticks_used"] == found["bound"]
    assert found["waste_m"] == pytest.approx(found["sticks_used"] * 5.6 - 22 * 1.38 - 20 * 2.2, abs=1e-9)
    assert json.loads(json.dumps(found)) == found
    made = sum(p["times"] * sum(c["count"] for c in p["pieces"]) for p in found["patterns"])
    assert made == 42


def test_lengths_with_units_columns_in_any_order_and_other_marks() -> None:
    pieces = "\ufeffcount;length;name;colour\n# a remark\n\n2;4' 6 1/2\";rail, left;red\n;1.5 m;post;\n"
    found = stock_json(cut(pieces, 'name,length\n"stick, long",20\'\n', kerf='1/8"'))
    parts = {c["name"]: c["length_m"] for p in found["patterns"] for c in p["pieces"]}
    assert parts == pytest.approx({"rail, left": 54.5 * 0.0254, "post": 1.5})
    assert found["patterns"][0]["stick"] == "stick, long"


def test_every_fault_of_both_lists_is_told_with_its_line() -> None:
    pieces = "name,length,count\na,12x,1\n,100,1\nb,0,1\nc,100,-1\nd,100,1.5\ne,9000,1\nf,1,2,3,4\n"
    sticks = "name,length,count\ns,5600,many\nt,5600,\n"
    with pytest.raises(Faults) as caught:
        cut(pieces, sticks, kerf="a bit")
    told = [(f.where, f.line) for f in caught.value.faults]
    assert sorted(told, key=str) == sorted(
        [
            ("pieces.length", 2),
            ("pieces.name", 3),
            ("pieces.length", 4),
            ("pieces.count", 5),
            ("pieces.count", 6),
            ("pieces.length", 7),
            ("pieces", 8),
            ("sticks.count", 2),
            ("kerf", None),
        ],
        key=str,
    )


@pytest.mark.parametrize("text", ["", "\n\n", "# nothing\n", "name,length,count\n", "a,1,2\n", "name,count\na,1\n"])
def test_a_list_without_heading_or_lines_is_refused(text: str) -> None:
    with pytest.raises(Faults):
        cut(text, STICKS)
    with pytest.raises(Faults):
        cut("name,length,count\na,100,1\n", text)


def test_too_few_sticks_are_told_with_what_is_there_and_what_is_needed() -> None:
    with pytest.raises(Faults, match="do-not-suffice"):
        cut("name,length,count\na,100,3\n", "name,length,count\ns,100,2\n")


def test_the_text_says_first_whether_it_is_proven() -> None:
    sheet = listed_sheet(cut("name,length,count\na,1380,4\n", STICKS), Voice(Unit.MM))
    assert sheet.blocks[0] is headline(sheet)
    assert headline(sheet).text == "1 stick, 5600 mm of material: proven, no plan wastes less."
    (row,) = tables(sheet)["patterns"].rows
    assert [text_of(cell) for cell in row] == ["1", "stick 5600 mm", "4 × a 1380 mm", "80 mm"]


def test_nothing_wanted_is_a_plan_of_nothing() -> None:
    found = stock_json(cut("name,length,count\na,100,0\n", STICKS))
    assert (found["sticks_used"], found["proven"], found["waste_m"]) == (0, True, 0.0)


def test_the_command_prints_json_and_nothing_else(tmp_path: Path) -> None:
    (tmp_path / "p.csv").write_text("name,length,count\na,1380,22\nb,1520,25\nc,2200,20\n", encoding="utf-8")
    (tmp_path / "s.csv").write_text(STICKS, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "stringline", "cuts", "--pieces", "p.csv", "--sticks", "s.csv", "--json"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert {"sticks_used", "bound", "proven", "patterns", "waste_m"} <= set(found)
    assert found["proven"]


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_a_text_in_quotes_keeps_the_marks_in_it(mark: str) -> None:
    pieces = f'name{mark}length\n"rail{mark} left"{mark}"1,5 m"\n'
    found = stock_json(cut(pieces, STICKS))
    (piece,) = found["patterns"][0]["pieces"]
    assert piece == {"name": f"rail{mark} left", "length_m": 1.5, "count": 1}


def test_sticks_that_are_all_used_up_are_told() -> None:
    with pytest.raises(Faults, match="no-stick-left"):
        cut("name,length\na,100\n", "name,length,count\ns,5600,0\n")


@pytest.mark.parametrize("seconds", ["0", "-1", "nan"])
def test_no_time_is_told(tmp_path: Path, seconds: str, capsys: pytest.CaptureFixture[str]) -> None:
    for name, text in (("p.csv", "name,length\na,100\n"), ("s.csv", STICKS)):
        (tmp_path / name).write_text(text, encoding="utf-8")
    lists = ["--pieces", str(tmp_path / "p.csv"), "--sticks", str(tmp_path / "s.csv")]
    assert main(["cuts", *lists, "--seconds", seconds]) == 2
    assert "there is no time to look in" in capsys.readouterr().err


def test_faults_of_two_lists_name_both_files_and_say_lengths(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "p.csv").write_text("name,length,count\na,100,3\nb,9000,1\n", encoding="utf-8")
    (tmp_path / "s.csv").write_text(STICKS, encoding="utf-8")
    assert main(["cuts", "--pieces", str(tmp_path / "p.csv"), "--sticks", str(tmp_path / "s.csv")]) == 2
    told = capsys.readouterr().err
    assert "p.csv" in told
    assert "s.csv" in told
    assert "line 3, pieces.length: 'b' is longer than every stick (5600 mm)" in told


def test_a_cell_of_any_length_is_a_fault_and_no_crash() -> None:
    with pytest.raises(Faults) as caught:
        cut(f'name,length\na,"{"9" * 200_000}"\n', STICKS)
    assert [(f.where, f.line) for f in caught.value.faults] == [("pieces.length", 2)]
