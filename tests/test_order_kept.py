"""An order that went out: kept in the job, held against later readings, and shown as text and JSON."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest

from spoken import refused
from stringline.cli import main
from stringline.demo import demo_job_text
from stringline.job.edit_order import order_block, place_order
from stringline.lengths import Unit, format_length, parse

RECORD = {"date": "2026-05-04", "mark": "abc123", "figures": {"cover_width": "18' 11\"", "drum": "18' 5\""}}


def demo(tmp_path: Path, *, stage: str = "order", built: bool = False, slip: bool = False) -> Path:
    """The demo's job as it was at a stage, without its planted slip unless that is asked for."""
    text = demo_job_text()
    if not slip:
        text = text.replace('["2", "4", "40\' 9\\""]', '["2", "4", "40\' 3\\""]')
    if not built:
        text = text[: text.index("# After the pour")]
    path = tmp_path / "job.toml"
    path.write_text(text.replace('stage = "fit-out"', f'stage = "{stage}"'), encoding="utf-8")
    return path


def run(capsys: pytest.CaptureFixture[str], *args: object) -> tuple[int, str]:
    code = main([str(a) for a in args])
    return code, capsys.readouterr().out


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_an_order_is_written_beside_costs_and_comments_and_nothing_else_changes(ends: str) -> None:
    text = ends.join(
        ["# ours", "[job]", 'name = "x"  # short', "[order]  # money", "day_cost = 3 # a day", "[rack]", ""]
    )
    after = place_order(text, RECORD)
    assert all(line in after.split(ends) for line in ("# ours", 'name = "x"  # short', "day_cost = 3 # a day"))
    assert tomllib.loads(after)["order"] == {"day_cost": 3, **RECORD}
    assert ("\r\n" in after) is (ends == "\r\n")


def test_an_order_is_never_overwritten_and_a_new_one_keeps_the_old() -> None:
    once = place_order('[job]\nname = "x"\n', RECORD)
    with refused("went out already"):
        place_order(once, RECORD)
    new = {**RECORD, "date": "2026-06-01", "mark": "def456"}
    twice = tomllib.loads(place_order(once, new, again=True))["order"]
    assert twice == {**new, "earlier": [RECORD]}
    thrice = tomllib.loads(place_order(place_order(once, new, again=True), RECORD, again=True))["order"]
    assert thrice["earlier"] == [RECORD, new]


def test_the_block_to_paste_is_the_record() -> None:
    assert tomllib.loads(order_block(RECORD)) == {"order": RECORD}


def test_placing_and_a_later_reading_that_changes_the_order(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = demo(tmp_path)
    code, out = run(capsys, "order", job)
    assert code == 0
    assert f"paste this into the job, or: `stringline order {job} --place`." in out  # a command is never folded
    assert run(capsys, "order", job, "--place", "--date", "2026-05-04")[0] == 0
    code, out = run(capsys, "order", job, "--json")
    found = json.loads(out)
    assert code == 0
    assert found["placed"]["date"] == "2026-05-04"
    assert found["placed"]["mark"] == found["record"]["mark"]
    assert found["difference"]["changed_since_order"] is False
    # The far corner is taped again, and the pool is longer than it was thought.
    text = job.read_text(encoding="utf-8")
    was = found["record"]["figures"]["cover_length"]
    less = format_length(parse(was, Unit.FT_IN).m - 0.0762, Unit.FT_IN)
    longer = text.replace(f'cover_length = "{_in_toml(was)}"', f'cover_length = "{_in_toml(less)}"')
    assert longer != text
    job.write_text(longer, encoding="utf-8")
    code, out = run(capsys, "plan", job)
    assert code == 0
    assert (
        'THE ORDER HAS CHANGED since it went out: cover length +3" (of the 6" that the wraps on the drum'
        in " ".join(out.split())
    )
    job.write_text(text.replace("cover_width = \"18'", "cover_width = \"17'"), encoding="utf-8")
    code, out = run(capsys, "plan", job)
    assert code == 1
    assert "order again cover width" in " ".join(out.split())


def test_a_held_order_is_not_written_unless_it_went_out_all_the_same(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = demo(tmp_path, slip=True)
    before = job.read_text(encoding="utf-8")
    code, out = run(capsys, "order", job, "--place")
    assert code == 1
    assert "HOLD" in out
    assert "cannot tell" in out
    assert job.read_text(encoding="utf-8") == before
    assert run(capsys, "order", job, "--place", "--anyway")[0] == 1
    assert "[order]" in job.read_text(encoding="utf-8")


@pytest.mark.parametrize("args", [("-", "--place"), ("job.toml", "--date", "4.5.2026")])
def test_orders_that_cannot_be_kept_are_refused(args: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["order", *args]) == 2


def test_readiness_stands_in_the_plan_and_costs_price_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = demo(tmp_path)
    code, out = run(capsys, "plan", job, "--json")
    found = json.loads(out)
    assert code == 0
    check = next(c for c in found["checks"] if c["code"] == "order-ready")
    assert (check["verdict"], check["limit"]["low"]) == ("pass", 0.95)
    keys = [c["key"] for c in found["ready"]["choices"]]
    assert (keys[0], keys[-1]) == ("now", "wait")
    assert all(c["cost"] is None for c in found["ready"]["choices"])
    with job.open("a", encoding="utf-8") as f:
        f.write("\n[order]\nwrong_order_cost = 9000\nday_cost = 400\ndays_to_wait = 10\n")
    found = json.loads(run(capsys, "plan", job, "--json")[1])
    costs = {c["key"]: c["cost"]["value"] for c in found["ready"]["choices"]}
    assert costs["wait"] == pytest.approx(4000.0, abs=1.0)
    assert costs["now"] < 100.0


def test_a_survey_that_contradicts_itself_cannot_tell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "plan", demo(tmp_path, slip=True), "--json")
    check = next(c for c in json.loads(out)["checks"] if c["code"] == "order-ready")
    assert code == 1
    assert check["verdict"] == "cannot tell"
    assert "again" in check["action"]


def test_a_changed_gauge_as_built_makes_a_difference_page(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = demo(tmp_path, stage="fit-out", built=True)
    text = job.read_text(encoding="utf-8").replace("18' 9\\\"", "18' 9 1/2\\\"")
    job.write_text(text, encoding="utf-8")
    code, out = run(capsys, "difference", job, "--json")
    found = json.loads(out)["difference"]
    assert code == 0
    lines = {x["key"]: x for x in found["lines"]}
    assert lines["drum"]["does"] == "take up"
    assert {"T-L", "T-R"} <= {r["mark"] for r in found["reissued"]}
    text = run(capsys, "difference", job)[1]
    assert "VOID" in text
    assert "Take up: " in text


def test_an_order_that_waits_for_the_pour_is_held_until_it_is_measured(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = demo(tmp_path)
    with job.open("a", encoding="utf-8") as f:
        f.write("\n[order]\nafter_pour = true\n")
    code, out = run(capsys, "order", job)
    assert code == 1
    assert "waits for the pour" in out
    job = demo(tmp_path, stage="fit-out", built=True)
    with job.open("a", encoding="utf-8") as f:
        f.write("\n[order]\nafter_pour = true\n")
    code, out = run(capsys, "order", job)
    assert code == 0
    assert "As-built readings after the pour" in out


def _in_toml(text: str) -> str:
    return text.replace('"', '\\"')
