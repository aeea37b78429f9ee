"""What a site has reaches the plan: ends side by side, levels, tracks as built, a pool not taped yet."""

from __future__ import annotations

import io
import itertools
import json
import math
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from stringline.cli import main

POINTS = {"A": (0.0, 0.0), "B": (12.0, 0.0), "1": (1.0, 2.0), "2": (11.0, 2.0), "3": (11.0, 7.0), "4": (1.0, 7.0)}
LEVELS = {"1": 1.500, "2": 1.520, "3": 1.526, "4": 1.506, "f": 2.310, "d": 2.330}


def job(
    points: Mapping[str, tuple[float, float]] = POINTS,
    *,
    stage: str = "layout",
    survey: str = "",
    pool: str = "",
    housing: str = '"any"',
    more: str = "",
) -> str:
    """A job in metres whose tapes are true to the millimetre."""
    rows = "".join(
        f'  ["{a}", "{b}", "{math.dist(points[a], points[b]):.3f} m"],\n' for a, b in itertools.combinations(points, 2)
    )
    return f"""
[job]
name = "Site (invented)"
unit = "m"
stage = "{stage}"
system = "invented-18"
invented = true

[survey]
baseline = ["A", "B"]
tapes = [
{rows}]
{survey}

[pool]
water = ["1", "2", "3", "4"]
{pool}

[cover]
mount = "on-deck"
housing = {housing}
drive_side = "left"
margins = {{ side = "0.15 m", end = "0.3 m" }}
{more}
"""


def run(text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], *args: str) -> tuple[int, str]:
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    code = main([args[0], str(path), *args[1:]])
    return code, capsys.readouterr().out


