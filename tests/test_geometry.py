"""Plane geometry: hulls with arcs, insides, distances, ears, strips."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from stringline.geometry import (
    Arc,
    Frame,
    convex_hull,
    crosses_itself,
    distance_to_chain,
    hull_of,
    inside,
    narrowest_strip,
    signed_area,
    triangles,
)

coordinate = st.floats(-10.0, 10.0).map(lambda x: round(x, 3))
cloud = st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=25)
tight = settings(max_examples=60, deadline=None, derandomize=True)


@tight
@given(cloud)
def test_hull_is_that_of_shapely(points: list[tuple[float, float]]) -> None:
    ring = convex_hull(np.array(points))
    want = shapely.MultiPoint(points).convex_hull
    if want.geom_type == "Polygon":
        assert signed_area(np.array(points)[ring]) == pytest.approx(want.area, abs=1e-9)
    else:
        assert len(ring) <= 2


@tight
@given(cloud, st.floats(-7.0, 7.0))
def test_support_is_the_farthest_point(points: list[tuple[float, float]], angle: float) -> None:
    p = np.array(points)
    hull = hull_of(p)
    want = float(np.max(p @ [math.cos(angle), math.sin(angle)]))
    assert float(hull.support(angle)) == pytest.approx(want, abs=1e-9)
    assert float(np.hypot(*(hull.touch(angle) - p[hull.member[int(hull.disc(angle))]]))) == 0.0


@pytest.mark.parametrize("seed", range(20))
def test_support_of_arcs_is_that_of_many_points_on_them(seed: int) -> None:
    rng = np.random.default_rng(seed)
    points = rng.normal(0, 2, (int(rng.integers(0, 6)), 2))
    arcs = [
        Arc(tuple(rng.normal(0, 2, 2).tolist()), float(rng.uniform(0.1, 3)), float(rng.uniform(-4, 4)), float(sweep))
        for sweep in rng.uniform(-5, 5, int(rng.integers(1, 5)))
    ]
    hull = hull_of(points, arcs)
    dense = np.vstack([points, *(a.points(1e-6) for a in arcs)])
    angles = np.linspace(0.0, math.tau, 721)
    want = np.max(dense @ np.stack([np.cos(angles), np.sin(angles)]), axis=0)
    got = hull.support(angles)
    assert np.all(got >= want - 1e-12)
    assert np.all(got <= want + 1.01e-6)


def test_hull_of_one_point_and_of_two() -> None:
    assert float(hull_of(np.array([[1.0, 2.0]])).support(0.0)) == 1.0
    two = hull_of(np.array([[0.0, 0.0], [3.0, 4.0]]))
    assert float(two.extent(math.atan2(4.0, 3.0))) == pytest.approx(5.0)
    assert float(two.extent(math.atan2(4.0, 3.0) + math.pi / 2)) == pytest.approx(0.0, abs=1e-12)
    with pytest.raises(ValueError, match="a point or an arc"):
        hull_of(np.zeros((0, 2)))


@tight
@given(cloud)
def test_strip_is_no_wider_than_any_direction(points: list[tuple[float, float]]) -> None:
    p = np.array(points)
    if len(convex_hull(p)) < 2:
        return
    strip = narrowest_strip(p)
    angles = np.linspace(0.0, math.pi, 361)
    assert strip.width <= float(hull_of(p).extent(angles).min()) + 1e-9
    normal = np.array([math.cos(strip.normal_rad), math.sin(strip.normal_rad)])
    assert float(np.ptp(p @ normal)) == pytest.approx(strip.width, abs=1e-9)


@pytest.mark.parametrize("seed", range(15))
def test_triangles_fill_the_polygon(seed: int) -> None:
    rng = np.random.default_rng(seed)
    n = int(rng.integers(3, 12))
    angle = np.sort(rng.uniform(0, math.tau, n))
    p = np.stack([np.cos(angle), np.sin(angle)], axis=-1) * rng.uniform(0.3, 2.0, n)[:, None]
    whole = shapely.Polygon(p)
    if not whole.is_valid:
        p, whole = p[convex_hull(p)], whole.convex_hull
    cut = [shapely.Polygon(t) for t in triangles(p)]
    assert sum(t.area for t in cut) == pytest.approx(whole.area, rel=1e-12)
    assert shapely.union_all(cut).symmetric_difference(whole).area < 1e-9


def test_triangles_of_an_l() -> None:
    ell = np.array([[0, 0], [4, 0], [4, 1], [1, 1], [1, 3], [0, 3]], dtype=float)
    assert sum(abs(signed_area(t)) for t in triangles(ell)) == pytest.approx(6.0)


def test_crossing_is_named_by_its_edges() -> None:
    bow = np.array([[0, 0], [2, 2], [2, 0], [0, 2]], dtype=float)
    assert crosses_itself(bow) == (0, 2)
    assert crosses_itself(np.array([[0, 0], [2, 0], [2, 2], [0, 2]], dtype=float)) is None


@tight
@given(st.tuples(coordinate, coordinate))
def test_inside_agrees_with_shapely(point: tuple[float, float]) -> None:
    ell = np.array([[-8, -8], [8, -7], [8, 0], [0, 1], [1, 8], [-7, 8]], dtype=float)
    area = shapely.Polygon(ell)
    if area.exterior.distance(shapely.Point(point)) > 1e-6:
        assert bool(inside(ell, np.array([point]))[0]) == area.contains(shapely.Point(point))


@tight
@given(st.tuples(coordinate, coordinate), st.booleans())
def test_distance_to_a_chain_agrees_with_shapely(point: tuple[float, float], closed: bool) -> None:
    chain = np.array([[0, 0], [3, 1], [2, 5], [-4, 4]], dtype=float)
    line = shapely.LinearRing(chain) if closed else shapely.LineString(chain)
    gap, foot = distance_to_chain(chain, np.array([point]), closed=closed)
    assert float(gap[0]) == pytest.approx(line.distance(shapely.Point(point)), abs=1e-9)
    assert math.dist(foot[0], point) == pytest.approx(float(gap[0]), abs=1e-9)


@tight
@given(st.tuples(coordinate, coordinate), st.floats(-7.0, 7.0))
def test_frame_goes_there_and_back(point: tuple[float, float], heading: float) -> None:
    frame = Frame((2.0, -3.0), heading)
    there = frame.to_survey(np.array(point))
    assert frame.from_survey(there) == pytest.approx(np.array(point), abs=1e-12)
    ahead = frame.to_survey(np.array([0.0, 1.0])) - np.array([2.0, -3.0])
    assert ahead == pytest.approx([math.cos(heading), math.sin(heading)])
