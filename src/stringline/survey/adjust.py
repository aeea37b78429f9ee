"""Least-squares adjustment of a network, and what each reading and each point is worth."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from stringline.geometry import Array
from stringline.survey.network import BoolArray, Network
from stringline.survey.result import GlobalTest


@dataclass(frozen=True)
class Adjustment:
    """A network after least squares. All arrays belong to ``network``'s rows (m) and points (n).

    ``used`` (m,) masks the rows that took part; a row left out still gets its residual against the rest.
    ``A`` (m, 2n) is the design at the solution (zero columns for held coordinates), ``p`` (m,) the weights 1/σ² (0 for
    a row left out), ``v`` (m,) residuals adjusted − read, ``Q`` (2n, 2n) the a-priori covariance of the coordinates
    in m² (weights are 1/σ², so cofactor and a-priori covariance are the same thing), zero where held.
    ``r`` (m,) redundancy numbers, ``w`` v/(σ√r), ``tau`` w/σ₀, NaN where r < 1e-6 (or f = 0); ``mdb`` (m,) smallest
    detectable slip, inf where none is. ``ellipses`` (n, 3): major, minor (1 σ, m) and angle (rad) of the major axis.
    """

    network: Network
    xy: Array
    Q: Array
    A: Array
    p: Array
    used: BoolArray
    computed: Array
    v: Array
    r: Array
    w: Array
    tau: Array
    mdb: Array
    vtpv: float
    f: int
    sigma0: float
    test: GlobalTest
    ellipses: Array
    iterations: int
    converged: bool

    @cached_property
    def Qvv(self) -> Array:  # noqa: N802
        """Covariance of the residuals P⁻¹ − A Q Aᵀ over all rows, shape (m, m); for rows that took part."""
        q = -(self.A @ self.Q @ self.A.T)
        q[np.diag_indices(len(self.v))] += self.network.sigma**2
        return q

    def sigma_of(self, i: int, j: int) -> float:
        """Standard deviation of the adjusted distance between points i and j, m."""
        d = self.xy[j] - self.xy[i]
        length = float(np.hypot(d[0], d[1]))
        if length == 0.0:
            return 0.0
        u = d / length
        g = np.concatenate([-u, u])
        rows = [2 * i, 2 * i + 1, 2 * j, 2 * j + 1]
        return float(np.sqrt(max(0.0, g @ self.Q[np.ix_(rows, rows)] @ g)))


def adjust(
    network: Network,
    start_xy: Array,
    *,
    use: BoolArray | None = None,
    max_iter: int = 50,
    tol: float = 1e-10,
) -> Adjustment:
    """Adjust by Gauss–Newton with step halving from ``start_xy`` (n, 2).

    ``use`` (m,) leaves rows out. ``tol`` is the largest last step, m. Raises ``Singular`` where the rows that take
    part do not hold every point at the solution.
    """
    raise NotImplementedError
