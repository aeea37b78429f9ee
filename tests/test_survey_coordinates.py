"""Coordinates from elsewhere: read from a CSV, adjusted with tapes, and shown in the baseline's frame."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import least_squares

from stringline.faults import Faults
from stringline.finding import code_of, finding, within
from stringline.geometry import Array
from stringline.job.coordinates import DEFAULT_SIGMA_M, parse_coordinates
from stringline.job.model import SurveyInput, TapeConditions
from stringline.job.readings import Coordinate
from stringline.lengths import Unit, metres
from stringline.survey.adjust.frame import to_baseline
from stringline.survey.adjust.least_squares import adjust
from stringline.survey.adjust.tape import correction_m
from stringline.survey.build import build_network
from stringline.survey.run import survey
from taped import make, tape, taped

SQUARE = {"A": (0.0, 0.0), "B": (5.0, 0.0), "1": (0.0, 8.0), "2": (5.0, 8.0)}
BRACED = [("A", "B"), ("A", "1"), ("B", "1"), ("A", "2"), ("B", "2"), ("1", "2")]


def test_a_csv_is_one_point_a_row() -> None:
    text = "# shot on site\nName, Easting, Northing, z, sigma\n\n1, 12.5, -3.25, 99, 2 mm\n1059, 14, 2.0, 99,\n"
    first, second = parse_coordinates(text, Unit.M, "shots.csv")
    assert (first.point, first.x.m, first.y.m, first.sigma_m, first.line) == ("1", 12.5, -3.25, 0.002, 4)
    assert (second.point, second.x.m, second.y.m, second.sigma_m, second.line) == (
        "1059",
        14.0,
        2.0,
        DEFAULT_SIGMA_M,
        5,
    )


def test_a_csv_says_who_read_a_point_when_and_that_it_was_set_aside() -> None:
    text = "name,x,y,id,by,at,device,struck\n1,2,3,k7m,JD,09:40,laser,\n2,2,3,,,,,prism not upright\n"
    first, second = parse_coordinates(text, Unit.M, "shots.csv")
    assert (first.id, first.by, first.at, first.device, first.struck) == ("k7m", "JD", "09:40", "laser", None)
    assert (second.id, second.struck) == (None, "prism not upright")
    (only,) = parse_coordinates("id;x;y\n7;1;2\n", Unit.M, "shots.csv")  # an instrument numbers its points so
    assert (only.point, only.id) == ("7", None)


def test_feet_and_inches_and_decimal_commas() -> None:
    feet = parse_coordinates('name,y,x\nP,3\' 6","12\' 1 1/2"""\n', Unit.FT_IN, "f.csv")
    assert [m for c in feet for m in (c.x.m, c.y.m)] == pytest.approx([145.5 * 0.0254, 42 * 0.0254])
    metric = parse_coordinates("point;x;y\nP;3,5;-1,25\n", Unit.M, "m.csv")
    assert [m for c in metric for m in (c.x.m, c.y.m)] == [3.5, -1.25]


def test_every_fault_of_a_csv_at_once() -> None:
    text = "name,x,y,colour\n1,2,3,red\n2,two,3,red\n,1,1,red\n4,1,1\n5,1,12' 14\",red\n"
    with pytest.raises(Faults) as caught:
        parse_coordinates(text, Unit.M, "bad.csv")
    assert [(f.line, f.code) for f in caught.value.faults] == [
        (1, "csv-column"),
        (3, "length"),
        (4, "csv-name"),
        (5, "csv-cells"),
        (6, "length"),
    ]


@pytest.mark.parametrize("text", ["", "# nothing\n", "name,x\n1,2\n", "name,x,y\n", "x,x,y,name\n1,2,3,4\n"])
def test_what_is_no_table_is_refused(text: str) -> None:
    with pytest.raises(Faults):
        parse_coordinates(text, Unit.M, "bad.csv")


def shots(xy: dict[str, tuple[float, float]], names: str, sigma: float) -> tuple[Coordinate, ...]:
    """Coordinates in a frame turned by 1 rad and moved away from the survey's own."""
    c, s = np.cos(1.0), np.sin(1.0)
    out = []
    for name in names:
        x, y = xy[name]
        out.append(Coordinate(name, metres(200.0 + c * x - s * y), metres(100.0 + s * x + c * y), sigma, 3))
    return tuple(out)


def test_coordinates_with_a_baseline_come_back_in_the_baselines_frame() -> None:
    xy = {**SQUARE, "7": (2.0, -4.0)}
    spec = SurveyInput(taped(SQUARE, BRACED), baseline=("A", "B"), behind=("7",), coordinates=shots(xy, "A127", 0.004))
    found = survey(spec)
    for name, at in xy.items():
        assert found.at(name) == pytest.approx(at, abs=1e-6)
    assert found.points[0].sx_m == found.points[0].sy_m == 0.0
    assert found.points[1].sy_m == 0.0
    assert found.freedom == 6 + 8 - 10


