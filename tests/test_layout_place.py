"""The layout as a whole: lengths by hand, σ by simulation, ends, walls, and refusals that say why."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from makers import FOOT, INCH, make_system
from stringline.faults import Faults
from stringline.finding import Finding, code_of, finding, within
from stringline.geometry import Array
from stringline.job.model import Corner, Cover, Obstacle, Pool
from stringline.layout.clearance import COVER as COVER_PART
from stringline.layout.clearance import HOUSING, RIGHT_TRACK
from stringline.layout.place import lay_out, size_of
from stringline.layout.result import Layout
from stringline.layout.walls import gradient
from stringline.survey.result import Survey
from surveyed import pool_of, surveyed

BOX = {"1": (0.0, 0.0), "2": (0.0, 12.0), "3": (6.0, 12.0), "4": (6.0, 0.0)}
COVER = Cover("under-coping", ("1", "4"), "left", 3 * INCH, 12 * INCH)
SYSTEM = make_system()


def _lay(points: dict[str, tuple[float, float]], pool: Pool, cover: Cover = COVER) -> Layout:
    return lay_out(surveyed(points), pool, cover, SYSTEM)


def _box(*obstacles: Obstacle) -> Pool:
    return pool_of("1", "2", "3", "4", obstacles=obstacles)


def _in_the_way(raised: Faults) -> set[tuple[str, str]]:
    """(obstacle, part) of everything that is said to be in the way."""
    found = [f for fault in raised.faults for f in within(fault.wrong) if f.code == "layout.in-the-way"]
    return {(f.get("obstacle"), code_of(f.get("part"))) for f in found}


def test_lengths_of_a_box_by_hand() -> None:
    layout = _lay(BOX, _box())
    assert layout.housing_edge == ("1", "4")
    assert layout.frame.heading_rad == pytest.approx(math.pi / 2)
    assert layout.frame.origin == pytest.approx((3.0, -12 * INCH))
    assert layout.water_width.value == pytest.approx(6.0)
    assert layout.water_length.value == pytest.approx(12.0)
    assert layout.gauge.value == pytest.approx(6.0 + 2 * 3 * INCH + 2 * 1.5 * INCH)
    assert layout.travel.value == pytest.approx(12.0 + 24 * INCH)
    assert layout.channel.value == pytest.approx(12.0 + 24 * INCH + 0.075)
    near_left, near_right, far_right, far_left = layout.corners()
    assert near_left[0] < near_right[0]
    assert far_right == pytest.approx([3.0 + layout.gauge.value / 2, -12 * INCH + layout.channel.value])
    assert far_left[0] == pytest.approx(3.0 - layout.gauge.value / 2)


def test_track_on_the_deck_has_no_channel_wall_and_two_channels_have_a_spacer() -> None:
    on_deck = _lay(BOX, _box(), replace(COVER, mount="on-deck"))
    assert on_deck.gauge.value == pytest.approx(6.0 + 2 * 3 * INCH)
    two = lay_out(surveyed(BOX), _box(), COVER, make_system(channels=2))
    assert two.channel.value == pytest.approx(12.0 + 24 * INCH + 0.075 + 1.5 * INCH)


def test_housing_edge_is_named_left_first_from_any_side() -> None:
    for edge in (("2", "3"), ("3", "2")):
        layout = _lay(BOX, _box(), replace(COVER, housing=edge))
        assert layout.housing_edge == ("3", "2")  # looking back over the water, 3 is on the left
        assert math.cos(layout.frame.heading_rad + math.pi / 2) == pytest.approx(1.0)


def test_any_end_takes_the_narrow_way_of_equal_areas() -> None:
    layout = _lay(BOX, _box(), replace(COVER, housing=None, end_margin_m=COVER.side_margin_m + 1.5 * INCH))
    assert layout.gauge.value < 7.0


def test_least_width_is_chosen_when_asked_for() -> None:
    corners = [(1.5, 3.0), (2.0, 3.0), (3.0, 3.0), (3.0, 2.5), (2.8, 1.2), (2.1, 1.0), (1.0, 1.0), (1.0, 2.4)]
    points = {str(i): (3 * x, 3 * y) for i, (x, y) in enumerate(corners)}
    cover = replace(COVER, housing=None, mount="on-deck", side_margin_m=0.0, end_margin_m=0.0)
    by_area = _lay(points, pool_of(*points), cover)
    by_width = _lay(points, pool_of(*points), replace(cover, minimise="width"))
    assert by_width.gauge.value < by_area.gauge.value - 1e-3


@pytest.mark.parametrize("curve", [False, True])
def test_sigma_is_what_simulated_surveys_scatter(curve: bool) -> None:
    """300 surveys drawn from the covariance: the scatter of width, length and clearance is the σ given, within 15 %."""
    rng = np.random.default_rng(3)
    if curve:
        t = np.arange(10) * math.tau / 10
        points = {f"k{i}": (5.5 * math.cos(x), 2.6 * math.sin(x) * (1 + 0.1 * math.cos(x))) for i, x in enumerate(t)}
        pool, cover = pool_of(*points, curve=True), replace(COVER, housing=("k4", "k6"), mount="on-deck")
    else:
        points = {"1": (0.0, 0.0), "2": (0.3, 12.1), "3": (6.5, 11.8), "4": (6.0, 0.1)}
        pool, cover = Pool((Corner("1", 0.3), Corner("2"), Corner("3", 0.5), Corner("4"))), COVER
    points = points | {"r": (10.0, 1.0)}
    pool = replace(pool, obstacles=(Obstacle("rail", ("r",), "rail"),))
    n = len(points)
    mix = rng.normal(0.0, 0.0015, (2 * n, 2 * n))
    cov = mix @ mix.T
    names = list(points)

    def lay(xy: Array) -> Layout:
        survey: Survey = surveyed({k: (float(a), float(b)) for k, (a, b) in zip(names, xy, strict=True)}, cov=cov)
        return lay_out(survey, pool, cover, SYSTEM)

    base = np.array(list(points.values()))
    first = lay(base)
    draws = []
    for _ in range(300):
        layout = lay(base + rng.multivariate_normal(np.zeros(2 * n), cov).reshape(n, 2))
        lengths = (layout.gauge, layout.travel, layout.clearances[0].figure)
        draws.append([f.value for f in lengths])
    said = [f.sigma for f in (first.gauge, first.travel, first.clearances[0].figure)]
    if not curve:  # on a curve the heading is held as set out, so its own scatter takes no part in the σ
        assert np.std(draws, axis=0) == pytest.approx(said, rel=0.15)
    else:
        assert np.std(draws, axis=0)[:2] == pytest.approx(said[:2], rel=0.25)


def test_clearance_names_the_part_and_the_distance() -> None:
    points = BOX | {"r": (6.4, 4.0), "b": (-0.4, -0.5)}
    layout = _lay(points, _box(Obstacle("rail", ("r",), "rail"), Obstacle("post", ("b",), "rail")), COVER)
    by_name = {c.obstacle: c for c in layout.clearances}
    outer = 6.0 + 3 * INCH + 1.5 * INCH + 1.5 * INCH
    assert by_name["rail"].part == RIGHT_TRACK
    assert by_name["rail"].figure.value == pytest.approx(6.4 - outer)
    assert by_name["post"].part == HOUSING
    assert by_name["post"].figure.value == pytest.approx(0.4 - 4.5 * INCH - 10 * INCH, abs=1e-9)


def test_wall_beyond_the_far_water_stops_the_cover() -> None:
    points = BOX | {"w": (-2.0, 12.01), "x": (8.0, 12.01)}
    layout = _lay(points, _box(Obstacle("garden wall", ("w", "x"), "wall")))
    assert layout.travel.value == pytest.approx(12.01 + 12 * INCH)
    assert [n.get("wall") for n in layout.notes if isinstance(n, Finding) and n.code == "layout.stops-at-wall"] == [
        "garden wall"
    ]
    assert layout.clearances[0].part == "layout.part.far-water"
    assert layout.clearances[0].figure.value == pytest.approx(0.01 + 0.025, abs=1e-9)
    assert layout.travel.sigma is not None
    assert layout.travel.sigma > 0.003


def test_wall_that_only_the_channels_reach_asks_for_a_pocket() -> None:
    points = BOX | {"w": (-2.0, 12.34), "x": (8.0, 12.34)}
    layout = _lay(points, _box(Obstacle("garden wall", ("w", "x"), "wall")))
    assert layout.travel.value == pytest.approx(12.0 + 24 * INCH)
    (note,) = [n for n in layout.notes if isinstance(n, Finding) and n.get("wall") == "garden wall"]
    assert note.code == "layout.pocket-in-wall"
    assert note.get("past_m") == pytest.approx(12.0 + 12 * INCH + 0.075 - 12.34)
    assert layout.clearances[0].figure.value > 0.0


def test_step_under_the_cover_is_no_matter_but_under_a_track_it_is() -> None:
    inside = BOX | {"a": (2.0, 12.1), "b": (4.0, 12.1), "c": (4.0, 12.2), "d": (2.0, 12.2)}
    step = Obstacle("step", ("a", "b", "c", "d"), "step")
    assert _lay(inside, _box(step)).clearances[0].figure.value > 0.0
    with pytest.raises(Faults) as raised:
        _lay(inside, _box(replace(step, name="rock", kind="rock")))
    assert ("rock", COVER_PART) in _in_the_way(raised.value)
    outside = BOX | {"a": (5.9, 5.0), "b": (6.3, 5.0), "c": (6.3, 5.4)}
    with pytest.raises(Faults) as raised:
        _lay(outside, _box(Obstacle("step", ("a", "b", "c"), "step")))
    assert ("step", RIGHT_TRACK) in _in_the_way(raised.value)


def test_blocked_end_says_which_by_how_much_and_another_end_is_taken() -> None:
    points = BOX | {"h": (1.0, -0.5)}
    rock = Obstacle("boulder", ("h",), "rock")
    with pytest.raises(Faults) as raised:
        _lay(points, _box(rock))
    (fault,) = raised.value.faults
    assert fault.code == "layout-blocked"
    assert ("boulder", HOUSING) in _in_the_way(raised.value)
    assert fault.right == finding("layout.unblock-housing")
    free = _lay(points, _box(rock), replace(COVER, housing=None))
    assert free.housing_edge is not None
    assert set(free.housing_edge) != {"1", "4"}


def test_all_faults_of_the_input_come_at_once() -> None:
    cover = Cover("hung", ("1", "9"), "middle", -0.1, 0.3, minimise="cost")
    pool = pool_of("1", "2", "3", "8", obstacles=(Obstacle("thing", ("q",), "tree"),))
    with pytest.raises(Faults) as raised:
        _lay(BOX, pool, cover)
    codes = {f.code for f in raised.value.faults}
    assert codes == {
        "cover-mount",
        "cover-drive-side",
        "cover-margin",
        "cover-minimise",
        "obstacle-unknown",
        "obstacle-kind",
        "outline-unknown",
    }
    with pytest.raises(Faults) as raised:
        _lay(BOX, _box(), replace(COVER, housing=("1", "9")))
    assert [f.wrong for f in raised.value.faults] == [finding("layout.edge-unknown", points=["9"])]


def test_obstacle_that_crosses_itself_is_refused() -> None:
    points = BOX | {"a": (8.0, 0.0), "b": (9.0, 1.0), "c": (9.0, 0.0), "d": (8.0, 1.0)}
    with pytest.raises(Faults) as raised:
        _lay(points, _box(Obstacle("rock", ("a", "b", "c", "d"), "rock")))
    assert [f.wrong for f in raised.value.faults] == [finding("layout.obstacle-crosses")]


def test_size_follows_choices_and_catalogue() -> None:
    size = size_of(COVER, SYSTEM)
    assert size.side == pytest.approx(4.5 * INCH)
    assert size.setback == size.end == pytest.approx(1 * FOOT)
    assert size.past_stop == pytest.approx(0.075)


def test_how_far_tracks_may_leave_the_coping_and_the_wall_is_the_catalogue_s() -> None:
    assert size_of(COVER, replace(SYSTEM, limits=replace(SYSTEM.limits, wall_gap_m=0.06))).short == 0.06
    skew = {"1": (0.0, 0.0), "2": (0.4, 12.0), "3": (6.4, 12.0), "4": (6.0, 0.0), "5": (9.0, 6.0)}
    pool = pool_of("1", "2", "3", "5", "4")
    free = replace(SYSTEM, limits=replace(SYSTEM.limits, along_coping_rad=math.pi / 5))
    tight = lay_out(surveyed(skew), pool, COVER, SYSTEM)
    loose = lay_out(surveyed(skew), pool, COVER, free)
    assert loose.gauge.value * loose.travel.value < tight.gauge.value * tight.travel.value


def test_a_wall_that_ends_where_the_tracks_do_has_a_finite_slope() -> None:
    def met(x: Array) -> float:
        return 2.0 + 3.0 * float(x[0]) if x[0] >= 0.0 else math.inf

    assert gradient(met, np.array([0.0])) == pytest.approx([3.0])
    assert gradient(lambda x: met(-x), np.array([0.0])) == pytest.approx([-3.0])
    assert gradient(lambda x: 2.0 * float(x[0]), np.array([1.0])) == pytest.approx([2.0])
