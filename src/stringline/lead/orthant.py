"""Chance that up to three jointly normal amounts are all above nought: the part of a Gaussian that makes sense.

No amount of a cause is negative, so the evidence of a set of causes is a Gaussian's cut off at nought.
"""

from __future__ import annotations

import numpy as np
from scipy.special import log_ndtr, ndtr, owens_t

from stringline.geometry import Array

_TINY = 1e-300


def orthant(mean: Array, cov: Array) -> Array:
    """P(all ≥ 0) for n Gaussians of k ≤ 3 variables; ``mean`` (n, k), ``cov`` (n, k, k); shape (n,).

    k = 1: Φ(μ/σ). k = 2: Φ₂(μ₁/σ₁, μ₂/σ₂; ρ) by Owen's T function (1956), both to the digits of their functions. k = 3:
    the first variable is integrated by 48 Gauss–Legendre points over the exact value of the other two given it, to
    about 1e-6. Raises ValueError for more than three.

    >>> orthant(np.zeros((1, 2)), np.array([[[1.0, 0.5], [0.5, 1.0]]])).round(6)
    array([0.333333])
    """
    k = mean.shape[1]
    if k == 0:
        return np.ones(mean.shape[0])
    sd = np.sqrt(np.maximum(np.einsum("nii->ni", cov), _TINY))
    h = mean / sd
    if k == 1:
        return _phi(h[:, 0])
    if k == 2:
        return _two(h[:, 0], h[:, 1], cov[:, 0, 1] / (sd[:, 0] * sd[:, 1]))
    if k == 3:
        return _three(mean, cov, sd)
    raise ValueError("at most three amounts at a time")


def _phi(x: Array) -> Array:
    return np.asarray(ndtr(x))


def _two(h: Array, k: Array, rho: Array) -> Array:
    """P(X ≥ −h, Y ≥ −k) = Φ₂(h, k; ρ) by Owen's T function."""
    rho = np.clip(rho, -1.0 + 1e-12, 1.0 - 1e-12)
    # Owen (1956); an argument of nought makes his ratio 0/0, so it is moved by less than any digit that is kept.
    h = np.where(np.abs(h) < 1e-12, 1e-12, h)
    k = np.where(np.abs(k) < 1e-12, 1e-12, k)
    root = np.sqrt(1.0 - rho * rho)
    a = (k / h - rho) / root
    b = (h / k - rho) / root
    out = 0.5 * (_phi(h) + _phi(k)) - owens_t(h, a) - owens_t(k, b) - np.where(h * k > 0.0, 0.0, 0.5)
    return np.asarray(np.clip(out, 0.0, 1.0))


def _three(mean: Array, cov: Array, sd: Array) -> Array:
    """Integrate the first variable from nought up, the other two exact given it."""
    nodes, weights = np.polynomial.legendre.leggauss(48)
    low = np.maximum(-mean[:, 0] / sd[:, 0], -9.0)
    high = np.maximum(low, 9.0)
    z = 0.5 * (high - low)[:, None] * (nodes + 1.0) + low[:, None]  # (n, q) standard units of the first
    gain = cov[:, 0, 1:] / sd[:, :1]  # (n, 2)
    rest = cov[:, 1:, 1:] - gain[:, :, None] * gain[:, None, :]
    s = np.sqrt(np.maximum(np.einsum("nii->ni", rest), _TINY))
    rho = rest[:, 0, 1] / (s[:, 0] * s[:, 1])
    given = (mean[:, None, 1:] + z[:, :, None] * gain[:, None, :]) / s[:, None, :]
    inner = _two(given[:, :, 0], given[:, :, 1], np.broadcast_to(rho[:, None], z.shape))
    density = np.exp(-0.5 * z * z) / np.sqrt(2.0 * np.pi)
    return np.asarray(np.clip((inner * density * weights).sum(axis=1) * 0.5 * (high - low), 0.0, 1.0))


def truncated_moments(mean: Array, sd: Array) -> tuple[Array, Array]:
    """Mean and σ of normal amounts N(μ, σ²) that cannot be negative; arrays broadcast.

    With h = μ/σ and λ = φ(h)/Φ(h): mean μ + σλ, variance σ²(1 − hλ − λ²). λ is taken by logarithms, so that amounts far
    below nought keep their digits.

    >>> mean, sd = truncated_moments(np.array([0.0]), np.array([1.0]))
    >>> mean.round(4), sd.round(4)
    (array([0.7979]), array([0.6028]))
    """
    h = mean / sd
    ratio = np.exp(-0.5 * h * h - 0.5 * np.log(2.0 * np.pi) - log_ndtr(h))
    centre = mean + sd * ratio
    spread = sd * np.sqrt(np.maximum(1.0 - h * ratio - ratio * ratio, 1e-12))
    return np.maximum(centre, 0.0), spread
