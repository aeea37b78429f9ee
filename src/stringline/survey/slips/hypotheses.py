"""Slip hypotheses for a survey that does not fit: which readings slipped, how, and how likely each hypothesis is.

A hypothesis names one reading or a few. Its weight is prior × likelihood: what is left of vᵀPv without them, times how
well the usual misreadings (:mod:`stringline.survey.slips.misreadings`) explain what they are off by. Weights are
natural logarithms. With d what the readings in S are off by from all others, C its covariance and Ω_S what is left:

    ln weight = −Ω_S/2 + ½ ln det 2πC + ln Σ_e p_e N(d − δ_e; 0, C + V_e)

over the explanations e, δ_e the amount of each, V_e what is not known of it and p_e its prior share.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stringline.finding import Finding, finding
from stringline.geometry import Array
from stringline.job.readings import Offset, Tape
from stringline.lengths import Length
from stringline.survey.adjust.least_squares import Adjustment
from stringline.survey.adjust.network import Network, Row
from stringline.survey.slips.data_snooping import Linearised, best_sets
from stringline.survey.slips.misreadings import (
    NEIGHBOUR_SHARE,
    OTHER_SHARE,
    SLIP_RATE,
    SWAP_SHARE,
    misreadings,
    other_density,
    snap,
    unusual,
)

EXPLANATIONS_KEPT = {1: 400, 2: 14, 3: 8, 4: 5, 5: 4}
"""Explanations kept for each reading of a hypothesis, by the number of its readings; the rest are far less likely."""

NEIGHBOURS = 4
"""How many points near a line's end count as its neighbours."""

_WIDE = 1.0  # m²: variance that lets a reading be off by any amount


@dataclass(frozen=True, slots=True)
class Explanation:
    """One explanation of one reading: written − true, what is not known of that (m²), ln of its share, what it says.

    ``likely_m`` is what the tape then showed, None where nothing was taped.
    """

    delta_m: float
    variance: float
    log_share: float
    says: Finding
    likely_m: float | None


@dataclass(frozen=True)
class SlipHypothesis:
    """Readings that slipped, the weight of it, and for each reading its explanations with their probabilities."""

    rows: tuple[int, ...]
    log_weight: float
    explained: tuple[tuple[tuple[float, Explanation], ...], ...]


def no_slip_weight(adj: Adjustment) -> float:
    """Log weight of 'nothing slipped', on the scale of the hypotheses: −vᵀPv/2."""
    return -0.5 * adj.vtpv


def coarse_weight(adj: Adjustment) -> float:
    """Log weight of 'nothing slipped, but everything was read more coarsely than its σ says'.

    The factor s on every σ is log-normal about 1 with 0.4, in a tenth of all surveys (practice, source ``slip-prior``):
    max over s of −vᵀPv/2s² − f ln s − ½ (ln s/0.4)², + ln 0.1.
    """
    s = np.exp(np.linspace(0.0, 2.5, 126))
    log = -0.5 * adj.vtpv / s**2 - adj.f * np.log(s) - 0.5 * (np.log(s) / 0.4) ** 2
    return float(np.max(log)) + math.log(0.1)


def weigh(at: Linearised, adj: Adjustment, size: int) -> list[SlipHypothesis]:
    """Weigh every promising hypothesis of ``size`` readings, the likeliest first.

    ``adj`` gives the coordinates that the rows were linearised at (and the rows it left out).
    """
    sets, gain = best_sets(at, size, keep=at.m if size == 1 else 24)
    found = []
    for rows, drop in zip(sets, gain, strict=True):
        if drop < gain[0] - 60.0:
            break
        d, C = at.misfit(rows)
        found.append(hypothesis(adj, tuple(int(x) for x in rows), at.omega - float(drop), d, C))
    return sorted(found, key=lambda h: -h.log_weight)


def hypothesis(adj: Adjustment, rows: tuple[int, ...], omega_left: float, d: Array, C: Array) -> SlipHypothesis:
    """The hypothesis that ``rows`` slipped: off by d (k,), covariance C (k, k), the rest leave ``omega_left``."""
    net, k = adj.network, len(rows)
    spread = np.sqrt(np.diag(C))
    lists = [
        _likeliest(_explanations(adj, row, d[i]), d[i], spread[i], EXPLANATIONS_KEPT[k]) for i, row in enumerate(rows)
    ]
    picks = np.array(list(itertools.product(*(range(len(x)) for x in lists))), dtype=np.int64)
    delta = np.stack([np.array([e.delta_m for e in x])[picks[:, i]] for i, x in enumerate(lists)], axis=1)
    extra = np.stack([np.array([e.variance for e in x])[picks[:, i]] for i, x in enumerate(lists)], axis=1)
    share = np.stack([np.array([e.log_share for e in x])[picks[:, i]] for i, x in enumerate(lists)], axis=1)
    log = share.sum(axis=1) + _log_normal(d - delta, C[None] + extra[:, :, None] * np.eye(k))
    log += k * math.log(SLIP_RATE / (1.0 - SLIP_RATE))
    swap = _swap(net, rows)
    if swap is not None:
        a, b, chance = swap
        together = chance + float(_log_normal((d - np.array([a.delta_m, b.delta_m]))[None], C[None])[0])
        log = np.append(log, together)
        lists = [[*lists[0], a], [*lists[1], b]]
        picks = np.vstack([picks, [[len(lists[0]) - 1, len(lists[1]) - 1]]])
    top = float(np.max(log))
    each = np.exp(log - top)
    total = float(np.sum(each))
    explained = []
    for i, options in enumerate(lists):
        chance_of = np.bincount(picks[:, i], weights=each, minlength=len(options)) / total
        order = np.argsort(-chance_of, kind="stable")[:12]
        explained.append(tuple((float(chance_of[j]), options[j]) for j in order))
    _, log_det = np.linalg.slogdet(2.0 * math.pi * C)
    weight = -0.5 * omega_left + top + math.log(total) + 0.5 * float(log_det)
    return SlipHypothesis(rows, weight, tuple(explained))


