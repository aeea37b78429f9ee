"""The fixed contract of the job file and its JSON, held against a second, dense solution written here."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import numpy as np
import pytest
from scipy.optimize import least_squares

from stringline.cli import main
from test_json import SURVEY

SIGMA = 0.002
TRUE = {"A": (0.0, 0.0), "B": (8.0, 0.0), "1059": (0.5, 3.0), "deep end": (7.0, 6.5), "w": (3.0, -2.0)}
NOISE = (0.9, -1.2, 0.4, 1.6, -0.7, -1.9, 1.1, 0.3, -0.8, 1.3, -0.2)
LINES = (
    ("A", "B"), ("A", "1059"), ("B", "1059"), ("A", "deep end"), ("B", "deep end"), ("A", "w"), ("B", "w"),
    ("1059", "deep end"), ("w", "1059"), ("deep end", "w"), ("A", "1059"),
)  # fmt: skip


def reading(k: int) -> float:
    a, b = (np.array(TRUE[n]) for n in LINES[k])
    return round(float(np.hypot(*(a - b))) + 0.001 * NOISE[k], 4)


def job_text(extra: str = "", head: str = 'baseline = ["A", "B"]\nbehind = ["w"]') -> str:
    rows = "\n".join(f'  ["{a}", "{b}", {reading(k)}],' for k, (a, b) in enumerate(LINES))
    return (
        f'[job]\nname = "Contract"\nunit = "m"\nstage = "survey"\n\n[survey]\nsigma = "2 mm"\n{head}\n'
        f"tapes = [\n{rows}\n]\n{extra}"
    )


def survey_of(text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], code: int = 0) -> Any:
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    assert main(["survey", str(path), "--json"]) == code
    return json.loads(capsys.readouterr().out)


def dense() -> dict[str, Any]:
    """Coordinates, covariance, residuals and redundancy by scipy from the same readings, A at 0 and B on x."""
    names = ["1059", "deep end", "w"]

    def places(v: Any) -> dict[str, Any]:
        free = {n: v[1 + 2 * i : 3 + 2 * i] for i, n in enumerate(names)}
        return {"A": np.zeros(2), "B": np.array([v[0], 0.0]), **free}

    def misfit(v: Any) -> Any:
        p = places(v)
        return np.array([np.hypot(*(p[a] - p[b])) - reading(k) for k, (a, b) in enumerate(LINES)]) / SIGMA

    start = np.array([TRUE["B"][0], *(c for n in names for c in TRUE[n])])
    got = least_squares(misfit, start, xtol=1e-15, ftol=1e-15, gtol=1e-15)
    jac = np.asarray(got.jac, dtype=float)
    cov = np.linalg.inv(jac.T @ jac)
    hat = ((jac @ cov) * jac).sum(axis=1)
    return {
        "places": places(got.x),
        "cov": {n: cov[1 + 2 * i : 3 + 2 * i, 1 + 2 * i : 3 + 2 * i] for i, n in enumerate(names)},
        "residual_m": SIGMA * got.fun,
        "redundancy": 1.0 - hat,
        "vtpv": float(got.fun @ got.fun),
    }


def test_every_field_of_the_survey_against_a_dense_solution(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    value, other = survey_of(job_text(), tmp_path, capsys), dense()
    jsonschema.validate(value, SURVEY)
    assert value["freedom"] == len(LINES) - 7
    # Without dimension, and the residuals' own scale: a posteriori. The σ of points are a priori and lack this factor.
    assert value["sigma0"] == pytest.approx((other["vtpv"] / value["freedom"]) ** 0.5, rel=1e-5)
    assert value["global_test"]["statistic"] == pytest.approx(other["vtpv"], rel=1e-5)
    assert value["global_test"]["pass"] is True
    assert set(value["points"]) == set(TRUE)
    for name, p in value["points"].items():
        assert (p["x_m"], p["y_m"]) == pytest.approx(tuple(other["places"][name]), abs=1e-6)
        if name in other["cov"]:
            cov = other["cov"][name]
            assert (p["sx_m"], p["sy_m"]) == pytest.approx(tuple(np.sqrt(np.diag(cov))), rel=1e-3)
            low, high = np.sqrt(np.linalg.eigvalsh(cov))
            assert (p["ellipse"]["minor_m"], p["ellipse"]["major_m"]) == pytest.approx((low, high), rel=1e-3)
            t = p["ellipse"]["angle_rad"]
            axis = np.array([np.cos(t), np.sin(t)])
            assert axis @ cov @ axis == pytest.approx(high**2, rel=1e-3)
    for k, row in enumerate(value["tapes"]):
        assert (row["from"], row["to"]) == LINES[k]
        assert row["read_m"] == pytest.approx(reading(k), abs=1e-12)
        assert row["residual_m"] == pytest.approx(row["adjusted_m"] - row["read_m"], abs=1e-12)
        assert row["residual_m"] == pytest.approx(other["residual_m"][k], abs=1e-6)
        r = other["redundancy"][k]
        assert row["redundancy"] == pytest.approx(r, rel=1e-3)
        assert row["w"] == pytest.approx(row["residual_m"] / (SIGMA * r**0.5), rel=1e-2, abs=1e-3)
        assert row["smallest_slip_m"] == pytest.approx(4.132 * SIGMA / r**0.5, rel=2e-3)


def test_names_are_text_and_a_number_is_none(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "1059" in survey_of(job_text(), tmp_path, capsys)["points"]
    told = survey_of(job_text().replace('"1059"', "1059"), tmp_path, capsys, code=2)
    assert {f["line"] for f in told["faults"]} == {12, 13, 18, 19, 21}


def test_behind_is_to_the_right_of_the_baseline(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert survey_of(job_text(), tmp_path, capsys)["points"]["w"]["y_m"] < -1.9
    mirrored = job_text(head='baseline = ["A", "B"]\nbehind = ["1059", "deep end"]')
    points = survey_of(mirrored, tmp_path, capsys)["points"]
    assert points["w"]["y_m"] > 1.9
    assert points["1059"]["y_m"] < -2.9


def test_a_sketch_in_any_frame_stands_above_behind(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    turned = {n: (round(100 - 3 * y), round(50 + 3 * x)) for n, (x, y) in TRUE.items()}  # a quarter turn, other scale
    sketch = ", ".join(f'"{n}" = [{x}, {y}]' for n, (x, y) in turned.items())
    head = f'baseline = ["A", "B"]\nbehind = ["1059", "deep end"]\nsketch = {{ {sketch} }}'
    assert survey_of(job_text(head=head), tmp_path, capsys)["points"]["w"]["y_m"] < -1.9


def test_known_points_stay_where_they_are(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    head = (
        'known = { A = ["100 m", "200 m"], B = ["100 m", "208 m"] }\n'
        'sketch = { "1059" = [97, 200.5], "deep end" = [93.5, 207], w = [102, 203] }'
    )
    points = survey_of(job_text(head=head), tmp_path, capsys)["points"]
    assert (points["B"]["x_m"], points["B"]["y_m"]) == (100.0, 208.0)
    assert (points["B"]["sx_m"], points["B"]["sy_m"]) == (0.0, 0.0)
    assert points["1059"]["x_m"] == pytest.approx(97.0, abs=0.01)
    assert points["1059"]["y_m"] == pytest.approx(200.5, abs=0.01)


def test_one_line_taped_twice_is_two_readings(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    tapes = survey_of(job_text(), tmp_path, capsys)["tapes"]
    assert [t["read_m"] for t in tapes if {t["from"], t["to"]} == {"A", "1059"}] == [reading(1), reading(10)]


@pytest.mark.parametrize(
    ("row", "wrong"),
    [
        ('["A", "x", "7\' 12 1/2\\""]', "a foot has 12"),
        ('["A", "x", "-7 m"]', ""),
        ('["A", "x", "7\' 3 1/7\\""]', ""),
        ('["A", "x", "7 m"]', "swing"),
    ],
)
def test_what_is_refused_is_refused_with_its_line(
    row: str, wrong: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = job_text().replace("\n]\n", f"\n  {row},\n]\n", 1)
    told = survey_of(text, tmp_path, capsys, code=2)
    line = text[: text.index(row)].count("\n") + 1
    assert [f["line"] for f in told["faults"]] == [line]
    assert wrong in told["faults"][0]["wrong"]


def test_a_slip_holds_the_stage_with_exit_code_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = job_text().replace(f'["w", "1059", {reading(8)}]', f'["w", "1059", {reading(8) + 0.3:.4f}]')
    value = survey_of(text, tmp_path, capsys, code=1)
    first = value["suspects"][0]
    assert (first["from"], first["to"]) == ("w", "1059")
    assert abs(first["expected_m"] - reading(8)) < 4 * first["sigma_m"] + 0.002
    assert first["odds"] > 1


def test_cuts_from_lists(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "p.csv").write_text("name,length,count\nrail,2000 mm,3\n", encoding="utf-8")
    (tmp_path / "s.csv").write_text("name,length,count\nlong,4100 mm,\n", encoding="utf-8")
    args = ["cuts", "--pieces", str(tmp_path / "p.csv"), "--sticks", str(tmp_path / "s.csv"), "--kerf", "3 mm"]
    assert main([*args, "--json"]) == 0
    value = json.loads(capsys.readouterr().out)
    assert (value["schema"], value["sticks_used"], value["bound"], value["proven"]) == (1, 2, 2, True)
    cut = sum(p["times"] * sum(q["length_m"] * q["count"] for q in p["pieces"]) for p in value["patterns"])
    assert cut == pytest.approx(6.0)
    assert value["waste_m"] == pytest.approx(2 * 4.1 - 6.0, abs=1e-9)
