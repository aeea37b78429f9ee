"""The next tape: which further readings are worth most now, and what each buys."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.finding import Finding, finding
from stringline.geometry import Array
from stringline.limits import ENOUGH_R, PARTLY_R
from stringline.survey.adjust.least_squares import Adjustment
from stringline.survey.adjust.network import IntArray, Network, Row
from stringline.survey.design.candidates import Candidates, candidates
from stringline.survey.result import NextTape

ADVISED = 3
"""How many tapes are advised at a time."""

_LEAST_GAIN_M = 3e-4  # a point tied better by less than this, or by less than a tenth, is not worth a word
_SAID_R = 0.01  # two redundancies less apart than this may be written alike
_NAMED = 4  # readings named that can then be checked
_AGAIN = 0.8  # worth of taping a line again: it may repeat what went wrong, and is soon forgotten


@dataclass(frozen=True)
class Effect:
    """What each candidate (c) would do: redundancy of every old row (c, m) and of its own (c,), axes (c, n), metres."""

    r: Array
    own: Array
    major: Array


def advise(adj: Adjustment, net: Network, target_m: float | None = None) -> tuple[NextTape, ...]:
    """Advise up to three tapes, best first; none once every reading is checked or the points are good enough.

    Good enough means a largest ellipse axis under ``target_m`` (never where that is None). Each is judged by itself,
    as an addition to what has been taped; the expected length is the one that the present coordinates give.

    Three lines of a triangle check nothing: each is worth taping again, or a fourth point is wanted.

    >>> from stringline.job.model import SurveyInput
    >>> from stringline.job.readings import Tape
    >>> from stringline.lengths import metres
    >>> from stringline.survey.adjust.least_squares import adjust
    >>> from stringline.survey.build import build_network
    >>> lines = (("A", "B", 4.0), ("A", "1", 3.0), ("B", "1", 5.0), ("A", "2", 5.0), ("B", "2", 3.0))
    >>> net = build_network(SurveyInput(tuple(Tape(a, b, metres(m)) for a, b, m in lines), baseline=("A", "B")))
    >>> adj = adjust(net, np.array([[0.0, 0.0], [4.0, 0.0], [0.0, 3.0], [4.0, 3.0]]))
    >>> [(n.frm, n.to, round(n.expected_m, 3)) for n in advise(adj, net)][:1]
    [('1', '2', 4.0)]
    """
    if good_enough(adj, net, target_m):
        return ()
    tested = _counted(adj, net)
    c = candidates(net, adj.xy, adj.Q)
    if not len(c.i):
        return ()
    effect = effects(adj, net, c)
    score = _score(adj, effect, c, tested)
    order = [int(k) for k in np.argsort(-score, kind="stable")[:ADVISED] if score[k] > 1e-6]
    return tuple(
        NextTape(
            net.names[int(c.i[k])],
            net.names[int(c.j[k])],
            float(c.length[k]),
            _buys(adj, net, c, effect, tested, k),
            float(score[k]),
        )
        for k in order
    )


def good_enough(adj: Adjustment, net: Network, target_m: float | None = None) -> bool:
    """Whether taping may stop: every reading that took part is checked (r ≥ 0.2), or the points are good enough."""
    tested = _counted(adj, net)
    worst = float(np.max(adj.ellipses[:, 0], initial=0.0))
    if target_m is not None and worst <= target_m:
        return True
    return len(tested) > 0 and float(np.min(adj.r[tested])) >= ENOUGH_R


def effects(adj: Adjustment, net: Network, c: Candidates) -> Effect:
    """Add every candidate by itself, by rank-one updates of the covariance and of the redundancy numbers.

    With a the candidate's row, q = a Q aᵀ and t = σ² + q: Q becomes Q − Qaᵀ aQ/t, r_i becomes r_i + p_i (a_i Q aᵀ)²/t,
    and its own redundancy is σ²/t. Exact at the present coordinates.
    """
    p = net.weight * adj.used
    h = c.Qa @ adj.A.T
    r = adj.r[None, :] + p[None, :] * h**2 / c.total[:, None]
    own = c.sigma**2 / c.total
    x, y = c.Qa[:, 0::2], c.Qa[:, 1::2]
    Q = adj.Q
    k = np.arange(net.n)
    xx = Q[2 * k, 2 * k][None, :] - x**2 / c.total[:, None]
    yy = Q[2 * k + 1, 2 * k + 1][None, :] - y**2 / c.total[:, None]
    xy = Q[2 * k, 2 * k + 1][None, :] - x * y / c.total[:, None]
    return Effect(r, own, major_axis(xx, yy, xy))


def major_axis(xx: Array, yy: Array, xy: Array) -> Array:
    """Largest semi-axis of error ellipses from their variances and covariance, m.

    √(½(q_xx + q_yy) + √(¼(q_xx − q_yy)² + q_xy²)), elementwise.

    >>> float(major_axis(np.array(5e-6), np.array(5e-6), np.array(3e-6)).round(6))
    0.002828
    """
    half = 0.5 * (xx + yy) + np.hypot(0.5 * (xx - yy), xy)
    return np.asarray(np.sqrt(np.maximum(half, 0.0)), dtype=float)


def _counted(adj: Adjustment, net: Network) -> IntArray:
    """Rows whose redundancy counts: tapes and offsets that took part; where there is none, the coordinates."""
    lines = np.flatnonzero(adj.used & (net.kind <= Row.OFFSET))
    return lines if len(lines) else np.flatnonzero(adj.used)


def _score(adj: Adjustment, effect: Effect, c: Candidates, tested: IntArray) -> Array:
    """How much each candidate lifts the readings that lack a check, and shrinks the points that are badly tied.

    Lack of check is the shortfall of r below 0.2, summed. Points count by their largest axes to the fourth power, so
    that the worst one rules.
    """
    before = np.maximum(ENOUGH_R - adj.r[tested], 0.0) / ENOUGH_R
    after = np.maximum(ENOUGH_R - effect.r[:, tested], 0.0) / ENOUGH_R
    own = np.maximum(ENOUGH_R - effect.own, 0.0) / ENOUGH_R
    checked = (before.sum() - after.sum(axis=1) - own) / max(before.sum(), 1e-9)
    size = (adj.ellipses[:, 0] ** 4).sum() ** 0.25
    shrunk = 1.0 - (effect.major**4).sum(axis=1) ** 0.25 / max(size, 1e-12)
    return np.asarray((checked + shrunk) * np.where(c.again, _AGAIN, 1.0), dtype=float)


def _buys(adj: Adjustment, net: Network, c: Candidates, effect: Effect, tested: IntArray, k: int) -> Finding:
    """What one candidate does for the point it helps most, and which readings can be checked once it is there."""
    parts = _ties(adj, net, effect, k)
    r, after = adj.r, effect.r[k]
    newly = [int(x) for x in tested if r[x] < ENOUGH_R <= after[x]]
    partly = [int(x) for x in tested if r[x] < PARTLY_R <= after[x] < ENOUGH_R]
    for rows, code in ((newly, "taping.then-checked"), (partly, "taping.then-checked-in-part")):
        if rows:
            parts.append(finding(code, readings=_named([net.label(x) for x in rows]), n=len(rows)))
    if not parts:
        weakest = int(tested[np.argmin(r[tested])])
        if after[weakest] > r[weakest] + _SAID_R:
            was, now = float(r[weakest]), float(after[weakest])
            parts.append(finding("taping.checked-better", reading=net.label(weakest), was=was, now=now))
        else:
            parts.append(finding("taping.shrinks-all"))
    if c.again[k]:
        parts.append(finding("taping.other-end"))
    return finding("taping.buys", parts=parts)


def _ties(adj: Adjustment, net: Network, effect: Effect, k: int) -> list[Finding]:
    """How much better it ties the point that it helps most, where that is worth saying."""
    before, after = adj.ellipses[:, 0], effect.major[k]
    point = int(np.argmax(before - after))
    was, now = float(before[point]), float(after[point])
    if was - now <= max(0.1 * was, _LEAST_GAIN_M):
        return []
    ratio = was / max(now, 1e-9)
    times = finding("taping.twice") if 1.8 <= ratio < 2.5 else finding("taping.times", times=ratio)
    return [finding("taping.ties", point=net.names[point], times=times, was_m=was, now_m=now)]


def _named(readings: list[Finding]) -> Finding:
    """The first four readings, and how many more there are."""
    if len(readings) > _NAMED:
        return finding("taping.and-more", readings=readings[:_NAMED], n=len(readings) - _NAMED)
    return finding("taping.readings", readings=readings)
