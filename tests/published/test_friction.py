"""Ropes round guides and pulleys, jamming sliders, design factors."""

from __future__ import annotations

import math

import pytest

from stringline.mechanics import forces
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


def _sheaves(low_n: float, efficiency: float, count: int) -> float:
    """Pull behind so many turning pulleys, one after the other."""
    for _ in range(count):
        low_n = float(forces.over_pulley(low_n, efficiency))
    return low_n


def test_sheaves_on_plain_bearings() -> None:
    """Source: Wire Rope Users Manual, 4th ed., p. 88 — verified.

    6000 lb, 4 parts: factor 0.309, two more sheaves × 1.09² → 2202 lb, to 1 lb.
    """
    efficiency = 1 / 1.09
    factor = 1.09**4 * (1.09 - 1) / (1.09**4 - 1)
    assert factor == pytest.approx(0.309, abs=0.0005)
    line = _sheaves(6000 * 0.309, efficiency, 2)
    assert line == pytest.approx(2202.0, abs=1.5)


def test_four_part_tackle() -> None:
    """Source: Pipeline Rules of Thumb Handbook, p. 6, block and tackle with journal bearings — verified.

    Four parts at 91.7 % a sheave: its own line 0.917 × 0.293 ÷ 0.083 gives 3.237, which it prints as 3.25. Ours to
    0.002 of the line and to 0.015 of the print.
    """
    pulls = [1.0 / _sheaves(1.0, 0.917, n) for n in range(1, 5)]
    assert sum(pulls) == pytest.approx(0.917 * 0.293 / 0.083, abs=0.002)
    assert sum(pulls) == pytest.approx(3.25, abs=0.015)


BUSHED = [0.96, 1.87, 2.75, 3.59, 4.39, 5.16, 5.90, 6.60, 7.27, 7.91]
ROLLING = [0.98, 1.94, 2.88, 3.81, 4.71, 5.60, 6.47, 7.32, 8.16, 8.98]


@pytest.mark.parametrize(("efficiency", "table"), [(1 / 1.045, BUSHED), (1 / 1.02, ROLLING)])
def test_line_parts_table(efficiency: float, table: list[float]) -> None:
    """Source: rigger's handbook, ratio of load to line pull for 1 to 10 parts — verified.

    Bronze-bushed sheaves (4½ % lost at each) and anti-friction sheaves (2 %): every entry to 0.01.
    """
    ours = [sum(1.0 / _sheaves(1.0, efficiency, k) for k in range(1, n + 1)) for n in range(1, 11)]
    assert ours == pytest.approx(table, abs=0.011)


def test_two_to_one_rule_of_plain_slides() -> None:
    """Source: Machine Design, "Linear bearings: understanding the 2:1 ratio" — seen.

    A plain slide with friction 0.25 binds when the pull stands more than twice its guided length away; exact.
    """
    assert forces.jam_eccentricity_m(1.0, 0.25) == pytest.approx(2.0, rel=1e-12)
    assert forces.jam_eccentricity_m(5.0, 0.25) == pytest.approx(10.0, rel=1e-12)


@pytest.mark.parametrize("off", [0.0, 0.3, 0.9, 1.9])
def test_pull_of_an_eccentric_slide_by_its_force_balance(off: float) -> None:
    """Source: statics of a slide held at both ends of its guide, solved as three equations by numpy — verified.

    To 1e-12.
    """
    import numpy as np

    mu, guided, resistance = 0.25, 1.0, 10.0
    # Unknowns: pull, normal at the front, normal at the back (opposite ways, equal by balance across).
    a = np.array([[1.0, -mu, -mu], [0.0, 1.0, -1.0], [off, -guided / 2, -guided / 2]])
    pull = float(np.linalg.solve(a, np.array([resistance, 0.0, 0.0]))[0])
    assert resistance * forces.pull_factor(guided, off, mu) == pytest.approx(pull, rel=1e-12)


def test_bracket_on_a_post_sticks() -> None:
    """Source: Beer & Johnston, Vector Mechanics for Engineers: Statics, sliding bracket — verified.

    h 6 in, μ 0.25 → x = 12 in, exact.
    """
    assert forces.jam_eccentricity_m(6.0, 0.25) == pytest.approx(12.0, rel=1e-12)
    assert forces.jam_margin(6.0, 12.0, 0.25) == pytest.approx(1.0, rel=1e-12)
    assert math.isinf(forces.pull_factor(6.0, 12.0, 0.25))


def test_design_factor_with_a_knot() -> None:
    """Source: Cordage Institute CI 1401: design factors of 5 to 12, knots up to half the strength — seen.

    Arithmetic exact.
    """
    rope = Rope(0.006, 1.0, 0.5, 1.5, 1.2, 20000.0, 60000.0, 5.0, 0.5)
    assert forces.design_factor(rope, 1000.0) == pytest.approx(10.0)
    assert 5.0 <= forces.design_factor(rope, 1000.0) <= 12.0
