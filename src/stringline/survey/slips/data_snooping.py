"""The algebra of slips: what leaving out, or explaining, one or more readings does to the fit.

At any coordinates x₀ the readings miss what they should be by d = l − f(x₀). With N = AᵀPA over all rows,
M = P − P A N⁻¹ Aᵀ P turns misclosures into g = −M d, which is P v after the adjustment, and Ω = dᵀ M d = vᵀPv.
A slip ∇ in the readings S changes that to Ω + 2 ∇ᵀ g_S + ∇ᵀ M_SS ∇: a rank-one (two, three) update, with no new
adjustment. Its best value is ∇ = −M_SS⁻¹ g_S and takes g_Sᵀ M_SS⁻¹ g_S off Ω; M_SS⁻¹ is also the covariance of what
the other readings say about those in S. For one reading that is ∇ = −v/r and w², with w = v/(σ√r)
(Baarda's data snooping).
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from statistics import NormalDist

import numpy as np

from stringline.geometry import Array
from stringline.limits import BAARDA_W, HIGHEST_W, SURVEY_ALPHA, UNTESTED_R
from stringline.survey.adjust.least_squares import Adjustment
from stringline.survey.adjust.network import BoolArray, IntArray

SAME_CORRELATION = 0.995
"""Two standardised residuals closer than this are one condition: the two slips cannot be solved for together."""


@dataclass(frozen=True)
class Linearised:
    """All rows linearised at one place. ``M`` (m, m), ``g`` (m,), ``omega`` = vᵀPv, ``testable`` (m,) as above."""

    M: Array
    g: Array
    omega: float
    freedom: int
    testable: BoolArray

    @classmethod
    def of(cls, adj: Adjustment) -> Linearised:
        """Linearise every row at an adjustment's coordinates, the rows that it left out included."""
        net = adj.network
        return cls.from_design(adj.A, adj.Q, net.weight, -adj.v, adj.used)

    @classmethod
    def from_design(cls, A: Array, Q: Array, weight: Array, d: Array, used: BoolArray | None = None) -> Linearised:
        """Build from a design (m, u), the covariance (u, u) from the rows ``used``, weights and misclosures d (m,).

        One length read three times with σ 2 mm, the last 30 mm too long: it is off by that, and w shows it.

        >>> A, sigma, d = np.ones((3, 1)), 0.002, np.array([0.0, 0.0, 0.030])
        >>> at = Linearised.from_design(A, np.array([[sigma**2 / 3]]), np.full(3, sigma**-2), d)
        >>> at.misfit(np.array([2]))[0].round(6).tolist(), (-at.w).round(2).tolist(), at.freedom
        ([0.03], [-6.12, -6.12, 12.25], 2)
        """
        if used is not None and not used.all():
            out = np.flatnonzero(~used)
            QAt = Q @ A[out].T
            C = A[out] @ QAt
            C[np.diag_indices(len(out))] += 1.0 / weight[out]
            Q = Q - QAt @ np.linalg.solve(C, QAt.T)
        PA = weight[:, None] * A
        M = -(PA @ Q @ PA.T)
        M[np.diag_indices(len(weight))] += weight
        r = np.diag(M) / weight
        g = -(M @ d)
        return cls(M, g, float(-(d @ g)), round(float(np.sum(r))), r > UNTESTED_R)

    @property
    def m(self) -> int:
        """Number of rows."""
        return len(self.g)

    @cached_property
    def diag(self) -> Array:
        """Diagonal of M, 1 where a row cannot be tested (so that it may be divided by), shape (m,)."""
        return np.where(self.testable, np.diag(self.M), 1.0)

    @cached_property
    def w(self) -> Array:
        """Standardised residuals g_i/√M_ii, 0 where a row cannot be tested, shape (m,)."""
        return np.where(self.testable, self.g / np.sqrt(self.diag), 0.0)

    @cached_property
    def correlation(self) -> Array:
        """Correlation M_ij/√(M_ii M_jj) of the standardised residuals, 0 where one cannot be tested, shape (m, m)."""
        s = np.where(self.testable, 1.0 / np.sqrt(self.diag), 0.0)
        return self.M * s[:, None] * s[None, :]

    def misfit(self, rows: IntArray) -> tuple[Array, Array]:
        """Read minus expected from all other rows, −M_SS⁻¹ g_S (k,), and its covariance M_SS⁻¹ (k, k), for rows S."""
        C = np.linalg.inv(self.M[np.ix_(rows, rows)])
        return -(C @ self.g[rows]), np.asarray(C, dtype=float)

    def gain(self, sets: IntArray) -> Array:
        """Drop g_Sᵀ M_SS⁻¹ g_S in Ω when a slip of free amount is allowed in every row of a set (s, k), shape (s,).

        −inf where the rows of a set cannot be solved for together.
        """
        C = self.correlation[sets[:, :, None], sets[:, None, :]]
        w = self.w[sets]
        ok = self.testable[sets].all(axis=1) & (np.linalg.det(C) > 1.0 - SAME_CORRELATION**2)
        C[~ok] = np.eye(sets.shape[1])
        x = np.linalg.solve(C, w[:, :, None])[:, :, 0]
        return np.where(ok, np.einsum("si,si->s", w, x), -np.inf)

    def widened(self, sets: IntArray) -> Array:
        """Drop in Ω for each set (s, k) with each further row added, shape (s, m); −inf where it cannot be solved."""
        if sets.shape[1] == 1:
            side, w = self.correlation[sets[:, 0]], self.w[sets[:, 0]]
            left = 1.0 - side**2
            fine = (left > 1.0 - SAME_CORRELATION**2) & self.testable[sets] & self.testable[None, :]
            rest = self.w[None, :] - w[:, None] * side
            return np.where(fine, w[:, None] ** 2 + rest**2 / np.where(fine, left, 1.0), -np.inf)
        C = self.correlation[sets[:, :, None], sets[:, None, :]]
        ok = self.testable[sets].all(axis=1) & (np.linalg.det(C) > 1.0 - SAME_CORRELATION**2)
        C[~ok] = np.eye(sets.shape[1])
        w = self.w[sets]
        side = self.correlation[sets]  # (s, k, m)
        inv = np.linalg.inv(C)
        x = np.einsum("sij,sj->si", inv, w)
        base = np.einsum("si,si->s", w, x)
        rest = self.w[None, :] - np.einsum("sk,skm->sm", x, side)
        left = 1.0 - np.einsum("skm,skm->sm", side, inv @ side)
        fine = ok[:, None] & self.testable[None, :] & (left > 1.0 - SAME_CORRELATION**2)
        return np.where(fine, base[:, None] + rest**2 / np.where(fine, left, 1.0), -np.inf)