def _log_normal(x: Array, C: Array) -> Array:
    """Log density of normal vectors x (c, k) with covariances C (c or 1, k, k), shape (c,)."""
    C = np.broadcast_to(C, (len(x), *C.shape[1:]))
    _, log_det = np.linalg.slogdet(2.0 * math.pi * C)
    solved = np.linalg.solve(C, x[:, :, None])[:, :, 0]
    return np.asarray(-0.5 * (np.einsum("ci,ci->c", x, solved) + log_det), dtype=float)


def _explanations(adj: Adjustment, row: int, off: float) -> list[Explanation]:
    """Every explanation of one row that is off by ``off`` metres."""
    net = adj.network
    any_size = other_density(off) * math.sqrt(2.0 * math.pi * _WIDE)
    log_any = math.log(any_size) if any_size > 0.0 else -math.inf
    length = length_of(net, row)
    if length is None or length.m <= 0.0:
        return [Explanation(off, _WIDE, log_any, unusual(off), None)]
    likely = snap(length.m - off, length.notation)
    found = [Explanation(off, _WIDE, math.log(OTHER_SHARE) + log_any, unusual(off), likely)]
    found += [Explanation(x.delta_m, 0.0, math.log(x.share), x.says, x.true_m) for x in misreadings(length)]
    return found + _neighbours(adj, row, off) if row < net.tapes else found


def length_of(net: Network, row: int) -> Length | None:
    """The length that was written for a row; None for an observed coordinate."""
    reading = net.reading[row]
    if isinstance(reading, Tape):
        return reading.length
    if isinstance(reading, Offset):
        return reading.station if net.kind[row] == Row.STATION else reading.offset
    return None


def _neighbours(adj: Adjustment, row: int, off: float) -> list[Explanation]:
    """The tape held at a point near either end of its line."""
    net, xy = adj.network, adj.xy
    i, j = int(net.at[row, 0]), int(net.at[row, 1])
    here = float(np.hypot(*(xy[j] - xy[i])))
    length = length_of(net, row)
    notation = "mm" if length is None else length.notation
    others = [x for x in range(net.n) if x not in (i, j)]
    if not others:
        return []
    var_here = adj.sigma_of(i, j) ** 2
    count = min(NEIGHBOURS, len(others))
    log_share = math.log(NEIGHBOUR_SHARE / (2 * count))
    likely = snap(float(net.value[row]) - off, notation)
    found = []
    for stay, end in ((i, j), (j, i)):
        away = np.hypot(*(xy[others] - xy[end]).T)
        for pick in np.argsort(away, kind="stable")[:count]:
            k = others[int(pick)]
            there = float(np.hypot(*(xy[k] - xy[stay])))
            extra = max(0.0, adj.sigma_of(stay, k) ** 2 - var_here)
            says = finding("survey.taped-to", held=net.names[k], meant=net.names[end])
            found.append(Explanation(there - here, extra, log_share, says, likely))
    return found


def _swap(net: Network, rows: Sequence[int]) -> tuple[Explanation, Explanation, float] | None:
    """Two readings written against each other's lines: one mistake, not two. The last value is its log prior."""
    if len(rows) != 2 or max(rows) >= net.tapes:
        return None
    a, b = rows
    delta = float(net.value[a] - net.value[b])
    says = finding("survey.swapped-lines", one=net.label(a), other=net.label(b))
    chance = math.log(SLIP_RATE / (1.0 - SLIP_RATE)) + math.log(SWAP_SHARE * 2.0 / max(net.tapes - 1, 1))
    return (
        Explanation(delta, 0.0, 0.0, says, float(net.value[b])),
        Explanation(-delta, 0.0, 0.0, says, float(net.value[a])),
        chance,
    )


def _likeliest(given: list[Explanation], d: float, spread: float, keep: int) -> list[Explanation]:
    """Keep the explanations that fit one reading best by itself."""
    if len(given) <= keep:
        return given
    variance = np.array([e.variance for e in given]) + spread**2
    off = d - np.array([e.delta_m for e in given])
    score = np.array([e.log_share for e in given]) - 0.5 * (off**2 / variance + np.log(variance))
    return [given[int(i)] for i in np.argsort(-score, kind="stable")[:keep]]
