"""The algebra of slips: what leaving out, or explaining, one or more readings does to the fit.

At any coordinates x₀ the readings miss what they should be by d = l − f(x₀). With N = AᵀPA over all rows,
M = P − P A N⁻¹ Aᵀ P turns misclosures into g = −M d, which is P v after the adjustment, and Ω = dᵀ M d = vᵀPv.
A slip ∇ in the readings S changes that to Ω + 2 ∇ᵀ g_S + ∇ᵀ M_SS ∇: a rank-one (two, three) update, with no new
adjustment. Its best value is ∇ = −M_SS⁻¹ g_S and takes g_Sᵀ M_SS⁻¹ g_S off Ω; M_SS⁻¹ is also the covariance of what
the other readings say about those in S. For one reading that is ∇ = −v/r and w², with w = v/(σ√r)
(Baarda's data snooping).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from stringline.geometry import Array
from stringline.survey.adjust import Adjustment
from stringline.survey.network import BoolArray, IntArray

UNTESTED_R = 1e-6
"""A redundancy number below this means that no other reading says anything about the row."""

BAARDA_W = 3.2905
"""|w| that a good reading exceeds once in a thousand (Baarda; source ``data-snooping``)."""

SAME_CORRELATION = 0.995
"""Two standardised residuals closer than this are one condition: the two slips cannot be solved for together."""


@dataclass(frozen=True)
class Frame:
    """All rows linearised at one place. ``M`` (m, m), ``g`` (m,), ``omega`` = vᵀPv, ``testable`` (m,) as above."""

    M: Array
    g: Array
    omega: float
    freedom: int
    testable: BoolArray

    @classmethod
    def of(cls, adj: Adjustment) -> Frame:
        """Linearise every row at an adjustment's coordinates, the rows that it left out included."""
        net = adj.network
        return cls.from_design(adj.A, adj.Q, net.weight, -adj.v, adj.used)

    @classmethod
    def from_design(cls, A: Array, Q: Array, weight: Array, d: Array, used: BoolArray | None = None) -> Frame:
        """Build from a design (m, u), the covariance (u, u) from the rows ``used``, weights and misclosures d (m,)."""
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
        """Standardised residuals, 0 where a row cannot be tested, shape (m,)."""
        return np.where(self.testable, self.g / np.sqrt(self.diag), 0.0)

    @cached_property
    def correlation(self) -> Array:
        """Correlation of the standardised residuals, 0 where a row cannot be tested, shape (m, m)."""
        s = np.where(self.testable, 1.0 / np.sqrt(self.diag), 0.0)
        return self.M * s[:, None] * s[None, :]

    def misfit(self, rows: IntArray) -> tuple[Array, Array]:
        """Read minus expected from all other rows, shape (k,), and its covariance (k, k), for a set of rows."""
        C = np.linalg.inv(self.M[np.ix_(rows, rows)])
        return -(C @ self.g[rows]), np.asarray(C, dtype=float)

    def gain(self, sets: IntArray) -> Array:
        """Drop in Ω when a slip of free amount is allowed in every row of a set, for sets (s, k), shape (s,).

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
        with np.errstate(divide="ignore", invalid="ignore"):
            return np.where(fine, base[:, None] + rest**2 / np.where(fine, left, 1.0), -np.inf)


def best_sets(frame: Frame, size: int, keep: int = 60) -> tuple[IntArray, Array]:
    """The sets of ``size`` rows (1, 2 or 3) that explain most, best first: sets (s, size) and their drop in Ω (s,).

    Singles and pairs are searched whole; triples grow from the best pairs.
    """
    sets = np.arange(frame.m, dtype=np.int64)[:, None]
    gain = np.where(frame.testable, frame.w**2, -np.inf)
    for _ in range(size - 1):
        if len(gain) > max(keep, frame.m):
            top = np.argpartition(-gain, keep)[:keep]
            sets, gain = sets[top], gain[top]
        wide = frame.widened(sets)
        wider = np.concatenate(
            [np.repeat(sets, frame.m, axis=0), np.tile(np.arange(frame.m), len(sets))[:, None]], axis=1
        )
        gain = wide.ravel()
        fine = gain > -np.inf
        wider, gain = np.sort(wider[fine], axis=1), gain[fine]
        _, first = np.unique(wider @ (frame.m ** np.arange(wider.shape[1])), return_index=True)
        sets, gain = wider[first], gain[first]
    order = np.argsort(-gain, kind="stable")[:keep]
    order = order[gain[order] > -np.inf]
    return sets[order], gain[order]


def threshold(tested: int, alpha: float = 0.006) -> float:
    """|w| above which a reading is called contradicted, when ``tested`` readings are looked at together.

    Bonferroni's bound on ``alpha`` for the whole survey, but never below Baarda's 3.29 and never above 3.9: a
    slip of one and a half times the smallest detectable one has |w| about 6.2 ± 1 and must still be seen.
    """
    from scipy.special import ndtri

    return float(np.clip(-ndtri(alpha / (2.0 * max(tested, 1))), BAARDA_W, 3.9))
