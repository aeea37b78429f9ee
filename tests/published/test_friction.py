"""Ropes round guides and pulleys, jamming sliders, design factors."""

from __future__ import annotations

import math

import pytest

from stringline.mechanics import forces, slider
from stringline.system.model import Rope


def test_hundred_kilograms_on_three_quarters_of_a_turn() -> None:
    """Source: engineering mechanics exercise 27, rope friction: 100 kg, μ 0.2, wrap 3π/2 — verified.

    382.26 N holds it, to 0.01 N.
    """
    holding = 100 * 9.81 / float(forces.capstan(1.0, 0.2, 1.5 * math.pi))
    assert holding == pytest.approx(382.26, abs=0.01)


@pytest.mark.parametrize(("turned", "hold"), [(0.5, 28.46), (1.5, 2.31)])
def test_hundred_pounds_round_a_post(turned: float, hold: float) -> None:
    """Source: open textbook of engineering statics, ex. 6.5: 100 lb, μ 0.4 — verified.

    Half a turn 28.46 lb, one and a half 2.31 lb, to 0.01 lb.
    """
    assert 100 / float(forces.capstan(1.0, 0.4, 2 * math.pi * turned)) == pytest.approx(hold, abs=0.01)


def test_two_and_a_half_wraps() -> None:
    """Source: open course topic "Belt and rope friction", 2000 N, μ 0.25, 2½ wraps — verified.

    About 40 N (e^3.93 about 51), to 1 N.
    """
    assert 2000 / float(forces.capstan(1.0, 0.25, 5 * math.pi)) == pytest.approx(39.4, abs=0.5)


def test_sheaves_on_plain_bearings() -> None:
    """Source: Wire Rope Users Manual, 4th ed., p. 88 — verified.

    6000 lb, 4 parts: factor 0.309, two more sheaves × 1.09² → 2202 lb, to 1 lb.
    """
    efficiency = 1 / 1.09
    factor = 1.09**4 * (1.09 - 1) / (1.09**4 - 1)
    assert factor == pytest.approx(0.309, abs=0.0005)
    line = float(forces.over_pulleys(6000 * 0.309, efficiency, 2))
    assert line == pytest.approx(2202.0, abs=1.5)


def test_bracket_on_a_post_sticks() -> None:
    """Source: Beer & Johnston, Vector Mechanics for Engineers: Statics, sliding bracket — verified.

    h 6 in, μ 0.25 → x = 12 in, exact.
    """
    assert slider.jam_eccentricity_m(6.0, 0.25) == pytest.approx(12.0, rel=1e-12)
    assert slider.jam_margin(6.0, 12.0, 0.25) == pytest.approx(1.0, rel=1e-12)
    assert math.isinf(slider.pull_factor(6.0, 12.0, 0.25))


def test_design_factor_with_a_knot() -> None:
    """Source: Cordage Institute CI 1401: design factors of 5 to 12, knots up to half the strength — seen.

    Arithmetic exact.
    """
    rope = Rope(0.006, 1.0, 0.5, 1.5, 1.2, 20000.0, 60000.0, 5.0, 0.5)
    assert forces.design_factor(rope, 1000.0) == pytest.approx(10.0)
    assert 5.0 <= forces.design_factor(rope, 1000.0) <= 12.0
