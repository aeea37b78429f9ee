"""Least squares that currents and leads are read with, by orthogonal factors so that near-parallel columns survive."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array


@dataclass(frozen=True)
class LinearFit:
    """Estimates of y ≈ X·b. ``cov`` is σ²·(XᵀX)⁻¹, with σ given or estimated from the residuals."""

    estimate: Array  # (p,)
    cov: Array  # (p, p)
    residual: Array  # (n,), weighted as the rows were
    sum_squares: float  # of the weighted residuals
    residual_sd: float  # estimated; 0 where there are no more rows than columns
    freedom: int

    @property
    def sd(self) -> Array:
        """Standard deviations of the estimates."""
        return np.sqrt(np.diag(self.cov))


def linear_fit(x: Array, y: Array, sigma: float | Array | None = None) -> LinearFit:
    """Fit y ≈ X·b by Householder QR on centred scale (source ``least-squares``).

    ``x`` has shape (n, p) with n ≥ p, ``y`` (n,). ``sigma`` weighs the rows and makes the covariance a-priori; without
    it rows count alike and σ comes from the residuals. Raises ValueError for columns that are not independent.
    """
    x = np.asarray(x, dtype=float)
    y = np.asarray(y, dtype=float)
    n, p = x.shape
    if n < p:
        raise ValueError(f"{n} readings cannot give {p} numbers")
    if sigma is not None:
        w = 1.0 / np.broadcast_to(np.asarray(sigma, dtype=float), (n,))
        x, y = x * w[:, None], y * w
    scale = np.sqrt(np.square(x).sum(axis=0))
    if np.any(scale == 0.0):
        raise ValueError("a column is nothing but zeros")
    q, r = np.linalg.qr(x / scale)
    if np.abs(np.diag(r)).min() < 1e-13 * np.abs(np.diag(r)).max():
        raise ValueError("two causes have the same shape; the readings cannot part them")
    scaled = np.linalg.solve(r, q.T @ y)
    residual = y - (x / scale) @ scaled
    # One step of refinement buys the digits that a badly conditioned set costs.
    scaled = scaled + np.linalg.solve(r, q.T @ residual)
    residual = y - (x / scale) @ scaled
    inv = np.linalg.solve(r, np.eye(p))
    ss = float(residual @ residual)
    freedom = n - p
    sd = math.sqrt(ss / freedom) if freedom > 0 else 0.0
    factor = 1.0 if sigma is not None else sd**2
    cov = factor * (inv @ inv.T) / np.outer(scale, scale)
    return LinearFit(scaled / scale, cov, residual, ss, sd, freedom)
