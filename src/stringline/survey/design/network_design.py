"""Which of many possible tapes to pull: a set of lines that ties every point as well as so many lines can."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.survey.adjust.network import BoolArray, IntArray
from stringline.survey.design.next_tape import major_axis

_LOOSE_M = 30.0  # σ of a coordinate that nothing holds; keeps the algebra defined while lines are exchanged
_POWER = 8  # the worst axis rules, the others break ties


@dataclass(frozen=True)
class Possible:
    """Lines c = 0 … c−1 that could be pulled in one baseline's frame: A at point 0, B at point 1 on the x axis.

    ``rows`` (c, u) is each line's design over the u unknowns, divided by its σ; ``i``, ``j``, ``length`` (c,) its ends
    and metres. The unknowns are B's x, then x and y of each further point.
    """

    i: IntArray
    j: IntArray
    length: Array
    sigma: Array
    rows: Array

    @property
    def unknowns(self) -> int:
        """Number of unknowns u."""
        return int(self.rows.shape[1])


def possible_lines(xy: Array, sigma: Array, i: IntArray, j: IntArray) -> Possible:
    """Lines between points i and j (c,) of xy (n, 2) with their σ (c,); points 0 and 1 are the baseline's ends."""
    d = xy[j] - xy[i]
    length = np.hypot(d[:, 0], d[:, 1])
    u = d / length[:, None] / sigma[:, None]
    full = np.zeros((len(i), 2 * len(xy)))
    c = np.arange(len(i))
    full[c, 2 * i], full[c, 2 * i + 1] = -u[:, 0], -u[:, 1]
    full[c, 2 * j], full[c, 2 * j + 1] = u[:, 0], u[:, 1]
    free = np.delete(np.arange(2 * len(xy)), [0, 1, 3])
    return Possible(i, j, length, sigma, full[:, free])


def covariance(p: Possible, chosen: BoolArray) -> Array:
    """Covariance (u, u) of the unknowns from the chosen lines (c,); what nothing holds has a σ of 30 m."""
    rows = p.rows[chosen]
    return np.asarray(np.linalg.inv(rows.T @ rows + np.eye(p.unknowns) / _LOOSE_M**2), dtype=float)


def axes(Q: Array) -> Array:
    """Largest ellipse axis of B and of each further point, m, from the covariance of the unknowns (u, u)."""
    d = np.diag(Q)
    x, y = np.arange(1, len(Q), 2), np.arange(2, len(Q), 2)
    return np.concatenate([[np.sqrt(d[0])], major_axis(d[x], d[y], Q[x, y])])


def redundancy(p: Possible, chosen: BoolArray) -> Array:
    """Redundancy number of each line (c,): of a chosen one as it is, of another one if it were added.

    With q = a Q aᵀ, a divided by σ: 1 − q for a chosen line, 1/(1 + q) for another.
    """
    Q = covariance(p, chosen)
    q = np.einsum("ci,ij,cj->c", p.rows, Q, p.rows)
    return np.asarray(np.where(chosen, 1.0 - q, 1.0 / (1.0 + q)), dtype=float)


def merit(all_axes: Array) -> Array:
    """One number for the axes (…, n) of a design, m: (Σ a⁸)^⅛, nearly the worst axis; smaller is better.

    >>> float(merit(np.array([0.003, 0.002, 0.001])).round(6))
    0.003014
    """
    return np.asarray((all_axes**_POWER).sum(axis=-1) ** (1.0 / _POWER), dtype=float)


def with_each(p: Possible, Q: Array) -> Array:
    """Merit of the design with covariance Q and each line (c,) added to it: Q − Qaᵀ aQ/(1 + aQaᵀ) for each."""
    h = p.rows @ Q
    t = 1.0 + np.einsum("cu,cu->c", h, p.rows)
    x, y = np.arange(1, len(Q), 2), np.arange(2, len(Q), 2)
    d = np.diag(Q)
    xx = d[x][None, :] - h[:, x] ** 2 / t[:, None]
    yy = d[y][None, :] - h[:, y] ** 2 / t[:, None]
    xy = Q[x, y][None, :] - h[:, x] * h[:, y] / t[:, None]
    b = np.sqrt(np.maximum(d[0] - h[:, 0] ** 2 / t, 0.0))
    return merit(np.concatenate([b[:, None], major_axis(xx, yy, xy)], axis=1))


def exchange(p: Possible, chosen: BoolArray, passes: int = 8) -> BoolArray:
    """Exchange one chosen line at a time for a better one until no exchange helps; the number of lines stays.

    Never worse than it began; the best of all sets is not promised.
    """
    chosen = chosen.copy()
    best = float(merit(axes(covariance(p, chosen))))
    for _ in range(passes):
        helped = False
        for out in np.flatnonzero(chosen):
            chosen[out] = False
            score = np.where(chosen, np.inf, with_each(p, covariance(p, chosen)))
            into = int(np.argmin(score))
            if score[into] < best * (1.0 - 1e-6) and into != out:
                chosen[into] = True
                best, helped = float(score[into]), True
            else:
                chosen[out] = True
        if not helped:
            break
    return chosen


def braced(p: Possible, chosen: BoolArray, least_r: float, most: int) -> tuple[BoolArray, list[int]]:
    """Add lines until every one has a redundancy of ``least_r``, at most ``most``; the set and the order of adding."""
    chosen = chosen.copy()
    order: list[int] = []
    while len(order) < most:
        Q = covariance(p, chosen)
        h = p.rows @ Q
        q = np.einsum("cu,cu->c", h, p.rows)
        r = 1.0 - q[chosen]
        if r.min(initial=1.0) >= least_r:
            break
        cross = h @ p.rows[chosen].T
        after = r[None, :] + cross**2 / (1.0 + q)[:, None]
        short = np.maximum(least_r - after, 0.0).sum(axis=1) + np.maximum(least_r - 1.0 / (1.0 + q), 0.0)
        worth = short / least_r + with_each(p, Q) / float(merit(axes(Q)))
        into = int(np.argmin(np.where(chosen, np.inf, worth)))
        if chosen.all():
            break
        chosen[into] = True
        order.append(into)
    return chosen, order
