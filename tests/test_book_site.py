"""Sheets of the site: what to tape, levels, ends side by side, tracks put right."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from book_makers import full
from sheet_reader import bullets, column, said, tables, text_of
from stringline.book.blocks import blocks_data
from stringline.book.pages import book_data
from stringline.book.pages_pictures import CORNER
from stringline.book.pdf import pdf
from stringline.finding import finding
from stringline.form.correction import Remedy
from stringline.form.result import Fit
from stringline.job.read import read_job
from stringline.judging import Verdict
from stringline.layout.result import Layout
from stringline.lengths import Unit
from stringline.plan import Plan, plan
from stringline.sheets.ends import ends_sheet
from stringline.sheets.layout import layout_sheet
from stringline.sheets.model import Cautions, Cell, Notice
from stringline.sheets.remedy import remedy_sheet
from stringline.sheets.taping import taping_sheet
from stringline.sheets.voice import Voice
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
    (picture,) = (b["picture"] for b in sheet["blocks"] if b["block"] == "picture")
    lines = tables(taping_sheet(whole.taping, Voice(whole.job.unit)))["lines"]
    assert column(lines, 1) == [f"{x.frm}–{x.to}" for x in whole.taping.plan.lines]
    assert all(isinstance(row[4], Cell) and row[4].blank for row in lines.rows)
    assert lines.spare
    assert all(f">{n}<" in picture["svg"] for n in column(lines))
    assert pdf(data, today=DAY).startswith(b"%PDF")


def test_ends_stand_below_each_other_and_each_that_lost_has_a_reason() -> None:
    sheet = ends_sheet(planned(job()).ends, Voice(Unit.M))
    found = tables(sheet)
    ends = found["ends"].rows
    assert [row[0].notes[0] for row in ends if isinstance(row[0], Cell)] == ["taken", "fits", "fits", "fits"]
    assert all(text_of(cell).endswith((" m", " m²")) for row in ends for cell in row[1:])
    assert [row[0].verdict for row in ends if isinstance(row[0], Cell)] == [
        Verdict.PASS,
        None,
        Verdict.WATCH,
        Verdict.WATCH,
    ]
    reasons = column(found["reasons"], 1)
    assert len(reasons) == 3
    assert all(reasons)
    assert "It is wider than the catalogue allows." in reasons[1]
    assert sheets(job())["ends"]["joins"]


def test_the_layout_shows_its_plan_first_then_what_fixes_it() -> None:
    made = planned(job())
    assert isinstance(made.layout, Layout)
    sheet = layout_sheet(made.layout, None, Voice(Unit.M))
    found = tables(sheet)
    gauge, spread = found["figures"].rows[0][1:]
    assert isinstance(gauge, Cell)
    assert gauge.value == pytest.approx(made.layout.gauge.value)
    assert spread == Voice(Unit.M).spread(made.layout.gauge.sigma)
    assert column(found["figures"])[-2:] == ["Water, area", "Water, perimeter"]
    assert "form" not in found
    assert made.layout.water_sigma is not None
    worst = Voice(Unit.M).tolerance(2.0 * float(made.layout.water_sigma.max()))
    assert f"to ± {worst} where worst" in bullets(sheet)[0]
    page = sheets(job())["layout"]
    assert page["kind"] == "plan"
    assert page["column"] in (0.0, CORNER)
    assert page["blocks"][0]["picture"]["title"] == "Plan"
    assert "lay a rule on the scale bar" in page["blocks"][1]["text"]


def test_the_tracks_form_stands_with_the_layout_station_by_station() -> None:
    plan = full()
    assert isinstance(plan.layout, Layout)
    assert isinstance(plan.fit, Fit)
    sheet = layout_sheet(plan.layout, plan.fit, Voice(plan.job.unit))
    rows = tables(sheet)["gauge"].rows
    assert [row[1].value for row in rows if isinstance(row[1], Cell)] == [g.gauge.value for g in plan.fit.gauge]
    known = (plan.fit.straight_left, plan.fit.straight_right, plan.fit.parallel, plan.fit.square, plan.fit.diagonals)
    assert len(tables(sheet)["form"].rows) == sum(f is not None for f in known)
    assert f"from the {plan.fit.basis} readings" in said(sheet)


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
    made = planned(job(housing='["1", "4"]', stage="fit-out", more=built)).remedy
    assert made is not None
    sheet = remedy_sheet(made, Voice(Unit.M))
    assert sheet is not None
    found = tables(sheet)
    assert "Not safely within limits: " in said(sheet)
    assert set(column(found["moves-1"], 2)) == {"3.000 m"}
    assert all(isinstance(row[0], Cell) and row[0].tick for row in found["moves-1"].rows)
    assert column(found["as-is"], 1) == ["cover", "leading edge", "drum"]
    assert any(isinstance(b, Cautions) for b in sheet.blocks)
    data = blocks_data(sheet.blocks, {}, "remedy")
    assert data[-1]["names"] == ["Moved by", "Measured again by", "Date"]


def test_a_housing_out_of_square_is_told_though_the_tracks_keep_their_limits() -> None:
    turned = finding("form.not-square", side="left", by_m=0.02)
    sheet = remedy_sheet(Remedy((), (), (), (turned,)), Voice(Unit.M))
    assert sheet is not None
    notice = sheet.blocks[0]
    assert isinstance(notice, Notice)
    assert notice.verdict is Verdict.WATCH
    assert "0.020 m too far ahead" in bullets(sheet)[0]
    assert any(isinstance(b, Cautions) for b in sheet.blocks)
    assert remedy_sheet(Remedy((), (), (), ()), Voice(Unit.M)) is None
