"""Fit of the tracks: by hand, against coordinates, and σ against simulation."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from makers import INCH, make_system
from stringline.finding import Code, code_of, finding
from stringline.form.result import Fit
from stringline.form.shell import sides_of
from stringline.form.tracks import fit_from_as_built, fit_from_survey
from stringline.form.zones import parallelism, straightness
from stringline.geometry import Array
from stringline.job.model import Corner, Cover, Pool
from stringline.job.readings import AsBuilt
from stringline.layout.outline import outline_of
from stringline.layout.place import lay_out
from stringline.layout.result import Layout
from stringline.survey.result import Survey
from stringline.worked import Figure
from surveyed import pool_of, surveyed

BOX = {"1": (0.0, 0.0), "2": (0.0, 12.0), "3": (6.0, 12.0), "4": (6.0, 0.0)}
COVER = Cover("under-coping", ("1", "4"), "left", 3 * INCH, 12 * INCH)
MARGINS = 9 * INCH


def _fit(points: dict[str, tuple[float, float]], pool: Pool) -> tuple[Layout, Fit]:
    survey = surveyed(points)
    layout = lay_out(survey, pool, COVER, make_system())
    return layout, fit_from_survey(survey, pool, layout)


def _codes(notes: tuple[Code, ...]) -> list[str]:
    return [code_of(n) for n in notes]


def _value(figure: Figure | None) -> float:
    assert figure is not None
    return figure.value


def test_bowed_side_by_hand() -> None:
    """A side 12 m long whose middle stands out 8 mm: 8 mm off straight, and the gauge is 8 mm wide there."""
    points = BOX | {"m": (-0.008, 6.0), "n": (6.0, 6.0)}
    pool = pool_of("1", "m", "2", "3", "n", "4")
    layout, fit = _fit(points, pool)
    assert fit.basis == "survey"
    assert _value(fit.straight_left) == pytest.approx(0.008, rel=1e-6)
    assert _value(fit.straight_right) == pytest.approx(0.0, abs=1e-9)
    assert _value(fit.parallel) == pytest.approx(0.008, rel=1e-6)
    assert [g.station_m for g in fit.gauge] == pytest.approx([0.3048, 6.3048, 12.3048])
    assert [g.gauge.value for g in fit.gauge] == pytest.approx([6 + MARGINS, 6.008 + MARGINS, 6 + MARGINS])
    assert [g.deviation.value for g in fit.gauge] == pytest.approx([-0.008, 0.0, -0.008], abs=1e-9)
    # the middle of a 3-point bow against its ends: σ√(1 + ¼ + ¼)
    assert fit.straight_left is not None
    assert fit.straight_left.sigma == pytest.approx(0.003 * math.sqrt(1.5), rel=1e-6)
    # three points in one line say how sure they are as well
    assert fit.straight_right is not None
    assert fit.straight_right.sigma == pytest.approx(0.003 * math.sqrt(1.5), rel=1e-6)
    assert layout.gauge.value == pytest.approx(6.008 + MARGINS)


def test_points_equally_far_across_are_told_by_the_one_least_sure() -> None:
    """Two points stand 8 mm off the line of four: whichever is called the farthest, the surer one does not decide."""
    line = np.array([[0.0, 0.0], [0.008, 4.0], [0.008, 8.0], [0.0, 12.0]])
    for loose, share in ((1, 2 / 3), (2, 1 / 3)):
        sigma = np.full((4, 2), 0.001)
        sigma[loose] = 0.003
        found = straightness(line, np.diag(sigma.reshape(-1) ** 2))
        assert found.width == pytest.approx(0.008)
        # the other end of the strip lies along the ends, a third and two thirds of the way
        assert found.sigma == pytest.approx(math.sqrt(0.003**2 + (share**2 + (1 - share) ** 2) * 0.001**2))


def test_sides_that_run_together_are_split_evenly() -> None:
    """Two points a side, 24 mm narrower at the far end: equal strips of 12 mm hold both sides."""
    points = BOX | {"3": (5.976, 12.0)}
    _, fit = _fit(points, pool_of("1", "2", "3", "4"))
    assert fit.straight_left is None
    assert fit.straight_right is None
    assert _codes(fit.notes) == ["form.two-points"] * 2
    assert _value(fit.parallel) == pytest.approx(0.012, rel=1e-5)


def test_housing_out_of_square_is_signed() -> None:
    """The right end of the housing's edge 20 mm ahead: run-out + 20 mm over the 6 m of water, scaled to the gauge."""
    points = BOX | {"4": (6.0, 0.02)}
    layout, fit = _fit(points, pool_of("1", "2", "3", "4"))
    assert layout.housing_edge == ("1", "4")
    assert _value(fit.square) == pytest.approx(0.02 * layout.gauge.value / 6.0, rel=1e-4)
    want = math.dist(points["1"], points["3"]) - math.dist(points["4"], points["2"])
    assert _value(fit.diagonals) == pytest.approx(want, abs=1e-9)
    assert fit.diagonals is not None
    assert fit.diagonals.sigma == pytest.approx(0.003 * 2.0, rel=1e-2)