def test_coordinates_that_weigh_nothing_change_nothing() -> None:
    """The same readings held by the baseline, and by far too rough coordinates moved to it: one covariance."""
    made = make(np.random.default_rng(41), 5, 3, 5)
    xy = {n: (float(p[0]), float(p[1])) for n, p in zip(made.names, made.xy, strict=True)}
    held = survey(made.spec)
    rough = survey(replace(made.spec, coordinates=shots(xy, "A12345", 50.0)))
    for name in made.names:
        assert rough.at(name) == pytest.approx(held.at(name), abs=1e-6)
    order = list(made.names)
    assert rough.cov_of(*order) == pytest.approx(held.cov_of(*order), rel=1e-4, abs=1e-10)


def test_the_move_to_the_baseline_is_the_derivative_it_claims() -> None:
    rng = np.random.default_rng(42)
    xy = rng.uniform(0.0, 10.0, (5, 2))
    _, cov = to_baseline(xy, np.eye(10), 1, 3)
    jac = np.zeros((10, 10))
    for k in range(10):
        step = np.zeros(10)
        step[k] = 1e-6
        up, _ = to_baseline(xy + step.reshape(-1, 2), np.eye(10), 1, 3)
        down, _ = to_baseline(xy - step.reshape(-1, 2), np.eye(10), 1, 3)
        jac[:, k] = (up - down).reshape(-1) / 2e-6
    assert cov == pytest.approx(jac @ jac.T, abs=1e-7)


def test_a_general_solver_agrees_with_coordinates() -> None:
    rng = np.random.default_rng(43)
    coordinates = tuple(
        replace(c, x=metres(c.x.m + 0.003 * rng.standard_normal()), y=metres(c.y.m + 0.003 * rng.standard_normal()))
        for c in shots(SQUARE, "AB12", 0.003)
    )
    tapes = tuple(replace(t, length=replace(t.length, m=t.length.m + 0.002)) for t in taped(SQUARE, BRACED))
    net = build_network(SurveyInput(tapes, coordinates=coordinates))
    start = np.array([[c.x.m, c.y.m] for n in net.names for c in coordinates if c.point == n])
    ours = adjust(net, start)

    def residuals(x: Array) -> Array:
        p = x.reshape(-1, 2)
        d = [np.linalg.norm(p[i] - p[j]) for i, j in net.at[: net.tapes, :2]]
        seen = [p[int(a[0]), int(k == 4)] for a, k in zip(net.at[net.tapes :], net.kind[net.tapes :], strict=True)]
        return (np.array([*d, *seen]) - net.value) / net.sigma

    theirs = least_squares(residuals, start.reshape(-1), xtol=1e-15, ftol=1e-15, gtol=1e-15)
    assert ours.xy.reshape(-1) == pytest.approx(theirs.x, abs=1e-8)
    assert ours.f == 6


def test_a_misread_coordinate_does_not_stop_the_survey() -> None:
    coordinates = list(shots(SQUARE, "AB12", 0.003))
    coordinates[2] = replace(coordinates[2], x=metres(coordinates[2].x.m + 1.0))
    found = survey(SurveyInput(taped(SQUARE, BRACED), baseline=("A", "B"), coordinates=tuple(coordinates)))
    assert not found.global_test.pass_
    assert any(finding("survey.x-of", point="1") in within(note) for note in found.notes)


def test_corrections_only_when_asked_for() -> None:
    tapes = (tape("A", "B", 10.0), tape("A", "1", 8.0), tape("B", "1", 8.0))
    plain = survey(SurveyInput(tapes, baseline=("A", "B")))
    assert [t.correction_m for t in plain.tapes] == [0.0, 0.0, 0.0]
    cold = TapeConditions(celsius=-5.0)
    found = survey(SurveyInput(tapes, baseline=("A", "B"), conditions=cold))
    assert found.tapes[0].correction_m == pytest.approx(-25.0 * 11.5e-6 * 10.0, abs=1e-12)
    assert found.at("B")[0] == pytest.approx(10.0 - 0.002875, abs=1e-9)
    assert found.tapes[0].text == plain.tapes[0].text
    assert "survey.corrected" in map(code_of, found.notes)


def test_conditions_that_are_not_given_correct_nothing() -> None:
    assert correction_m(10.0, TapeConditions()) == 0.0
    assert correction_m(10.0, TapeConditions(pull_n=80.0)) == 0.0
    assert correction_m(10.0, TapeConditions(hanging=True, pull_n=50.0)) == 0.0
    assert correction_m(10.0, TapeConditions(pull_n=80.0, area_m2=2e-6)) == pytest.approx(30.0 * 10.0 / (2e-6 * 200e9))
    hung = TapeConditions(hanging=True, pull_n=50.0, weight_n_per_m=0.16)
    assert correction_m(10.0, hung) == pytest.approx(-(0.16**2) * 1000.0 / (24.0 * 2500.0))
