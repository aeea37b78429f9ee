"""From the frame of observed coordinates to the baseline's own: A at the origin, x towards B."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from stringline.geometry import Array
from stringline.survey.adjust.least_squares import Adjustment
from stringline.survey.adjust.network import Datum


def in_baseline_frame(adj: Adjustment) -> Adjustment:
    """The adjustment in the frame that results are given in.

    Where observed coordinates carry the frame and a baseline is named as well, the coordinates and their covariance are
    moved to the baseline's frame; readings, residuals and tests are the same in both. ``A`` still belongs to the
    frame of the adjustment. Everything else comes back as it is.
    """
    net = adj.network
    if net.datum is not Datum.COORDINATES or net.baseline is None:
        return adj
    xy, cov = to_baseline(adj.xy, adj.Q, *net.baseline)
    return replace(adj, xy=xy, Q=cov)


def to_baseline(xy: Array, cov: Array, a: int, b: int) -> tuple[Array, Array]:
    """Coordinates (n, 2) and covariance (2n, 2n) with point ``a`` at the origin and x towards ``b``.

    x′ = R(x − x_a), where the turn R follows from a and b itself: dx′ᵢ = R(dxᵢ − dx_a − J(xᵢ − x_a) dθ), J a quarter
    turn and dθ = n·(dx_b − dx_a)/|ab|, n the left normal of ab. First order in the covariance, exact in the
    coordinates; a and b must not coincide.

    >>> moved, _ = to_baseline(np.array([[1.0, 1.0], [1.0, 5.0], [-2.0, 1.0]]), np.eye(6), 0, 1)
    >>> moved.round(12).tolist()
    [[0.0, 0.0], [4.0, 0.0], [0.0, 3.0]]
    """
    n = len(xy)
    line = xy[b] - xy[a]
    size = float(np.hypot(line[0], line[1]))
    e = line / size
    turn = np.array([[e[0], e[1]], [-e[1], e[0]]])
    quarter = np.array([[0.0, -1.0], [1.0, 0.0]])
    normal = quarter @ e
    q = xy - xy[a]
    d_theta = np.zeros(2 * n)
    d_theta[2 * b : 2 * b + 2] = normal / size
    d_theta[2 * a : 2 * a + 2] = -normal / size
    jac = np.kron(np.eye(n), turn)
    jac[:, 2 * a : 2 * a + 2] -= np.tile(turn, (n, 1))
    jac -= np.outer((q @ quarter.T @ turn.T).reshape(-1), d_theta)
    moved = q @ turn.T
    moved[a], moved[b, 1] = 0.0, 0.0
    out = jac @ cov @ jac.T
    still = [2 * a, 2 * a + 1, 2 * b + 1]
    out[still] = 0.0
    out[:, still] = 0.0
    return moved, out
