"""The water's edge: lines, rounded corners, bows and smooth curves."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from scipy.integrate import quad
from scipy.interpolate import CubicSpline
from scipy.special import ellipe

from pools_around import place
from spoken import wrong
from stringline.faults import Faults
from stringline.finding import Finding, finding
from stringline.geometry import Line
from stringline.job.model import Corner, Pool
from stringline.layout.curve import ClosedCurve, knots_of
from stringline.layout.measure import area_figure, band, perimeter_figure
from stringline.layout.outline import outline_of
from stringline.lengths import Unit
from surveyed import pool_of, surveyed

BOX = {"1": (0.0, 0.0), "2": (10.0, 0.0), "3": (10.0, 5.0), "4": (0.0, 5.0)}


def _codes(pool: Pool, points: dict[str, tuple[float, float]]) -> list[str]:
    with pytest.raises(Faults) as raised:
        outline_of(pool, surveyed(points))
    return [f.code for f in raised.value.faults]


def test_rounded_box_has_the_area_and_the_length_of_the_handbook() -> None:
    r = 0.75
    for names in ("1234", "4321"):
        water = outline_of(pool_of(*names, radius=r), surveyed(BOX))
        assert water.area == pytest.approx(50.0 - (4 - math.pi) * r**2, rel=1e-12)
        assert water.perimeter == pytest.approx(30.0 - 8 * r + math.tau * r, rel=1e-12)
        assert water.support(math.pi / 4) == pytest.approx((10 - r + 5 - r) / math.sqrt(2) + r, rel=1e-12)
        assert water.support(0.0) == pytest.approx(10.0, rel=1e-12)


def test_inward_corner_is_rounded_outward() -> None:
    ell = {"1": (0.0, 0.0), "2": (8.0, 0.0), "3": (8.0, 4.0), "4": (4.0, 4.0), "5": (4.0, 9.0), "6": (0.0, 9.0)}
    water = outline_of(Pool(tuple(Corner(n, 0.5 if n == "4" else 0.0) for n in ell)), surveyed(ell))
    assert water.area == pytest.approx(52.0 + (1 - math.pi / 4) * 0.25, rel=1e-12)


def test_radius_end_is_a_half_circle() -> None:
    water = outline_of(Pool((Corner("1"), Corner("2", 2.5), Corner("3", 2.5), Corner("4"))), surveyed(BOX))
    assert water.area == pytest.approx(7.5 * 5 + math.pi * 2.5**2 / 2, rel=1e-12)
    assert water.support(0.0) == pytest.approx(10.0)
    assert sum(isinstance(p, Line) for p in water.pieces) == 3


def test_bow_goes_through_its_point() -> None:
    points = BOX | {"m": (11.0, 2.5)}
    pool = Pool((Corner("1"), Corner("2"), Corner("m", through=True), Corner("3"), Corner("4")))
    water = outline_of(pool, surveyed(points))
    radius = (2.5**2 + 1.0) / 2
    assert water.arcs[0].radius == pytest.approx(radius)
    assert water.support(0.0) == pytest.approx(11.0)
    half = math.asin(2.5 / radius)
    assert water.area == pytest.approx(50.0 + radius**2 * (half - math.sin(2 * half) / 2), rel=1e-12)
    inward = outline_of(pool, surveyed(points | {"m": (9.0, 2.5)}))
    assert inward.area == pytest.approx(50.0 - radius**2 * (half - math.sin(2 * half) / 2), rel=1e-12)
    assert inward.support(0.0) == pytest.approx(10.0)


def test_bow_can_be_more_than_half_a_circle() -> None:
    points = {"1": (0.0, 0.0), "2": (2.0, 0.0), "m": (1.0, 7.0)}
    water = outline_of(Pool((Corner("1"), Corner("2"), Corner("m", through=True))), surveyed(points))
    r = water.arcs[0].radius
    assert r == pytest.approx(50 / 14)
    drawn = shapely.Polygon(water.polygon)
    assert water.area == pytest.approx(drawn.area, abs=1e-4 * water.perimeter)
    assert water.area > 0.95 * math.pi * r**2


def test_straight_bow_is_a_line() -> None:
    water = outline_of(
        Pool((Corner("1"), Corner("2"), Corner("m", through=True), Corner("3"), Corner("4"))),
        surveyed(BOX | {"m": (10.0, 2.0)}),
    )
    assert water.area == pytest.approx(50.0)
    assert not water.arcs


def test_what_does_not_fit_is_refused_with_how_much() -> None:
    pool = Pool((Corner("1"), Corner("2", 3.0), Corner("3", 3.0), Corner("4")))
    with pytest.raises(Faults) as raised:
        outline_of(pool, surveyed(BOX))
    (fault,) = raised.value.faults
    assert isinstance(fault.wrong, Finding)
    assert fault.wrong.code == "layout.corners-too-round"
    assert fault.wrong.get("over_m") == pytest.approx(1.0)
    assert fault.where == finding("layout.where-edge", a="2", b="3")
    assert "1.000 m too much" in wrong(fault)
    assert "3' 3 3/8\" too much" in wrong(fault, Unit.FT_IN)


def test_faults_of_an_outline() -> None:
    assert _codes(pool_of("1", "2", "9"), BOX) == ["outline-unknown"]
    assert _codes(pool_of("1", "2", "2", "3"), BOX) == ["outline-twice"]
    doubled = {"1": (0.0, 0.0), "2": (5.0, 0.0), "2a": (5.0, 0.0), "3": (5.0, 10.0), "4": (0.0, 10.0)}
    for same in (pool_of("1", "2", "2a", "3", "4", curve=True), pool_of("1", "2", "2a", "3", "4", radius=0.1)):
        assert _codes(same, doubled) == ["outline-same"]
    assert _codes(pool_of("1", "2"), BOX) == ["outline-few"]
    assert _codes(pool_of("1", "3", "2", "4"), BOX) == ["outline-crosses"]
    bowed = Pool((Corner("1"), Corner("2", through=True), Corner("3", through=True), Corner("4")))
    assert "outline-bow" in _codes(bowed, BOX)
    beside = Pool((Corner("1", 0.2), Corner("2", through=True), Corner("3"), Corner("4")))
    assert _codes(beside, BOX) == ["outline-radius"]
    assert _codes(Pool((Corner("1", -0.2), *(Corner(n) for n in "234"))), BOX) == ["outline-radius"]


@pytest.mark.parametrize("seed", range(25))
def test_area_and_length_are_those_of_the_drawn_outline(seed: int) -> None:
    water = place(seed, 0).outline
    drawn = shapely.Polygon(water.polygon)
    assert water.area == pytest.approx(drawn.area, abs=2e-4 * water.perimeter)
    assert water.perimeter == pytest.approx(drawn.length, rel=1e-3)
    angles = np.linspace(0.0, math.tau, 181)
    drawn_reach = np.max(water.polygon @ np.stack([np.cos(angles), np.sin(angles)]), axis=0)
    assert np.all(water.hull.support(angles) >= drawn_reach - 1e-12)
    assert np.all(water.hull.support(angles) <= drawn_reach + 1e-4)


@pytest.mark.parametrize("seed", range(8))
def test_derivatives_by_points_are_what_moving_points_does(seed: int) -> None:
    water = place(seed, 0).outline
    angles = np.linspace(0.1, 6.1, 7)
    rng = np.random.default_rng(seed)
    move = rng.normal(0, 1e-6, water.xy.size)
    want = water.moved(water.xy.reshape(-1) + move).hull.support(angles) - water.hull.support(angles)
    assert water.reach_by_point(angles) @ move == pytest.approx(want, abs=2e-9)


def _ellipse(n: int, a: float = 6.0, b: float = 3.0) -> dict[str, tuple[float, float]]:
    t = np.arange(n) * math.tau / n
    return {f"k{i}": (a * math.cos(x), b * math.sin(x)) for i, x in enumerate(t)}


def test_smooth_curve_through_an_ellipse() -> None:
    """24 points of an ellipse: area πab and the perimeter by the complete elliptic integral, to 1e-4."""
    points = _ellipse(24)
    water = outline_of(pool_of(*points, curve=True), surveyed(points))
    assert water.area == pytest.approx(math.pi * 18.0, rel=2e-4)
    assert water.perimeter == pytest.approx(4 * 6.0 * ellipe(1 - 0.25), rel=1e-4)
    assert water.support(0.0) == pytest.approx(6.0, abs=2e-3)


@pytest.mark.parametrize("seed", range(6))
def test_curve_is_the_periodic_spline_of_scipy(seed: int) -> None:
    rng = np.random.default_rng(seed)
    n = int(rng.integers(3, 15))
    angle = (np.arange(n) + rng.uniform(-0.3, 0.3, n)) * math.tau / n
    p = np.stack([5 * np.cos(angle), 3 * np.sin(angle)], axis=-1) * rng.uniform(0.8, 1.2, n)[:, None]
    mine = ClosedCurve.through(p)
    judge = CubicSpline(knots_of(p), np.vstack([p, p[:1]]), bc_type="periodic")
    t = np.linspace(0.0, float(mine.knots[-1]), 200)
    where, speed = mine.at(t)
    assert where == pytest.approx(judge(t), abs=1e-10)
    assert speed == pytest.approx(judge(t, 1), abs=1e-9)
    assert mine.weights(t) @ p == pytest.approx(judge(t), abs=1e-10)
    end = float(mine.knots[-1])
    area = quad(lambda x: float(judge(x)[0] * judge(x, 1)[1]), 0, end, limit=400, points=mine.knots[1:-1])[0]
    assert mine.area() == pytest.approx(area, rel=1e-7)
    length = quad(lambda x: float(np.hypot(*judge(x, 1))), 0, end, limit=400, points=mine.knots[1:-1])[0]
    assert mine.length() == pytest.approx(length, rel=1e-6)


def test_band_of_a_curve_is_the_point_s_own_at_a_point() -> None:
    points = np.array(list(_ellipse(12).values()))
    curve = ClosedCurve.through(points)
    cov = np.eye(24) * 0.004**2
    at_points = curve.band(cov, curve.knots[:-1])
    assert at_points == pytest.approx(np.full(12, 0.004), rel=1e-9)
    between = curve.band(cov, (curve.knots[:-1] + curve.knots[1:]) / 2)
    assert np.all((between > 0.002) & (between < 0.004))


def test_band_is_what_moving_the_points_shows() -> None:
    """Monte Carlo, 4000 draws: the scatter square to the curve is the band, within 5 %."""
    rng = np.random.default_rng(5)
    points = np.array(list(_ellipse(9).values())) * rng.uniform(0.9, 1.1, (9, 1))
    curve = ClosedCurve.through(points)
    root = rng.normal(0, 0.002, (18, 18))
    t = np.array([0.3, 2.2, 5.1, 9.0])
    band = curve.band(root @ root.T, t)
    where, speed = curve.at(t)
    normal = np.stack([speed[:, 1], -speed[:, 0]], axis=-1) / np.hypot(*speed.T)[:, None]
    weights = curve.weights(t)
    moved = rng.normal(size=(4000, 18)) @ root.T
    off = np.einsum("mn,knj,mj->km", weights, moved.reshape(-1, 9, 2), normal)
    assert off.std(axis=0) == pytest.approx(band, rel=0.05)
    assert where.shape == (4, 2)


def test_curve_needs_points_apart() -> None:
    with pytest.raises(ValueError, match="one and the same"):
        ClosedCurve.through(np.array([[0.0, 0.0], [0.0, 0.0], [1.0, 1.0]]))


def test_area_and_band_of_a_box_by_hand() -> None:
    """Four corners with σ each way: the area's σ is σ·√(Σ half diagonals²·2), an edge's is σ at a corner."""
    sigma = 0.003
    water = outline_of(pool_of("1", "2", "3", "4"), surveyed(BOX))
    cov = np.eye(8) * sigma**2
    area = area_figure(water, cov)
    assert area.value == pytest.approx(50.0)
    assert area.sigma == pytest.approx(sigma * math.sqrt(125.0), rel=1e-6)
    assert perimeter_figure(water, cov).value == pytest.approx(30.0)
    assert band(water, cov) == pytest.approx(np.full(4, sigma), rel=1e-6)


@pytest.mark.parametrize("curve", [False, True])
def test_area_perimeter_and_band_scatter_as_they_say(curve: bool) -> None:
    """Monte Carlo, 400 draws with full covariance: area and perimeter within 12 %; the band, at arcs and lines, too."""
    rng = np.random.default_rng(2)
    if curve:
        points, pool = _ellipse(8), pool_of(*_ellipse(8), curve=True)
    else:
        points = BOX | {"m": (11.0, 2.5)}
        pool = Pool((Corner("1", 0.8), Corner("2"), Corner("m", through=True), Corner("3"), Corner("4", 0.5)))
    water = outline_of(pool, surveyed(points))
    n = 2 * len(water.names)
    mix = rng.normal(0, 0.001, (n, n))
    cov = mix @ mix.T
    said = [area_figure(water, cov).sigma, perimeter_figure(water, cov).sigma]
    draws, off = [], []
    probe = len(water.polygon) // 3
    at = water.polygon[probe]
    for _ in range(400):
        moved = water.moved(water.xy.reshape(-1) + mix @ rng.normal(size=n))
        draws.append([moved.area, moved.perimeter])
        ring = shapely.LinearRing(moved.polygon)
        side = 1.0 if shapely.Polygon(moved.polygon).contains(shapely.Point(at)) else -1.0
        off.append(side * ring.distance(shapely.Point(at)))
    assert np.std(draws, axis=0) == pytest.approx(said, rel=0.12)
    assert np.std(off) == pytest.approx(band(water, cov)[probe], rel=0.12)
