"""What a diagnosis must doubt: single readings, and its own list of causes.

A lead that was misread, miswritten or given the wrong sign is as good as none: the sets are weighed again without the
ones that they would gain most by, at the odds of such a slip, and the weighings are mixed by their evidence. Beside
them stands a cause that is on no list: a smooth lead of any shape in either direction, with its own odds.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from stringline.geometry import Array
from stringline.lead.hypotheses import NUISANCES, Field, Weighed, linear, weigh
from stringline.lead.trial import CURRENT

LOG_BAD = float(np.log(0.01))
"""Logarithm of the odds that one lead is false (practice)."""
LOG_ELSE = float(np.log(0.3))
"""Logarithm of the odds of a cause that is on no list (practice)."""
ELSE_M = 0.02  # σ of the lead that it makes, and of its mean over a run
ELSE_OVER_M = 3.5
ELSE_A = 0.05  # of the full-load current


@dataclass(frozen=True)
class Doubts:
    """Sets weighed with every reading believed and with some doubted; their weights and ``other`` add up to 1."""

    weighed: Weighed
    other: float  # chance of a cause that is on no list
    bad: tuple[tuple[int, float], ...]  # reading, chance that it is false; likeliest first


def weigh_with_doubts(field: Field, log_chance: Array) -> Doubts:
    """Weigh with every reading believed, then without each of the two that the sets would gain most by leaving out, and
    without a second one where that still leaves no fit; beside them a cause that is on no list.
    """
    believed = weigh(field, log_chance)
    tried: dict[tuple[int, ...], tuple[Weighed, float]] = {(): (believed, believed.log_total)}
    for j in _suspects(believed, 2):
        without = weigh(replace(field, sheet=field.sheet.doubting(j)), log_chance)
        tried[(j,)] = (without, without.log_total + LOG_BAD)
    best = max(tried, key=lambda k: tried[k][1])
    if len(best) == 1:
        for j in _suspects(tried[best][0], 1):
            if j not in best:
                without = weigh(replace(field, sheet=field.sheet.doubting(best[0]).doubting(j)), log_chance)
                tried[(*best, j)] = (without, without.log_total + 2.0 * LOG_BAD)
    other = max(_log_else(field, k) + len(k) * LOG_BAD for k in tried) + LOG_ELSE
    top = max(other, *(total for _, total in tried.values()))
    shares = {k: float(np.exp(total - top)) for k, (_, total) in tried.items()}
    rest = float(np.exp(other - top))
    whole = rest + sum(shares.values())
    parts = [(w, shares[k] / whole) for k, (w, _) in tried.items()]
    believed_or_not = max(sum(shares.values()), 1e-300)
    bad: dict[int, float] = {}
    for k, share in shares.items():
        for j in k:
            bad[j] = bad.get(j, 0.0) + share / believed_or_not
    return Doubts(_together(parts), rest / whole, tuple(sorted(bad.items(), key=lambda e: -e[1])))


def _suspects(w: Weighed, most: int) -> list[int]:
    """Readings whose falsehood would make the evidence at least a twentieth as good, best first."""
    gain = w.if_bad.max(axis=0)
    with np.errstate(divide="ignore"):
        log_weight = np.log(w.weight)
    total = np.array([float(np.logaddexp.reduce(log_weight + w.if_bad[:, j])) for j in range(gain.size)]) + LOG_BAD
    order = np.argsort(-total)[:most]
    return [int(j) for j in order if total[j] > -3.0]


def _log_else(field: Field, doubted: tuple[int, ...]) -> float:
    """Log evidence of no listed cause and a smooth lead of any shape, one for each run and direction."""
    page = field.sheet
    for j in doubted:
        page = page.doubting(j)
    none = np.full((1, 1), -1, dtype=np.intp)
    used = np.array([[False, True, True, False]])
    f, jac = linear(field, none, np.zeros((1, 1 + NUISANCES)), used)
    at = page.stations[page.row]
    same = (page.what[:, None] == page.what) & (page.trial[:, None] == page.trial)
    size = np.where(page.what == CURRENT, ELSE_A * page.motor.full_load_a, ELSE_M)
    smooth = np.exp(-0.5 * np.square((at[:, None] - at) / ELSE_OVER_M)) + 1.0
    root = np.linalg.inv(page.whiten)
    cov = root @ root.T + np.where(same, smooth, 0.0) * size[:, None] * size + jac[:, 0] @ jac[:, 0].T
    low = np.linalg.cholesky(cov)
    apart = np.linalg.solve(low, page.value - f[:, 0])
    return float(-0.5 * apart @ apart - np.log(np.diag(low)).sum())


def _together(parts: Sequence[tuple[Weighed, float]]) -> Weighed:
    """Sets of several weighings as one list, each weighed by its share; likeliest first."""
    wide = max(w.sets.shape[1] for w, _ in parts)
    padded = [(_wider(w, wide), share) for w, share in parts]
    weight = np.concatenate([w.weight * share for w, share in padded])
    order = np.argsort(-weight, kind="stable")
    return Weighed(
        np.concatenate([w.sets for w, _ in padded])[order],
        np.concatenate([w.mode for w, _ in padded])[order],
        np.concatenate([w.cov for w, _ in padded])[order],
        weight[order],
        np.concatenate([w.misfit for w, _ in padded])[order],
        np.concatenate([w.expected for w, _ in padded], axis=1)[:, order],
        np.concatenate([w.if_bad for w, _ in padded])[order],
        max(w.log_total for w, _ in padded),
    )


def _wider(w: Weighed, wide: int) -> Weighed:
    """The same with empty places in every set, so that lists can be joined."""
    n, c = w.sets.shape
    more = wide - c
    if more == 0:
        return w
    places = np.concatenate([np.arange(c), np.arange(c + more, c + more + NUISANCES)])
    cov = np.zeros((n, wide + NUISANCES, wide + NUISANCES))
    cov[:, np.arange(c, wide), np.arange(c, wide)] = 1.0
    cov[:, places[:, None], places] = w.cov
    mode = np.zeros((n, wide + NUISANCES))
    mode[:, places] = w.mode
    return replace(w, sets=np.pad(w.sets, ((0, 0), (0, more)), constant_values=-1), mode=mode, cov=cov)
