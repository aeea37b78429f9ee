"""The search for the smallest rectangle, held against brute force and against rotating calipers."""

from __future__ import annotations

import math

import numpy as np
import pytest

from calipers import smallest_rectangle
from pools_around import GRID_RAD, Place, blocked, place, sides
from stringline.geometry import Arc, Array, Frame, hull_of
from stringline.layout.clearance import COVER, PARTS, Part, separation
from stringline.layout.ground import Surroundings
from stringline.layout.search import Found, Goal, nearest_to_fitting, smallest

QUARTER = math.pi / 4


def _goal(there: Place, by: str) -> Goal:
    return Goal(2 * there.size.side, there.size.setback + there.size.end, by)


def _search(there: Place, by: str) -> Found | None:
    around = Surroundings.of(there.outline.hull, there.size, there.obstacles)
    low, high = there.middle - QUARTER, there.middle + QUARTER
    return smallest(there.outline.hull, low, high, _goal(there, by), around.ground())


@pytest.mark.parametrize("block", range(10))
def test_never_beaten_by_brute_force(block: int) -> None:
    """300 pools with 0 to 6 obstacles: every heading on a 0.01° grid that would be better is blocked, by Shapely.

    The brute force works on the water drawn with chords (0.1 mm sag), so it may find a rectangle smaller by that much:
    1e-4 of the value is allowed for it, and 1e-7 m of overlap at the headings themselves.
    """
    fits = 0
    for seed in range(30 * block, 30 * block + 30):
        there = place(seed)
        by = "width" if seed % 4 == 0 else "area"
        found = _search(there, by)
        grid: Array = there.middle - QUARTER + GRID_RAD * np.arange(9001, dtype=float)
        right, left, ahead, behind = sides(there, grid)
        goal = _goal(there, by)
        value = goal.value(right + left + goal.across_m, ahead + behind + goal.along_m)
        drawn_short = 4e-4 / min(goal.across_m + 3.0, 3.0) if there.outline.arcs else 1e-9
        better = value < (math.inf if found is None else found.value * (1.0 - drawn_short))
        assert blocked(there, grid[better], 1e-7).all(), f"seed {seed}"
        if found is not None:
            fits += 1
            assert abs(found.heading_rad - there.middle) <= QUARTER + 1e-12
            tight = 2e-4 if there.outline.arcs else 1e-7  # an arc's chords lie inside it
            assert not blocked(there, np.array([found.heading_rad]), tight).any(), f"seed {seed}"
    assert fits >= 5  # the pools are not all hopeless


@pytest.mark.parametrize("seed", range(40))
@pytest.mark.parametrize("by", ["area", "width"])
def test_without_obstacles_it_is_rotating_calipers(seed: int, by: str) -> None:
    """Straight-sided pools without obstacles: the same value to 1e-9, margins included."""
    rng = np.random.default_rng(seed)
    points = rng.normal(0.0, 1.0, (int(rng.integers(3, 40)), 2)) * [6.0, 3.0]
    across, along = rng.uniform(0.0, 1.0, 2)
    found = smallest(hull_of(points), 0.3, 0.3 + math.pi, Goal(across, along, by))
    assert found is not None
    assert found.value == pytest.approx(smallest_rectangle(points, across=across, along=along, by=by)[0], rel=1e-9)


def test_circle_has_no_best_heading_and_takes_the_middle() -> None:
    hull = hull_of(np.zeros((0, 2)), [Arc((1.0, 2.0), 3.0, 0.0, math.tau)])
    found = smallest(hull, 0.2, 1.2, Goal(0.0, 0.0))
    assert found is not None
    assert found.value == pytest.approx(36.0, rel=1e-12)
    assert found.heading_rad == pytest.approx(0.7)


def test_lens_is_found_between_critical_headings() -> None:
    """Two flat arcs face to face: the width's sinusoid is negative, so the floor must allow for the dip."""
    half = math.asin(4.0 / 10.0)
    up = Arc((0.0, -9.0), 10.0, math.pi / 2 - half, 2 * half)
    down = Arc((0.0, 9.0), 10.0, -math.pi / 2 - half, 2 * half)
    hull = hull_of(np.zeros((0, 2)), [up, down])
    for low in (-0.6, -0.37, 0.11):
        found = smallest(hull, low, low + math.pi / 2, Goal(0.1, 0.2))
        assert found is not None
        grid = low + np.linspace(0.0, math.pi / 2, 20001)
        assert found.value <= float(Goal(0.1, 0.2).value(*Goal(0.1, 0.2).sides(hull, grid)).min()) * (1 + 1e-12)


@pytest.mark.parametrize("seed", range(12))
def test_nearest_to_fitting_is_no_worse_than_any_heading_tried(seed: int) -> None:
    """Where nothing fits, the heading said to come nearest is within 0.1 mm of the best on a 0.05° grid."""
    there = place(seed, 6)
    around = Surroundings.of(there.outline.hull, there.size, there.obstacles)
    ground = around.ground()
    if ground is None:
        return
    low, high = there.middle - QUARTER, there.middle + QUARTER
    heading = nearest_to_fitting(there.outline.hull, low, high, ground)
    reach = there.outline.hull.four_sides
    tried, said = np.linspace(low, high, 1801), np.array([heading])
    best = float(ground.clear(tried, reach(tried)).max())
    assert float(ground.clear(said, reach(said))[0]) >= best - 1e-4
    assert low <= heading <= high


@pytest.mark.parametrize("seed", range(12))
def test_separations_agree_with_the_ones_taken_one_by_one(seed: int) -> None:
    """All parts, pieces and headings at once against each pair in the cover's own frame, sign and overlap alike."""
    there = place(seed, 4)
    if not there.obstacles:
        return
    around = Surroundings.of(there.outline.hull, there.size, there.obstacles)
    headings = np.linspace(0.1, 6.0, 9)
    apart = around.apart(headings)
    boxes = around.boxes(around.hull.four_sides(headings))
    for k, h in enumerate(headings.tolist()):
        frame = Frame((0.0, 0.0), h)
        for m, piece in enumerate(around.pieces):
            kind = around.kinds[int(around.owner[m])]
            for p, name in enumerate(PARTS):
                if kind == "step" and name == COVER:
                    assert apart[k, m, p] == math.inf
                    continue
                (u, s), (du, ds) = boxes[int(kind == "wall"), :, :, p, k].tolist()
                part = Part(name, u - du, u + du, s - ds, s + ds)
                one = separation(part, frame.from_survey(piece))
                if one <= 0.0:
                    assert apart[k, m, p] == pytest.approx(one, abs=1e-9)
                else:
                    assert 0.0 < apart[k, m, p] <= one + 1e-9


@pytest.mark.parametrize("seed", range(6))
def test_no_separation_changes_faster_than_the_pace(seed: int) -> None:
    there = place(seed, 6)
    if not there.obstacles:
        return
    around = Surroundings.of(there.outline.hull, there.size, there.obstacles)
    h = np.linspace(0.0, math.tau, 20001)
    clear = np.where(np.isfinite(a := around.apart(h)), a, 0.0)
    assert float(np.abs(np.diff(clear, axis=0)).max()) <= around.pace * (h[1] - h[0]) + 1e-12