def test_curved_pool_has_no_sides() -> None:
    t = np.arange(12) * math.tau / 12
    points = {f"k{i}": (6 * math.cos(x), 3 * math.sin(x)) for i, x in enumerate(t)}
    survey = surveyed(points)
    pool = pool_of(*points, curve=True)
    layout = lay_out(survey, pool, replace(COVER, housing=None, mount="on-deck"), make_system())
    fit = fit_from_survey(survey, pool, layout)
    assert (fit.straight_left, fit.parallel, fit.square, fit.diagonals, fit.gauge) == (None, None, None, None, ())
    assert _codes(fit.notes) == ["form.free-of-water"]
    under = fit_from_survey(survey, pool, lay_out(survey, pool, replace(COVER, housing=None), make_system()))
    assert (under.straight_left, under.parallel, under.gauge) == (None, None, ())
    assert _codes(under.notes) == ["form.no-straight-edge"] * 2


def test_short_leg_of_an_l_is_no_track_side() -> None:
    ell = {"1": (0.0, 0.0), "2": (0.0, 12.0), "3": (6.0, 12.0), "4": (6.0, 6.0), "5": (3.0, 6.0), "6": (3.0, 0.0)}
    survey = surveyed(ell)
    pool = pool_of(*ell)
    layout = lay_out(survey, pool, replace(COVER, housing=("2", "3")), make_system())
    left, right = sides_of(outline_of(pool, survey), layout.frame)
    assert {left.names, right.names} == {("3", "4"), ("2", "1")}
    fit = fit_from_survey(survey, pool, layout)
    assert fit.diagonals is None
    assert "form.no-diagonals-far" in fit.notes


def test_bow_in_a_side_takes_no_part() -> None:
    points = BOX | {"m": (6.4, 6.0), "a": (6.0, 4.0), "b": (6.0, 8.0)}
    pool = Pool((*(Corner(n) for n in "123b"), Corner("m", through=True), *(Corner(n) for n in "a4")))
    survey = surveyed(points)
    layout = lay_out(survey, pool, replace(COVER, mount="on-deck"), make_system())
    _, right = sides_of(outline_of(pool, survey), layout.frame)
    assert right.names == ()  # the bow is the outermost water there


# as built


def _built(layout_gauge: float = 6.0) -> Layout:
    survey = surveyed(BOX)
    layout = lay_out(survey, pool_of("1", "2", "3", "4"), COVER, make_system())
    assert layout.gauge.value == pytest.approx(layout_gauge + MARGINS)
    return layout


@pytest.mark.parametrize("seed", range(6))
def test_as_built_square_agrees_with_coordinates(seed: int) -> None:
    """Channels of unequal length off a housing turned by a known run-out: the diagonals give it back exactly."""
    rng = np.random.default_rng(seed)
    gauge, run_out = 6.2, float(rng.uniform(-0.05, 0.05))
    ll, lr = 12.6 + rng.uniform(-0.1, 0.1, 2)
    near_left, near_right = np.zeros(2), np.array([gauge, run_out])
    far_left, far_right = near_left + np.array([0, ll]), near_right + np.array([0, lr])
    built = AsBuilt.of(
        channel_left_m=float(ll),
        channel_right_m=float(lr),
        diagonals_m=(math.dist(near_left, far_right), math.dist(near_right, far_left)),
        sigma_m=0.002,
    )
    fit = fit_from_as_built(built, _built())
    assert _value(fit.square) == pytest.approx(run_out, abs=1e-12)
    first, second = built.diagonals_m or (0.0, 0.0)
    assert _value(fit.diagonals) == pytest.approx(first - second)


def test_as_built_square_sigma_is_what_simulation_scatters() -> None:
    rng = np.random.default_rng(1)
    layout = _built()

    def square(noise: Array) -> Figure:
        d1, d2, ll, lr = np.array([14.05, 14.03, 12.6, 12.65]) + noise
        built = AsBuilt.of(channel_left_m=ll, channel_right_m=lr, diagonals_m=(d1, d2), sigma_m=0.003)
        figure = fit_from_as_built(built, layout).square
        assert figure is not None
        return figure

    values = [square(rng.normal(0, 0.003, 4)).value for _ in range(3000)]
    assert np.std(values) == pytest.approx(square(np.zeros(4)).sigma, rel=0.05)


def test_as_built_by_hand() -> None:
    layout = _built()
    g = layout.gauge.value
    built = AsBuilt.of(
        gauge=((12.0, g + 0.004), (0.0, g), (6.0, g + 0.006)),
        offsets_left=((0.0, 0.05), (6.0, 0.046), (12.0, 0.05)),
        offsets_right=((0.0, 0.05), (12.0, 0.05)),
        sigma_m=0.001,
    )
    fit = fit_from_as_built(built, layout)
    assert fit.basis == "as-built"
    assert [x.station_m for x in fit.gauge] == [0.0, 6.0, 12.0]
    assert [x.deviation.value for x in fit.gauge] == pytest.approx([0.0, 0.006, 0.004])
    assert fit.gauge[0].deviation.sigma == 0.001
    assert _value(fit.straight_left) == pytest.approx(0.004, rel=1e-6)
    assert fit.straight_right is None
    assert finding("form.too-few-offsets", n=2, side="right") in fit.notes
    # left at 50, 46, 50 mm; right at 0, +2, +4 mm on the gauge: the least equal pair of strips is 4 mm wide
    assert _value(fit.parallel) == pytest.approx(0.004, rel=1e-3)
    assert fit.square is None
    assert fit.diagonals is None


