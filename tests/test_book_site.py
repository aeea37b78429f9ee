"""Sheets of the site: what to tape, levels, ends side by side, tracks put right."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from stringline.book.pages import book_data
from stringline.book.pdf import pdf
from stringline.job.read import read_job
from stringline.plan import Plan, plan
from stringline.system.read import load_system
from test_plan_site import LEVELS, SKETCHED, job

DAY = datetime.date(2026, 5, 4)


def planned(text: str) -> Plan:
    read = read_job(text, "job")
    return plan(read, load_system(read.system) if read.system else None)


def sheets(text: str) -> dict[str, dict[str, Any]]:
    return {s.get("key", s["kind"]): s for s in book_data(planned(text), paper="a4", today=DAY)["sheets"]}


def test_a_sketched_pool_gets_a_sheet_to_fill_in() -> None:
    text = SKETCHED.replace("sketch", 'baseline = ["A", "B"]\nsketch')
    whole = planned(text)
    data = book_data(whole, paper="a4", today=DAY)
    assert [s.get("key", s["kind"]) for s in data["sheets"]] == ["today", "taping", "sources"]
    assert data["sheets"][0]["blocks"][0]["verdict"] == "fail"
    sheet = data["sheets"][1]
    assert whole.taping is not None
    assert len(sheet["lines"]) == len(whole.taping.plan.lines)
    numbers = {str(n) for n in range(1, len(sheet["lines"]) + 1)}
    assert all(f">{n}<" in sheet["picture"]["svg"] for n in numbers)
    assert pdf(data, today=DAY).startswith(b"%PDF")


def test_ends_stand_in_columns_with_a_reason_each() -> None:
    sheet = sheets(job())["ends"]
    assert [e["says"] for e in sheet["ends"]] == ["taken", "fits", "fits", "fits"]
    assert all(e["why"] for e in sheet["ends"])
    assert all(len(r["cells"]) == 4 for r in sheet["rows"])
    assert sheet["ends"][2]["verdict"] == "watch"
    assert "Wider than the catalogue allows." in sheet["ends"][2]["why"]


@pytest.mark.parametrize("unit", ["m", "ft-in"])
def test_levels_have_their_sheet(unit: str) -> None:
    rods = ", ".join(f'["{name}", "{rod:.3f} m"]' for name, rod in LEVELS.items())
    text = job(survey=f'levels = [{rods}]\nhousing_floor = {{ points = [["f", "1.000 m"]], drain = "d" }}')
    sheet = sheets(text.replace('unit = "m"', f'unit = "{unit}"'))["levels"]
    tables = {b["key"]: b["rows"] for b in sheet["blocks"] if b["block"] == "table"}
    assert [row[0]["text"] for row in tables["heights"]] == list(LEVELS)
    assert tables["heights"][0][2] == "datum"
    assert "(1 in 50)" in next(row[1]["text"] for row in tables["falls"] if "drain" in row[0])


def test_tracks_out_of_form_get_a_sheet_to_tick_off() -> None:
    built = '[as_built]\ngauge = [["0 m", "5.300 m"], ["3 m", "5.280 m"], ["6 m", "5.300 m"]]\nsigma = "0.5 mm"'
    sheet = sheets(job(housing='["1", "4"]', stage="fit-out", more=built))["remedy"]
    assert sheet["out"]
    assert {m["station"] for m in sheet["ways"][0]["moves"]} == {"3.000 m"}
    assert {e["part"] for e in sheet["as_is"]} == {"cover", "leading edge", "drum"}
