"""Tapes that could still be pulled: every pair of points, with its length, its σ and what it would do, as arrays."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.survey.adjust.network import BoolArray, IntArray, Network
from stringline.survey.adjust.tape import tape_sigma

REACH = 1.25
"""A further tape is taken to reach this much beyond the longest one pulled so far (practice)."""


@dataclass(frozen=True)
class Candidates:
    """Further tapes c = 0 … c−1 between points ``i`` and ``j``, each (c,).

    ``length`` and ``sigma`` (m) are what it would read and how well; ``Qa`` (c, 2n) is Q aᵀ and ``q`` (c,) a Q aᵀ, the
    variance of its length as known already; ``again`` (c,) marks lines that have been taped before.
    """

    i: IntArray
    j: IntArray
    length: Array
    sigma: Array
    Qa: Array
    q: Array
    again: BoolArray

    @property
    def total(self) -> Array:
        """σ² + q: how far a reading may lie from what is expected, m², shape (c,)."""
        return self.sigma**2 + self.q


def candidates(net: Network, xy: Array, Q: Array, reach_m: float | None = None) -> Candidates:
    """All pairs of points within reach, neither held nor blocked, at xy (n, 2) with covariance Q (2n, 2n)."""
    i, j = np.triu_indices(net.n, 1)
    d = xy[j] - xy[i]
    length = np.hypot(d[:, 0], d[:, 1])
    reach_m = net.reach_m if reach_m is None else reach_m
    if reach_m is None:
        longest = float(np.max(net.value[: net.tapes])) if net.tapes else np.inf
        reach_m = REACH * longest
    held = np.asarray(net.fixed.all(axis=1))
    keep = (length <= reach_m) & (length > 1e-6) & ~np.logical_and(held[i], held[j])
    for one, other in net.blocked:
        keep &= ~((i == min(one, other)) & (j == max(one, other)))
    i, j, length = i[keep], j[keep], length[keep]
    u = d[keep] / length[:, None]
    Qa = (Q[2 * j] - Q[2 * i]) * u[:, :1] + (Q[2 * j + 1] - Q[2 * i + 1]) * u[:, 1:]  # Q is symmetric
    rows = np.arange(len(i))
    q = u[:, 0] * (Qa[rows, 2 * j] - Qa[rows, 2 * i]) + u[:, 1] * (Qa[rows, 2 * j + 1] - Qa[rows, 2 * i + 1])
    taped = np.zeros((net.n, net.n), dtype=bool)
    a, b = net.at[: net.tapes, 0], net.at[: net.tapes, 1]
    taped[a, b] = taped[b, a] = True
    return Candidates(i, j, length, likely_sigma(net, length), Qa, np.maximum(q, 0.0), taped[i, j])


def likely_sigma(net: Network, length: Array) -> Array:
    """σ that a further tape of each length would have, judged by the tapes already pulled; shape of ``length``.

    All alike: that σ. Else class II's, scaled by the median of had/class II over the tapes pulled (practice).
    """
    usual = _class_sigma(length)
    if net.tapes == 0:
        return usual
    had = net.sigma[: net.tapes]
    if np.ptp(had) < 1e-9:
        return np.full_like(length, had[0])
    return usual * float(np.median(had / _class_sigma(net.value[: net.tapes])))


def _class_sigma(length: Array) -> Array:
    """σ of a class II tape for each length; one look-up for each whole metre."""
    whole = np.ceil(length - 1e-9).astype(np.int64)
    table = np.array([tape_sigma(float(x)) for x in range(int(whole.max(initial=0)) + 1)])
    return np.asarray(table[whole], dtype=float)
