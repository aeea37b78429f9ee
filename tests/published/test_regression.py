"""Least squares as logged currents and leads are read with it."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from stringline.mechanics.regression import linear_fit, solve_stack


def _norris() -> tuple[np.ndarray, np.ndarray]:
    import scipy.stats

    path = Path(scipy.stats.__file__).parent / "tests" / "data" / "nist_linregress" / "Norris.dat"
    rows = [line.split() for line in path.read_text().splitlines()[60:96]]
    data = np.array(rows, dtype=float)
    return data[:, 0], data[:, 1]


def test_norris() -> None:
    """Source: NIST Statistical Reference Datasets, Norris (lower difficulty) — seen.

    Estimates to 1e-11, standard deviations to 1e-10 of the certified values.
    """
    y, x = _norris()
    fit = linear_fit(np.stack([np.ones_like(x), x], axis=1), y)
    assert fit.estimate[0] == pytest.approx(-0.262323073774029, rel=1e-11)
    assert fit.estimate[1] == pytest.approx(1.00211681802045, rel=1e-12)
    assert fit.sd[0] == pytest.approx(0.232818234301152, rel=1e-10)
    assert fit.sd[1] == pytest.approx(0.000429796848199937, rel=1e-10)
    assert fit.residual_sd == pytest.approx(0.884796396144373, rel=1e-11)
    assert fit.freedom == 34


LONGLEY = """
60323 83.0 234289 2356 1590 107608 1947
61122 88.5 259426 2325 1456 108632 1948
60171 88.2 258054 3682 1616 109773 1949
61187 89.5 284599 3351 1650 110929 1950
63221 96.2 328975 2099 3099 112075 1951
63639 98.1 346999 1932 3594 113270 1952
64989 99.0 365385 1870 3547 115094 1953
63761 100.0 363112 3578 3350 116219 1954
66019 101.2 397469 2904 3048 117388 1955
67857 104.6 419180 2822 2857 118734 1956
68169 108.4 442769 2936 2798 120445 1957
66513 110.8 444546 4681 2637 121950 1958
68655 112.6 482704 3813 2552 123366 1959
69564 114.2 502601 3931 2514 125368 1960
69331 115.7 518173 4806 2572 127852 1961
70551 116.9 554894 4007 2827 130081 1962
"""
CERTIFIED = [
    -3482258.63459582,
    15.0618722713733,
    -0.0358191792925910,
    -2.02022980381683,
    -1.03322686717359,
    -0.0511041056535807,
    1829.15146461355,
]
CERTIFIED_SD = [
    890420.383607373,
    84.9149257747669,
    0.0334910077722432,
    0.488399681651699,
    0.214274163161675,
    0.226073200069370,
    455.478499142212,
]


def test_longley() -> None:
    """Source: NIST Statistical Reference Datasets, Longley (higher difficulty) — seen.

    Six near-parallel columns; estimates and standard deviations to 1e-8 of the certified values.
    """
    data = np.array([line.split() for line in LONGLEY.split("\n") if line], dtype=float)
    fit = linear_fit(np.column_stack([np.ones(16), data[:, 1:]]), data[:, 0])
    assert fit.estimate == pytest.approx(CERTIFIED, rel=1e-8)
    assert fit.sd == pytest.approx(CERTIFIED_SD, rel=1e-8)


def test_norris_among_others() -> None:
    """Source: NIST Statistical Reference Datasets, Norris — seen.

    Solved in one stack with two other problems, the very call that every step of the diagnosis makes: to 1e-11.
    """
    y, x = _norris()
    a = np.stack([np.stack([np.ones_like(x), x], axis=1)] * 3)
    b = np.stack([np.sin(x), y, np.cos(x)])
    solved = solve_stack(a, b)
    assert solved.estimate[1] == pytest.approx([-0.262323073774029, 1.00211681802045], rel=1e-11)
    root = 0.884796396144373 * solved.root[1]
    assert np.sqrt(np.diag(root @ root.T)) == pytest.approx([0.232818234301152, 0.000429796848199937], rel=1e-10)
    assert solved.log_det[1] == pytest.approx(np.linalg.slogdet(a[1].T @ a[1])[1], rel=1e-9)


@pytest.mark.parametrize("seed", range(3))
def test_weighted_fit_against_general_least_squares(seed: int) -> None:
    """Source: scipy.optimize.least_squares as a second judge — verified.

    Weighted estimates to 1e-7, covariance to 1e-6.
    """
    from scipy.optimize import least_squares

    rng = np.random.default_rng(seed)
    x = rng.normal(size=(12, 3))
    sigma = rng.uniform(0.5, 2.0, 12)
    y = x @ np.array([1.0, -2.0, 0.5]) + sigma * rng.normal(size=12)
    fit = linear_fit(x, y, sigma)

    def misfit(b: np.ndarray) -> np.ndarray:
        return np.asarray((y - x @ b) / sigma)

    other = least_squares(misfit, np.zeros(3), xtol=1e-15, ftol=1e-15, gtol=1e-15)
    jac = np.asarray(other.jac)
    assert fit.estimate == pytest.approx(other.x, rel=1e-7)
    assert fit.cov == pytest.approx(np.linalg.inv(jac.T @ jac), rel=1e-6)


def test_refuses_what_cannot_be_parted() -> None:
    """Source: own rule — verified. Two columns of one shape and too few rows are refused."""
    x = np.ones((4, 2))
    with pytest.raises(ValueError, match="same shape"):
        linear_fit(x, np.arange(4.0))
    with pytest.raises(ValueError, match="cannot give"):
        linear_fit(np.ones((1, 2)), np.ones(1))
