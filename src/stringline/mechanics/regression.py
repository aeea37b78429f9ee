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
    residual_sd: float  # estimated; 0 where there are no more rows than columns
    freedom: int

    @property
    def sd(self) -> Array:
        """Standard deviations of the estimates."""
        return np.sqrt(np.diag(self.cov))


def linear_fit(x: Array, y: Array, sigma: float | Array | None = None) -> LinearFit:
    """Fit y ≈ X·b, b = argmin ‖W(y − Xb)‖, by Householder QR on columns of unit length (source ``least-squares``).

    ``x`` has shape (n, p) with n ≥ p, ``y`` (n,). ``sigma`` weighs the rows by 1/σ and makes the covariance a-priori;
    without it rows count alike and σ² is ‖y − Xb‖²/(n − p). Raises ValueError for fewer rows than columns, or columns
    that depend on each other.

    >>> x = np.array([[1.0, 0.0], [1.0, 1.0], [1.0, 2.0]])
    >>> fit = linear_fit(x, np.array([1.0, 3.1, 4.9]))
    >>> fit.estimate.round(3), fit.sd.round(3), fit.freedom
    (array([1.05, 1.95]), array([0.112, 0.087]), 1)
    """
    x = np.asarray(x, dtype=float)
    y = np.asarray(y, dtype=float)
    n, p = x.shape
    if n < p:
        raise ValueError(f"{n} readings cannot give {p} numbers")
    if sigma is not None:
        w = 1.0 / np.broadcast_to(np.asarray(sigma, dtype=float), (n,))
        x, y = x * w[:, None], y * w
    solved = solve_stack(x[None], y[None])
    estimate, root = solved.estimate[0], solved.root[0]
    residual = y - x @ estimate
    freedom = n - p
    sd = math.sqrt(float(residual @ residual) / freedom) if freedom > 0 else 0.0
    factor = 1.0 if sigma is not None else sd**2
    return LinearFit(estimate, factor * (root @ root.T), residual, sd, freedom)


@dataclass(frozen=True)
class Solved:
    """Least-squares solutions of n problems at once. ``root``·``root``ᵀ is the inverse of AᵀA."""

    estimate: Array  # (n, p)
    root: Array  # (n, p, p)
    log_det: Array  # (n,) logarithm of the determinant of AᵀA


def solve_stack(a: Array, b: Array) -> Solved:
    """Solve min ‖A·x − b‖ for ``a`` (n, rows, p) and ``b`` (n, rows) by Householder QR, with one step of refinement.

    The regression of currents and every step of the diagnosis go through here. Raises ValueError for columns that are
    not independent.
    """
    scale = np.sqrt(np.square(a).sum(axis=1))  # (n, p)
    if np.any(scale == 0.0):
        raise ValueError("a column is nothing but zeros")
    even = a / scale[:, None, :]
    q, r = np.linalg.qr(even)
    diagonal = np.abs(np.einsum("nii->ni", r))
    if np.any(diagonal.min(axis=1) < 1e-13 * diagonal.max(axis=1)):
        raise ValueError("two causes have the same shape; the readings cannot part them")
    qt = q.transpose(0, 2, 1)
    x = np.linalg.solve(r, qt @ b[:, :, None])
    # One step of refinement buys the digits that a badly conditioned set costs.
    x = x + np.linalg.solve(r, qt @ (b[:, :, None] - even @ x))
    root = np.linalg.solve(r, np.broadcast_to(np.eye(a.shape[2]), r.shape)) / scale[:, :, None]
    log_det = 2.0 * (np.log(diagonal) + np.log(scale)).sum(axis=1)
    return Solved(x[:, :, 0] / scale, np.asarray(root), np.asarray(log_det))