def growing_sets(at: Linearised, keep: int = 60) -> Iterator[tuple[IntArray, Array]]:
    """Sets of one row, of two, of three … that explain most, best first: sets (s, size) and their drop in Ω (s,).

    Singles and pairs are searched whole, of which the best ``keep`` pairs are given; larger sets grow from those.
    """
    sets = np.flatnonzero(at.testable)[:, None]
    gain = at.w[sets[:, 0]] ** 2
    order = np.argsort(-gain, kind="stable")
    yield sets[order], gain[order]
    while len(sets):
        wide = at.widened(sets)
        if sets.shape[1] == 1:
            wide[sets[:, 0][:, None] >= np.arange(at.m)[None, :]] = -np.inf  # each pair once
        flat = wide.ravel()
        most = min(len(flat), sets.shape[1] * keep)  # larger sets come up once for each way to grow them
        top = np.argpartition(-flat, most - 1)[:most]
        top = top[flat[top] > -np.inf]
        wider = np.sort(np.concatenate([sets[top // at.m], (top % at.m)[:, None]], axis=1), axis=1)
        _, first = np.unique(wider, axis=0, return_index=True)
        order = first[np.argsort(-flat[top[first]], kind="stable")][:keep]
        sets, gain = wider[order], flat[top[order]]
        yield sets, gain


def best_sets(at: Linearised, size: int, keep: int = 60) -> tuple[IntArray, Array]:
    """The sets of exactly ``size`` rows that explain most; see :func:`growing_sets`."""
    return next(itertools.islice(growing_sets(at, keep), size - 1, None))


def threshold(tested: int, alpha: float = SURVEY_ALPHA) -> float:
    """|w| above which a reading is called contradicted, when ``tested`` readings are looked at together.

    Bonferroni's bound on ``alpha`` for the whole survey, Φ⁻¹(1 − α/2k), but never below Baarda's 3.29 and never above
    3.84: a slip of one and a half times the smallest detectable one has |w| about 6.2 ± 1 and must still be seen.
    Source ``data-snooping``.

    >>> [round(threshold(k), 2) for k in (1, 20, 40, 400)]
    [3.29, 3.58, 3.75, 3.84]
    """
    alone = NormalDist().inv_cdf(1.0 - alpha / (2.0 * max(tested, 1)))
    return float(np.clip(alone, BAARDA_W, HIGHEST_W))
