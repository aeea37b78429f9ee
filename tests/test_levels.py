"""Levels: rod readings to heights, falls, twist and flatness, each against a second route."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from pools import outline
from spoken import refused
from stringline.finding import code_of, finding
from stringline.geometry import Array
from stringline.job.model import SurveyInput
from stringline.job.readings import Level, Tape
from stringline.lengths import Unit, parse
from stringline.sheets.voice import Voice
from stringline.survey.levels.falls import fall, floor_fall, levels_of, twist
from stringline.survey.levels.heights import ROD_SIGMA_M, rod_heights
from stringline.survey.levels.planes import best_plane, minimum_zone
from stringline.survey.run import survey


def read(*readings: tuple[str, str], setup: str | None = None) -> tuple[Level, ...]:
    return tuple(Level(point, parse(text, Unit.MM), setup=setup) for point, text in readings)


RECTANGLE = {"1": (0.0, 0.0), "2": (10.0, 0.0), "3": (10.0, 5.0), "4": (0.0, 5.0)}


def test_a_larger_rod_reading_is_lower() -> None:
    heights = rod_heights(read(("1", "1500"), ("2", "1520"), ("3", "1490")))
    assert heights.names == ("1", "2", "3")
    np.testing.assert_allclose(heights.height_m, [0.0, -0.020, 0.010], atol=1e-12)
    assert heights.freedom == 0
    drop = fall(heights, "3", "2")
    assert drop.value == pytest.approx(0.030)
    assert drop.sigma == pytest.approx(math.sqrt(2) * ROD_SIGMA_M)


def test_two_set_ups_are_tied_by_points_read_from_both() -> None:
    first = read(("1", "1500"), ("2", "1520"), ("3", "1504"), setup="a")
    second = read(("2", "1320"), ("3", "1304"), ("4", "1310"), setup="b")
    heights = rod_heights(first + second)
    assert heights.at("4") == pytest.approx(-0.010)
    assert heights.freedom == 1
    with refused("nothing ties the height of 5"):
        rod_heights(read(("1", "1500"), ("2", "1520"), setup="a") + read(("5", "1310"), setup="b"))


def test_an_instrument_that_moved_is_noticed() -> None:
    same = levels_of(read(("1", "1500"), ("2", "1520"), ("3", "1510"), ("4", "1490"), ("1", "1501")), RECTANGLE)
    assert same.notes == ()
    moved = levels_of(read(("1", "1500"), ("2", "1520"), ("3", "1510"), ("4", "1490"), ("1", "1512")), RECTANGLE)
    assert code_of(moved.notes[0]) == "levels.contradicted"
    assert "about 12 mm: read 1 again" in Voice(Unit.MM).say(moved.notes[0])
    alone = levels_of(read(("1", "1500"), ("2", "1520"), ("3", "1510"), ("4", "1490")), RECTANGLE)
    assert alone.notes == ("levels.nothing-spare",)


def tilted(sx: float, sy: float, twist_m: float = 0.0) -> tuple[Level, ...]:
    """Rods on a plane that rises sx along x and sy along y, its corner 4 lifted by twist_m."""
    made = []
    for name, (x, y) in RECTANGLE.items():
        h = sx * x + sy * y + (twist_m if name == "4" else 0.0)
        made.append((name, f"{1000 * (1.5 - h):.4f}"))
    return read(*made)


def test_falls_of_a_tilted_plane() -> None:
    got = levels_of(tilted(-0.002, 0.001), RECTANGLE, heading_rad=0.0)
    assert got.fall_along is not None
    assert got.fall_across is not None
    assert got.fall_along.value == pytest.approx(0.020)
    assert got.fall_across.value == pytest.approx(0.005)  # to the right of x is −y, where it is lower
    turned = levels_of(tilted(-0.002, 0.001), RECTANGLE, heading_rad=math.pi / 2)
    assert turned.fall_along is not None
    assert turned.fall_along.value == pytest.approx(-0.005)
    assert got.flatness is not None
    assert got.flatness.value == pytest.approx(0.0, abs=1e-6)


def test_twist_and_flatness_of_one_lifted_corner() -> None:
    got = levels_of(tilted(0.001, 0.0, twist_m=0.012), RECTANGLE)
    assert got.twist is not None
    assert got.twist.value == pytest.approx(0.012)
    assert got.twist.sigma == pytest.approx(2 * ROD_SIGMA_M)
    assert got.flatness is not None
    assert got.flatness.value == pytest.approx(0.006)  # half the twist: the zone is shared by both diagonals
    assert got.flatness.sigma == pytest.approx(ROD_SIGMA_M)
    assert got.out_of_plane is not None
    assert got.out_of_plane.value == pytest.approx(0.006)


def test_a_floor_that_falls_to_its_drain_and_one_that_holds_water() -> None:
    at = {"drain": (0.0, 0.0), "a": (2.0, 0.0), "b": (0.0, 1.0)}
    good = floor_fall(
        rod_heights(read(("drain", "1600"), ("a", "1570"), ("b", "1590"))), ["a", "b", "drain"], "drain", at
    )
    assert good.value == pytest.approx(0.010)
    assert good.label == finding("levels.floor-fall", point="b")
    assert good.sigma == pytest.approx(math.sqrt(2) * ROD_SIGMA_M)
    wet = floor_fall(rod_heights(read(("drain", "1600"), ("a", "1606"), ("b", "1590"))), ["a", "b"], "drain", at)
    assert wet.value == pytest.approx(-0.003)


def test_twist_of_any_four_corners_is_the_height_above_three() -> None:
    at = {"1": (0.0, 0.0), "2": (9.0, 1.0), "3": (8.0, 6.0), "4": (-1.0, 5.0)}
    rods = [("1", "1500"), ("2", "1480"), ("3", "1512"), ("4", "1490")]
    heights = rod_heights(read(*rods))
    three = np.array([[1.0, *at[n]] for n in "123"])
    plane = np.linalg.solve(three, np.array([heights.at(n) for n in "123"]))
    assert twist(heights, "1234", at).value == pytest.approx(heights.at("4") - np.array([1.0, *at["4"]]) @ plane)


def test_four_points_with_three_in_line_have_a_plane_and_no_twist() -> None:
    at = {"1": (0.0, 0.0), "2": (4.0, 0.0), "3": (8.0, 0.0), "4": (0.0, 5.0)}
    got = levels_of(read(("1", "1500"), ("2", "1510"), ("3", "1520"), ("4", "1500"), ("1", "1500")), at)
    assert got.twist is None
    assert got.flatness is not None
    assert got.notes == (finding("levels.no-twist", why=finding("levels.corners-in-line")),)


def flat_by_linear_program(xy: Array, h: Array) -> float:
    n = len(h)
    A = np.column_stack([np.ones(n), xy])
    one = np.ones((n, 1))
    found = linprog([0, 0, 0, 2.0], A_ub=np.block([[A, -one], [-A, -one]]), b_ub=np.r_[h, -h],
                    bounds=[(None, None)] * 3 + [(0, None)], method="highs")  # fmt: skip
    return float(found.fun or 0.0)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.integers(0, 10**6), st.integers(4, 40))
def test_flatness_agrees_with_a_linear_program(seed: int, n: int) -> None:
    """Points round a pool, many of them in line on its sides; up to 30 by every four, above by the deciding ones."""
    rng = np.random.default_rng(seed)
    xy = outline(rng, n)
    h = 0.01 * rng.standard_normal(n)
    zone = minimum_zone(xy, h)
    assert zone.width_m == pytest.approx(flat_by_linear_program(xy, h), abs=1e-9)
    assert float(zone.row @ h) == pytest.approx(zone.width_m, abs=1e-12)
    off = h - xy @ np.array(zone.slope)
    assert np.ptp(off) == pytest.approx(zone.width_m, abs=1e-9)


def test_best_plane_agrees_with_lstsq_and_its_covariance_with_sampling() -> None:
    rng = np.random.default_rng(4)
    xy = outline(rng, 9)
    cov = np.diag(rng.uniform(1, 3, 9) * 1e-6)
    h = 0.002 * xy[:, 0] - 0.001 * xy[:, 1] + 0.3
    plane = best_plane(xy, h, cov)
    np.testing.assert_allclose(plane.slope, [0.002, -0.001], atol=1e-12)
    np.testing.assert_allclose(plane.off, 0.0, atol=1e-12)
    assert plane.at(0.0, 0.0) == pytest.approx(0.3)
    many = h + rng.multivariate_normal(np.zeros(9), cov, 4000)
    slopes = np.array([best_plane(xy, x, cov).slope for x in many])
    np.testing.assert_allclose(np.cov(slopes.T), plane.cov[1:, 1:], rtol=0.15, atol=1e-10)


@pytest.mark.parametrize("points", [{"1": (0.0, 0.0), "2": (1.0, 0.0)}, {n: (float(n), 0.0) for n in "1234"}])
def test_points_in_one_line_have_heights_and_nothing_else(points: dict[str, tuple[float, float]]) -> None:
    got = levels_of(read(*((n, "1500") for n in points)), points)
    assert got.flatness is None
    why = "levels.plane-points" if len(points) == 2 else "levels.plane-line"
    assert got.notes[-1] == finding("levels.no-falls", why=finding(why))


def test_refusals() -> None:
    with refused("no rod readings"):
        rod_heights(())
    with refused("'9' has no rod reading"):
        rod_heights(read(("1", "1500")), datum="9")
    with pytest.raises(ValueError, match="floor-without-points"):
        floor_fall(rod_heights(read(("d", "1500"))), ["d"], "d", {"d": (0, 0)})
    with pytest.raises(ValueError, match="four corners"):
        twist(rod_heights(read(("1", "1"), ("2", "1"))), "12", RECTANGLE)


def test_a_survey_carries_its_levels() -> None:
    lines = [
        ("A", "B", "4 m"),
        ("A", "1", "3 m"),
        ("B", "1", "5 m"),
        ("A", "2", "5 m"),
        ("B", "2", "3 m"),
        ("1", "2", "4 m"),
    ]
    tapes = tuple(Tape(a, b, parse(text, Unit.M)) for a, b, text in lines)
    rods = read(("A", "1500"), ("B", "1510"), ("1", "1500"), ("2", "1510"), ("A", "1500"))
    got = survey(SurveyInput(tapes, baseline=("A", "B"), levels=rods))
    assert got.levels is not None
    assert got.levels.flatness is not None
    assert got.levels.flatness.value == pytest.approx(0.0, abs=1e-9)
    assert survey(SurveyInput(tapes, baseline=("A", "B"))).levels is None