def test_as_built_without_offsets_or_sigma_says_what_it_assumes() -> None:
    layout = _built()
    g = layout.gauge.value
    fit = fit_from_as_built(AsBuilt.of(gauge=((0.0, g), (12.0, g + 0.01)), diagonals_m=(14.0, 13.99)), layout)
    assert _value(fit.parallel) == pytest.approx(0.005, rel=1e-3)
    assert finding("form.usual-sigma", sigma_m=0.002) in fit.notes
    assert "form.left-taken-straight" in fit.notes
    assert "form.channels-as-laid-out" in fit.notes
    nothing = fit_from_as_built(AsBuilt.of(sigma_m=0.001), layout)
    assert (nothing.parallel, nothing.square, nothing.gauge, nothing.notes) == (None, None, (), ())


def test_stations_stand_in_the_labels_and_those_past_the_channel_are_noted() -> None:
    layout = _built()
    g, end = layout.gauge.value, layout.channel.value
    past = AsBuilt.of(gauge=((0.0, g), (end + 0.05, g), (30.48, g)), sigma_m=0.001)
    fit = fit_from_as_built(past, layout)
    assert fit.notes == (finding("form.past-channel", station_m=30.48), "form.left-taken-straight")
    assert fit.parallel is not None
    assert fit.parallel.terms[-1].label == finding("form.gauge-at", station_m=30.48)
    assert fit_from_as_built(past.but(channel_left_m=31.0), layout).notes == ("form.left-taken-straight",)


def test_zero_offset_is_a_reading() -> None:
    fit = fit_from_as_built(AsBuilt.of(offsets_left=((0.0, 0.0), (6.0, 0.0), (12.0, 0.0)), sigma_m=0.0), _built())
    assert _value(fit.straight_left) == 0.0


# zones


@pytest.mark.parametrize("seed", range(4))
def test_zone_sigmas_are_what_small_moves_do(seed: int) -> None:
    """1500 small draws round one set of points: the scatter of each zone's width is its σ, within 8 %."""
    rng = np.random.default_rng(seed)
    left = np.stack([rng.normal(0, 0.01, 5), np.linspace(0, 12, 5)], axis=-1)
    right = np.stack([rng.normal(6, 0.01, 4), np.linspace(0, 12, 4)], axis=-1)
    mix = rng.normal(0, 3e-8, (18, 18))
    cov = mix @ mix.T
    one, two = [], []
    for _ in range(1500):
        moved = rng.normal(size=18) @ mix.T
        a, b = left + moved[:10].reshape(5, 2), right + moved[10:].reshape(4, 2)
        one.append(straightness(a, cov[:10, :10]).width)
        two.append(parallelism(a, b, cov).width)
    assert np.std(one) == pytest.approx(straightness(left, cov[:10, :10]).sigma, rel=0.08)
    assert np.std(two) == pytest.approx(parallelism(left, right, cov).sigma, rel=0.08)


def test_zones_refuse_too_few_points() -> None:
    two = np.array([[0.0, 0.0], [0.0, 1.0]])
    with pytest.raises(ValueError, match="nothing about straightness"):
        straightness(two, np.zeros((4, 4)))
    with pytest.raises(ValueError, match="two points on each side"):
        parallelism(two, two[:1], np.zeros((6, 6)))


def test_square_sigma_from_a_survey_is_what_simulation_scatters() -> None:
    rng = np.random.default_rng(9)
    points = BOX | {"m": (-0.004, 6.0)}
    names, base = list(points), np.array(list(points.values()))
    mix = rng.normal(0, 0.001, (10, 10))
    cov = mix @ mix.T
    pool = pool_of("1", "m", "2", "3", "4")
    layout = lay_out(surveyed(points, cov=cov), pool, COVER, make_system())

    def fit(xy: Array) -> Fit:
        survey: Survey = surveyed({k: (float(a), float(b)) for k, (a, b) in zip(names, xy, strict=True)}, cov=cov)
        return fit_from_survey(survey, pool, layout)

    first = fit(base)
    draws = []
    for _ in range(600):
        f = fit(base + rng.multivariate_normal(np.zeros(10), cov).reshape(5, 2))
        draws.append([_value(f.square), _value(f.diagonals), f.gauge[1].gauge.value])
    said = [first.square, first.diagonals, first.gauge[1].gauge]
    assert np.std(draws, axis=0) == pytest.approx([f.sigma for f in said if f is not None], rel=0.1)
