"""Variance shares and truncated Gaussians, as the lead's tolerances and its diagnosis use them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from stringline.lead.orthant import orthant, truncated_moments
from stringline.lead.shares import SLICES, VarianceShares


def test_ishigami() -> None:
    """Source: Ishigami & Homma (1990) function, a 7, b 0.1, first-order indices by integration — verified.

    S₁ 0.3139, S₂ 0.4424, S₃ 0; ours from 200 000 samples to 0.01.
    """
    rng = np.random.default_rng(5)
    u = rng.random((200_000, 3))
    x = (2 * u - 1) * math.pi
    y = np.sin(x[:, 0]) + 7 * np.sin(x[:, 1]) ** 2 + 0.1 * x[:, 2] ** 4 * np.sin(x[:, 0])
    shares = VarianceShares(3)
    for part in range(4):
        rows = slice(part * 50_000, (part + 1) * 50_000)
        shares.add((u[rows] * SLICES).astype(np.intp), y[rows])
    assert shares.shares() == pytest.approx([0.3139, 0.4424, 0.0], abs=0.01)


def test_ishigami_variance_by_its_formula() -> None:
    """Source: closed form of the Ishigami function's variance parts — verified.

    The published indices to four digits.
    """
    a, b, pi = 7.0, 0.1, math.pi
    v1 = 0.5 * (1 + b * pi**4 / 5) ** 2
    v2 = a * a / 8
    total = v1 + v2 + 8 * b * b * pi**8 / 225
    assert (v1 / total, v2 / total) == pytest.approx((0.3139, 0.4424), abs=5e-5)


def test_additive_shares_add_up() -> None:
    """Source: shares of a sum are the squares of its coefficients — verified.

    Coefficients 3, 2, 1, 0: 9/14, 4/14, 1/14, 0 to 0.01.
    """
    from scipy.special import ndtri

    rng = np.random.default_rng(6)
    u = rng.random((100_000, 4))
    y = ndtri(u) @ np.array([3.0, 2.0, 1.0, 0.0])
    shares = VarianceShares(4)
    shares.add((u * SLICES).astype(np.intp), y)
    assert shares.shares() == pytest.approx(np.array([9, 4, 1, 0]) / 14, abs=0.01)


@pytest.mark.parametrize("rho", [-0.95, -0.5, 0.0, 0.3, 0.9])
def test_quadrant_probability(rho: float) -> None:
    """Source: Sheppard (1899), P(X > 0, Y > 0) = ¼ + arcsin(ρ)/2π — verified. To 1e-10."""
    cov = np.array([[[1.0, rho], [rho, 1.0]]])
    assert orthant(np.zeros((1, 2)), cov)[0] == pytest.approx(0.25 + math.asin(rho) / (2 * math.pi), abs=1e-10)


def test_octant_probability() -> None:
    """Source: P of the positive octant = ⅛ + Σ arcsin(ρ)/4π (David, 1953) — verified. To 1e-6."""
    r = (0.4, -0.2, 0.6)
    cov = np.array([[[1.0, r[0], r[1]], [r[0], 1.0, r[2]], [r[1], r[2], 1.0]]])
    expected = 0.125 + sum(math.asin(x) for x in r) / (4 * math.pi)
    assert orthant(np.zeros((1, 3)), cov)[0] == pytest.approx(expected, abs=1e-6)


def test_orthants_against_scipy() -> None:
    """Source: scipy.stats.multivariate_normal as a second judge — verified. Two variables to 1e-6, three to 1e-4."""
    from scipy.stats import multivariate_normal

    rng = np.random.default_rng(7)
    for k, close in ((2, 1e-6), (3, 1e-4)):
        for _ in range(20):
            a = rng.normal(size=(k, k))
            cov = a @ a.T + 0.1 * np.eye(k)
            mean = rng.normal(size=k)
            theirs = float(multivariate_normal(mean=np.zeros(k), cov=cov).cdf(mean))
            assert orthant(mean[None], cov[None])[0] == pytest.approx(theirs, abs=close)


@pytest.mark.parametrize("h", [-3.0, -0.5, 0.0, 1.0, 4.0])
def test_truncated_normal(h: float) -> None:
    """Source: scipy.stats.truncnorm as a second judge — verified. Mean and σ of a normal cut at nought, to 1e-6."""
    from scipy.stats import truncnorm

    mean, sd = truncated_moments(np.array([h * 2.0]), np.array([2.0]))
    other = truncnorm(-h, np.inf, loc=h * 2.0, scale=2.0)
    assert mean[0] == pytest.approx(other.mean(), rel=1e-6)
    assert sd[0] == pytest.approx(other.std(), rel=1e-5)
