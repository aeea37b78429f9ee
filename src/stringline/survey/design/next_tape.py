"""The next tape: which further readings are worth most now, and what each buys."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.lengths import Unit, format_amount
from stringline.limits import ENOUGH_R, PARTLY_R
from stringline.survey.adjust.least_squares import Adjustment
from stringline.survey.adjust.network import IntArray, Network, Row
from stringline.survey.design.candidates import Candidates, candidates
from stringline.survey.result import NextTape

ADVISED = 3
"""How many tapes are advised at a time."""

_AGAIN = 0.8  # worth of taping a line again: it may repeat what went wrong, and is soon forgotten


@dataclass(frozen=True)
class Effect:
    """What each candidate (c) would do: redundancy of every old row (c, m) and of its own (c,), axes (c, n), metres."""

    r: Array
    own: Array
    major: Array


def advise(adj: Adjustment, net: Network, unit: Unit, target_m: float | None = None) -> tuple[NextTape, ...]:
    """Advise up to three tapes, best first; none once every reading is checked or the points are good enough.

    Good enough means a largest ellipse axis under ``target_m`` (never where that is None). Each is judged by itself,
    as an addition to what has been taped; the expected length is the one that the present coordinates give.
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
            _buys(adj, net, unit, c, effect, tested, k),
            float(score[k]),
        )
        for k in order
    )


def good_enough(adj: Adjustment, net: Network, target_m: float | None = None) -> bool:
    """Whether taping may stop: every reading that took part is checked, or the points are good enough."""
    tested = _counted(adj, net)
    worst = float(np.max(adj.ellipses[:, 0], initial=0.0))
    if target_m is not None and worst <= target_m:
        return True
    return len(tested) > 0 and float(np.min(adj.r[tested])) >= ENOUGH_R


def effects(adj: Adjustment, net: Network, c: Candidates) -> Effect:
    """Add every candidate by itself, by rank-one updates of the covariance and of the redundancy numbers."""
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
    """Largest semi-axis of error ellipses from their variances and covariance, m."""
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


def _buys(adj: Adjustment, net: Network, unit: Unit, c: Candidates, effect: Effect, tested: IntArray, k: int) -> str:
    """Say what one candidate does for the point it helps most, and which readings can be checked once it is there."""
    parts = []
    before, after = adj.ellipses[:, 0], effect.major[k]
    loss = before - after
    point = int(np.argmax(loss))
    if loss[point] > 0.1 * before[point] and loss[point] > 1e-4:
        ratio = before[point] / max(float(after[point]), 1e-9)
        times = "twice as well" if 1.8 <= ratio < 2.5 else f"{ratio:.1f} times as well"
        was, now = (_small(float(x), unit) for x in (before[point], after[point]))
        axis = f": its worst axis goes from {was} to {now}" if was != now else ""
        parts.append(f"ties {net.names[point]} {times}{axis}")
    newly = [int(x) for x in tested if adj.r[x] < ENOUGH_R <= effect.r[k, x]]
    partly = [int(x) for x in tested if adj.r[x] < PARTLY_R <= effect.r[k, x] < ENOUGH_R]
    for rows, said in ((newly, "can then be checked"), (partly, "can then be checked in part")):
        if rows:
            names = [net.label(x) for x in rows[:4]]
            more = f" and {len(rows) - 4} more" if len(rows) > 4 else ""
            readings = "the reading" if len(rows) == 1 else "the readings"
            parts.append(f"{readings} {', '.join(names)}{more} {said}")
    if not parts:
        weakest = int(tested[np.argmin(adj.r[tested])])
        raised = effect.r[k, weakest]
        if raised > adj.r[weakest] + 0.005:
            parts.append(
                f"the weakest reading {net.label(weakest)} is checked better: r {adj.r[weakest]:.2f} → {raised:.2f}"
            )
        else:
            parts.append("shrinks every ellipse a little")
    if c.again[k]:
        parts.append("it was taped before: start from the other end")
    return "; ".join(parts)


def _small(m: float, unit: Unit) -> str:
    """A small uncertainty: to a tenth of a millimetre below 10 mm, or to the nearest 1/32 in."""
    if unit in (Unit.FT_IN, Unit.FT):
        text = format_amount(m, unit, step=0.0254 / 32)
        return text if m >= 0.0254 / 64 else 'under 1/64"'
    return f"{1000 * m:.1f} mm" if m < 0.00995 else f"{1000 * m:.0f} mm"
