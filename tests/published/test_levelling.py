"""Levelling: networks of height differences with published adjusted heights."""

from __future__ import annotations

import numpy as np
import pytest

from stringline.survey.levels.heights import Rise, adjust_rises


def test_level_net_of_four_points() -> None:
    """Source: OSGeoLab BME, tutorial "Level network adjustment and data snooping" (Siki 2014), results — verified.

    Six differences, σ = 0.7 mm times the length in km, point 4 held at 101.345 m. Printed: heights to 0.1 mm, residuals
    to 0.01 mm, standard deviations with m₀ 1.65 to 0.01 mm.
    """
    lines = [("1", "2", -0.749, 1.1), ("1", "3", -1.274, 1.8), ("1", "4", -2.890, 1.4), ("2", "3", -0.530, 1.5),
             ("2", "4", -2.141, 1.9), ("3", "4", -1.614, 0.9)]  # fmt: skip
    got = adjust_rises([Rise(a, b, h, 0.0007 * km) for a, b, h, km in lines], {"4": 101.345})
    np.testing.assert_allclose([got.at(n) for n in "123"], [104.2350, 103.4868, 102.9588], atol=5.1e-5)
    np.testing.assert_allclose(1000 * got.residual, [0.81, -2.18, 0.00, 2.01, -0.81, 0.18], atol=5.1e-3)
    assert got.freedom == 3
    assert got.vtpv == pytest.approx(8.217, abs=5e-4)
    m0 = np.sqrt(got.vtpv / 3)
    sd = 1000 * m0 * np.sqrt(np.diag(got.cov))[[got.index[n] for n in "123"]]
    np.testing.assert_allclose(sd, [1.13, 1.19, 0.91], atol=5.1e-3)


def test_loop_levelled_both_ways() -> None:
    """Source: sample output of gama-local 1.5.09, a loop of four points levelled both ways — verified.

    Printed: heights 998.77513, 997.93325, 999.27487 m, standard deviations 3.1, 3.5, 3.1 mm a priori, m₀' 5.42.
    """
    rise = [("1a", "4", -1.225), ("4", "3", -0.848), ("3", "2", 1.342), ("2", "1a", 0.720), ("1a", "2", -0.724),
            ("2", "3", -1.335), ("3", "4", 0.842), ("4", "1a", 1.231)]  # fmt: skip
    got = adjust_rises([Rise(a, b, h, 0.005) for a, b, h in rise], {"1a": 1000.0})
    np.testing.assert_allclose([got.at(n) for n in "432"], [998.77513, 997.93325, 999.27487], atol=5.1e-6)
    m0 = np.sqrt(got.vtpv / got.freedom)
    assert 5.0 * m0 == pytest.approx(5.42, abs=5e-3)
    sd = 1000 * np.sqrt(np.diag(got.cov))[[got.index[n] for n in "432"]]
    np.testing.assert_allclose(sd, [3.1, 3.5, 3.1], atol=0.051)


def test_five_lines_between_three_bench_marks() -> None:
    """Source: Strang & Borre, Linear Algebra, Geodesy, and GPS (1997), levelling example, seen as quoted in a forum.

    Bench marks 10.021, 10.321, 11.002 m; five lines, σ = 6 mm·√km. Quoted there: Σ(v/σ)² 4.636 and its factor 1.243.
    """
    lines = [("A", "E", 0.732, 970), ("A", "F", 1.978, 1002), ("B", "E", 0.420, 1070), ("C", "F", 0.988, 1110),
             ("E", "F", 1.258, 890)]  # fmt: skip
    rises = [Rise(a, b, h, 0.006 * np.sqrt(km / 1000)) for a, b, h, km in lines]
    got = adjust_rises(rises, {"A": 10.021, "B": 10.321, "C": 11.002})
    assert got.freedom == 3
    assert got.vtpv == pytest.approx(4.636, abs=1e-3)
    assert np.sqrt(got.vtpv / 3) == pytest.approx(1.243, abs=1e-3)