def test_every_end_stands_beside_the_one_taken(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(job(), tmp_path, capsys, "plan", "--json")
    assert code == 0
    value = json.loads(out)
    ends = value["ends"]
    assert [e["chosen"] for e in ends] == [True, False, False, False]
    assert ends[0]["gauge"]["value"] == pytest.approx(value["layout"]["gauge"]["value"])
    # 5 m of water and two margins across, less what the drum's ends take
    assert ends[0]["drum"]["value"] < ends[0]["gauge"]["value"] == pytest.approx(5.3, abs=0.01)
    # from a long side the cover is twice as wide as the catalogue goes, and that is said
    assert ends[2]["beyond"] == ["wider than the catalogue allows"]
    assert "more" in ends[2]["why"]
    _, text = run(job(), tmp_path, capsys, "plan")
    assert "Ends compared" in text
    assert "wider than the catalogue allows" in " ".join(text.split())


def test_the_water_has_area_perimeter_and_a_band(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, out = run(job(), tmp_path, capsys, "plan", "--json")
    layout = json.loads(out)["layout"]
    assert layout["water_area"]["value"] == pytest.approx(50.0, abs=0.05)
    assert layout["water_perimeter"]["value"] == pytest.approx(30.0, abs=0.01)
    assert 0.0 < layout["edge"]["least_sigma_m"] <= layout["edge"]["worst_sigma_m"] < 0.01


def test_a_cover_that_fits_nowhere_holds_the_layout_and_names_what_blocks(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    around = {"w1": (0.6, 1.0), "w2": (0.6, 8.0), "w3": (11.4, 8.0), "w4": (11.4, 1.0)}
    walls = (
        'obstacles = [{ name = "boulder", points = ["w1", "w2"], kind = "rock" }, '
        '{ name = "ledge", points = ["w3", "w4"], kind = "rock" }, '
        '{ name = "back", points = ["w2", "w3"], kind = "rock" }, '
        '{ name = "front", points = ["w1", "w4"], kind = "rock" }]'
    )
    text = job({**POINTS, **around}, pool=walls)
    code, out = run(text, tmp_path, capsys, "plan", "--json")
    assert code == 1
    value = json.loads(out)
    assert "layout-fits" in value["held"]
    assert "needs" in value["layout"]
    said = next(c["action"] for c in value["checks"] if c["code"] == "layout-fits")
    assert "boulder is in the way" in said
    assert all(not e["fits"] and "does not fit" in e["why"] for e in value["ends"])
    # at the survey stage the same pool holds nothing yet
    code, out = run(text.replace('"layout"', '"survey"'), tmp_path, capsys, "plan", "--json")
    assert code == 0


def test_levels_fall_along_the_cover_and_the_floor_to_its_drain(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rods = ", ".join(f'["{name}", "{rod:.3f} m"]' for name, rod in LEVELS.items())
    survey = f'levels = [{rods}, ["1", "1.500 m"]]\nhousing_floor = {{ points = [["f", "1.000 m"]], drain = "d" }}'
    text = job(survey=survey, housing='["1", "4"]', stage="rough-in")
    code, out = run(text, tmp_path, capsys, "plan", "--json")
    value = json.loads(out)
    levels = value["levels"]
    assert levels["along"] == "cover"
    # from 1–4 over the water it falls 20 mm, and across, to the right (from 4 to 1), 6 mm upwards
    assert levels["fall_along"]["value"] == pytest.approx(0.020, abs=1e-6)
    assert levels["fall_across"]["value"] == pytest.approx(-0.006, abs=1e-6)
    assert levels["twist"]["value"] == pytest.approx(0.0, abs=1e-6)
    assert levels["floor"]["value"] == pytest.approx(0.020)
    floor = next(c for c in value["checks"] if c["code"] == "floor-drains")
    assert floor["limit"]["low"] > 0.0
    assert floor["limit"]["low"] + 2 * floor["figure"]["sigma"] < 0.020
    assert floor["verdict"] == "pass"
    assert (code == 1) == bool(value["held"])
    _, said = run(text, tmp_path, capsys, "plan")
    assert "Fall along" in said
    assert "(1 in 50)" in said
    _, out = run(text, tmp_path, capsys, "survey", "--json")
    assert json.loads(out)["levels"]["along"] == "points"


def test_a_floor_that_falls_the_wrong_way_holds_the_rough_in(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rods = ", ".join(f'["{name}", "{rod:.3f} m"]' for name, rod in {**LEVELS, "f": 2.36}.items())
    survey = f'levels = [{rods}]\nhousing_floor = {{ points = [["f", "1.000 m"]], drain = "d" }}'
    code, out = run(job(survey=survey, stage="rough-in"), tmp_path, capsys, "plan", "--json")
    assert code == 1
    assert "floor-drains" in json.loads(out)["held"]


def test_a_floor_point_without_a_rod_reading_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    survey = 'levels = [["d", "2.330 m"]]\nhousing_floor = { points = ["f"], drain = "d" }'
    code, out = run(job(survey=survey), tmp_path, capsys, "plan", "--json")
    assert code == 2
    assert [f["code"] for f in json.loads(out)["faults"]] == ["no-levels"]


def test_tracks_out_of_form_get_their_least_correction(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, out = run(job(housing='["1", "4"]'), tmp_path, capsys, "plan", "--json")
    laid_out = json.loads(out)["layout"]["gauge"]["value"]
    gauges = [laid_out, laid_out - 0.012, laid_out, laid_out]
    rows = ", ".join(f'["{3 * k} m", "{g:.4f} m"]' for k, g in enumerate(gauges))
    bent = '["0 m", "0 m"], ["3 m", "0.012 m"], ["6 m", "0 m"], ["9 m", "0 m"]'
    built = f'[as_built]\ngauge = [{rows}]\noffsets = {{ left = [{bent}] }}\nsigma = "0.5 mm"'
    text = job(housing='["1", "4"]', stage="fit-out", more=built)
    code, out = run(text, tmp_path, capsys, "plan", "--json")
    assert code == 1
    value = json.loads(out)
    moves = value["remedy"]["ways"][0]["moves"]
    assert [(m["side"], m["station_m"]) for m in moves if abs(m["figure"]["value"]) > 0.003] == [("left", 3.0)]
    assert moves[0]["figure"]["value"] < 0.0  # it stands 12 mm too far to the right
    said = next(c["action"] for c in value["checks"] if c["code"] == "fit-straight-left")
    assert "left track at 3.000 m" in said
    _, told = run(text, tmp_path, capsys, "plan")
    assert "Tracks as built" in told


SKETCHED = """
[job]
name = "Sketched (invented)"
unit = "m"

[survey]
tape_length = "20 m"
sketch = { 1 = [1, 2], 2 = [11, 2], 3 = [11, 7], 4 = [1, 7], m = [6, 7.2] }
"""


@pytest.mark.parametrize("verb", ["survey", "plan"])
def test_a_sketched_pool_gets_a_taping_plan(verb: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = SKETCHED.replace("sketch", 'baseline = ["A", "B"]\nsketch')
    code, out = run(text, tmp_path, capsys, verb, "--json")
    assert code == 1  # nobody has taped: that holds the stage
    value = json.loads(out)
    taping = value["taping"]
    assert {c["code"] for c in value["checks"]} == {"survey-taped"}
    assert len(taping["lines"]) >= 2 * 5 - 3
    assert taping["worst_m"] <= taping["two_point_worst_m"]
    assert max(x["about_m"] for x in taping["lines"]) <= 20.0
    if verb == "survey":
        assert value["points"] == {}
        assert value["next_tapes"][0]["expected_m"] == taping["lines"][0]["about_m"]
    _, said = run(text, tmp_path, capsys, verb)
    assert "What to tape" in said


def test_a_sketch_on_standard_input_is_read_once(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    text = SKETCHED.replace("sketch", 'baseline = ["A", "B"]\nsketch')
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode())))
    assert main(["survey", "-", "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["taping"]["lines"]


@pytest.mark.parametrize("verb", ["cuts", "lead", "diagnose"])
def test_verbs_that_need_more_say_what_is_missing(
    verb: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = SKETCHED.replace("sketch", 'baseline = ["A", "B"]\nsketch')
    _, out = run(text, tmp_path, capsys, verb)
    assert "the survey first" in out


def test_the_taping_verb_takes_another_tape(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = SKETCHED.replace("sketch", 'baseline = ["A", "B"]\nsketch')
    code, out = run(text, tmp_path, capsys, "taping", "--tape", "12.5 m", "--json")
    assert code == 0
    assert json.loads(out)["tape_m"] == 12.5
    code, _ = run(text, tmp_path, capsys, "taping", "--tape", "2 m")
    assert code == 2
    code, _ = run(text, tmp_path, capsys, "taping", "--tape", "long")
    assert code == 2


def test_without_a_sketch_there_is_nothing_to_plan_from(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = '[job]\nname = "Bare"\nunit = "m"\n[survey]\nbaseline = ["A", "B"]\n'
    assert run(text, tmp_path, capsys, "survey")[0] == 2
    assert run(text, tmp_path, capsys, "taping")[0] == 2


def test_no_line_is_advised_through_a_wall(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pairs = [("A", "B"), *((a, p) for a in "AB" for p in "1234")]
    tapes = ", ".join(f'["{a}", "{b}", "{math.dist(POINTS[a], POINTS[b]):.3f} m"]' for a, b in pairs)
    text = f'[job]\nname = "Walled"\nunit = "m"\n[survey]\nbaseline = ["A", "B"]\ntapes = [{tapes}]\n'

    def advised(extra: str) -> list[set[str]]:
        _, out = run(text + extra, tmp_path, capsys, "survey", "--json")
        return [{n["from"], n["to"]} for n in json.loads(out)["next_tapes"]]

    first = advised("")[0]
    a, b = sorted(first)
    assert first not in advised(f'blocked = [["{b}", "{a}"]]\n')
    # and none longer than the tape
    assert all(math.dist(*(POINTS[p] for p in pair)) <= 6.0 for pair in advised('tape_length = "6 m"\n'))
    sketched = SKETCHED.replace("sketch", 'baseline = ["A", "B"]\nblocked = [["1", "3"], ["2", "4"]]\nsketch')
    _, out = run(sketched, tmp_path, capsys, "taping", "--json")
    planned = [{x["from"], x["to"]} for x in json.loads(out)["lines"]]
    assert {"1", "3"} not in planned
    assert {"2", "4"} not in planned


@pytest.mark.parametrize("pair", ['["1"]', '["1", "1"]', '"1"'])
def test_a_blocked_line_is_a_pair(pair: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(job(survey=f"blocked = [{pair}]"), tmp_path, capsys, "survey")[0] == 2


def test_offsets_and_coordinates_stand_among_the_readings(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = job(survey='offsets = [["A", "B", "1 m", "2 m", "1"], ["A", "B", "", "7.300 m", "3"]]')
    _, out = run(text, tmp_path, capsys, "survey", "--json")
    others = json.loads(out)["others"]
    assert [(o["what"], o["points"][-1]) for o in others] == [("station", "1"), ("offset", "1"), ("offset", "3")]
    assert all(o["residual_m"] == pytest.approx(o["adjusted_m"] - o["read_m"]) for o in others)
    # 3 stands 7 m off the line, and the tapes say so
    assert max(others, key=lambda o: abs(o["w"]))["read_m"] == pytest.approx(7.3)
    _, said = run(text, tmp_path, capsys, "survey")
    assert "3 off A–B, offset" in said


def test_coordinates_alone_are_told_what_to_tape(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = ", ".join(f'["{p}", "{x} m", "{y} m"]' for p, (x, y) in POINTS.items())
    text = f'[job]\nname = "Listed"\nunit = "m"\n[survey]\ncoordinate_sigma = "4 mm"\ncoordinates = [{rows}]\n'
    code, out = run(text, tmp_path, capsys, "survey", "--json")
    assert code == 1
    value = json.loads(out)
    assert len(value["next_tapes"]) == 3
    assert len(value["others"]) == 12


def test_a_checked_survey_says_that_taping_may_stop(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, out = run(job(), tmp_path, capsys, "survey")
    assert "Tape next: nothing." in out


def test_an_unchecked_offset_is_not_passed_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = job({**POINTS}, survey='offsets = [["A", "B", "6 m", "8 m", "m"]]')
    _, out = run(text, tmp_path, capsys, "survey", "--json")
    value = json.loads(out)
    controlled = next(c for c in value["checks"] if c["code"] == "survey-controlled")
    assert controlled["verdict"] == "fail"
    assert "m off A–B" in controlled["figure"]["label"]
    assert any("m" in (n["from"], n["to"]) for n in value["next_tapes"])
