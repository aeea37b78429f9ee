"""Smallest rectangles around points, by area and by width."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from stringline.geometry import hull_of, narrowest_strip
from stringline.layout.search import Found, Goal, smallest

JTS_AREA = [
    # points, published rectangle's corners
    ("(1,2)(3,8)(9,8)", [(9, 8), (1, 2), (-1.16, 4.88), (6.84, 10.88)]),
    ("(5,2)(3,8)(9,8)", [(5, 2), (3, 8), (8.4, 9.8), (10.4, 3.8)]),
    (
        "(150,300)(200,300)(300,300)(300,250)(280,120)(210,100)(100,100)(100,240)",
        [(100, 100), (100, 300), (300, 300), (300, 100)],
    ),
    (
        "(100,100)(200,200)(160,240)",
        [
            (100, 100),
            (160, 240),
            (208.2758620689651, 219.31034482758352),
            (148.2758620689666, 79.31034482758756),
        ],
    ),
    ("(3,8)(6,8)(9,5)(7,3)(3,1)(2,4)", [(0.2, 6.6), (6.6, 9.8), (9.4, 4.2), (3, 1)]),
    (
        "(-5.21175,49.944633)(-5.77435,50.021367)(-5.7997,50.0306)(-5.81815,50.0513)(-5.82625,50.073567)"
        "(-5.83085,50.1173)(-6.2741,56.758767)(-5.93245,57.909)(-5.1158,58.644533)(-5.07915,58.661733)"
        "(-3.42575,58.686633)(-3.1392,58.6685)(-3.12495,58.666233)(-1.88745,57.6444)(1.68845,52.715133)"
        "(1.7057,52.6829)(1.70915,52.6522)(1.7034,52.585433)(1.3867,51.214033)(1.36595,51.190267)"
        "(1.30485,51.121967)(0.96365,50.928567)(0.93025,50.912433)(0.1925,50.7436)",
        [
            (1.8583607388069103, 50.41649058582797),
            (-5.816631979932251, 49.904263313964535),
            (-6.395241388167441, 58.57389735949991),
            (1.2797513305717105, 59.08612463136336),
        ],
    ),
]


def _points(text: str) -> np.ndarray:
    return np.array([[float(c) for c in pair.split(",")] for pair in text.strip("()").split(")(")])


def _least(points: np.ndarray, low: float = 0.0, by: str = "area") -> Found:
    found = smallest(hull_of(points), low, low + math.pi / 2, Goal(0.0, 0.0, by))
    assert found is not None
    return found


def _area(corners: list[tuple[float, float]]) -> float:
    p = np.array(corners)
    return math.dist(p[0], p[1]) * math.dist(p[1], p[2])


@pytest.mark.parametrize(("text", "corners"), JTS_AREA)
def test_area_of_jts_rectangles(text: str, corners: list[tuple[float, float]]) -> None:
    """Source: JTS Topology Suite, MinimumAreaRectangleTest (2022), published corners — verified; area to 1e-9."""
    points = _points(text)
    want = _area(corners)
    assert _least(points).value == pytest.approx(want, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "area"),
    [
        ("(1,2)(3,8)(9,8)", 36.0),
        ("(3,8)(6,8)(9,5)(7,3)(3,1)(2,4)", 44.8),
        ("(1,1)(1,5)(3,6)(4,2)(5,5)", 20.0),
        ("(1,1)(15,1)(5,9)", 112.0),
    ],
)
def test_area_of_shapely_rectangles(text: str, area: float) -> None:
    """Source: Shapely, tests of minimum_rotated_rectangle and oriented_envelope — verified; area to 1e-12.

    The last triangle has two orientations of one and the same area; either is right.
    """
    points = _points(text)
    assert _least(points, -0.3).value == pytest.approx(area, rel=1e-12)


def test_area_of_rotating_calipers_example() -> None:
    """Source: RotatingCalipers (Java), README example — verified: area 160 000, to 1e-9."""
    points = np.array([[-300, -150], [200, 200], [100, -100], [-400, 0]], dtype=float)
    assert _least(points).value == pytest.approx(160_000.0, rel=1e-9)


def test_width_differs_from_area() -> None:
    """Source: JTS MinimumAreaRectangleTest, "not minimum diameter" — verified: least area 40 000 is not least width.

    The width of those points is less than the side of the smallest rectangle; both are found, each by its own goal.
    """
    points = _points(JTS_AREA[2][0])
    found = smallest(hull_of(points), 0.0, math.pi, Goal(0.0, 0.0, "width"))
    assert found is not None
    assert found.value == found.width_m
    assert found.width_m < 200.0 - 1.0
    assert found.width_m == pytest.approx(narrowest_strip(points).width, rel=1e-12)


def test_bent_line_by_width() -> None:
    """Source: GEOS, C API test of MinimumRotatedRectangle, case 5 — verified: corners (1,2)(3,8)(9,6)(7,0)."""
    points = np.array([[1, 2], [3, 8], [9, 6]], dtype=float)
    want = _area([(1, 2), (3, 8), (9, 6), (7, 0)])
    assert _least(points).value == pytest.approx(want, rel=1e-12)


@pytest.mark.parametrize("seed", range(20))
def test_area_against_shapely(seed: int) -> None:
    """Source: second judge, shapely.oriented_envelope on random points; area to 1e-9."""
    rng = np.random.default_rng(seed)
    points = rng.normal(0, 1, (int(rng.integers(3, 30)), 2)) * [7.0, 3.0]
    want = shapely.oriented_envelope(shapely.MultiPoint(points)).area
    assert _least(points).value == pytest.approx(want, rel=1e-9)
