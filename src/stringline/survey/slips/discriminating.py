"""The discriminating reading: between two lines that may each be the misread one, or where nothing can be told yet."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from stringline.finding import Finding, finding
from stringline.limits import PARTLY_R
from stringline.survey.adjust.least_squares import Adjustment
from stringline.survey.adjust.network import Network
from stringline.survey.design.candidates import candidates

_CLEAR = 5.0  # two answers this many σ apart are told by one reading
_AGAIN = 0.6  # worth of taping the same line again: it may repeat what went wrong
_ALIKE, _SAME = 0.8, 0.97  # correlations: two lines hard to tell apart; not to be told apart


def discriminating_tape(
    one: Adjustment, other: Adjustment, net: Network, name: Finding, rival: Finding
) -> Finding | None:
    """Name the tape that best tells two hypotheses apart, with what it would read under each; None where none can.

    ``one`` is the adjustment without the line ``name``, ``other`` the one without ``rival``. A tape is worth the
    distance of its two answers over √(σ² + q), q the variance of its length as known already, at most 15; taping a
    line again counts 0.6 of that (practice), and answers closer than 2 σ tell nothing.
    """
    c = candidates(net, one.xy, one.Q)
    if not len(c.i):
        return None
    d = other.xy[c.j] - other.xy[c.i]
    apart = np.abs(np.hypot(d[:, 0], d[:, 1]) - c.length)
    worth = np.minimum(apart / np.sqrt(c.total), 3.0 * _CLEAR) * np.where(c.again, _AGAIN, 1.0)
    k = int(np.argmax(worth))
    if apart[k] < 2.0 * np.sqrt(c.total[k]):
        return None
    i, j = int(c.i[k]), int(c.j[k])
    line = finding("survey.line", a=net.names[i], b=net.names[j])
    return finding(
        "survey.tells",
        line=finding("survey.again", line=line) if c.again[k] else line,
        mine_m=float(c.length[k]),
        theirs_m=float(np.hypot(*(other.xy[j] - other.xy[i]))),
        name=name,
        rival=rival,
    )


def locating_tape(adj: Adjustment, net: Network, among: Sequence[int] | None = None) -> tuple[Finding, bool] | None:
    """Name the further tape that makes slips best locatable (or at least noticeable); None where none helps.

    Where ``among`` names rows, one of which is known to have slipped, only those and the new reading count; otherwise
    counted are the readings that can then be tested, and the pairs among them that would still look alike. The second
    value says whether it settles the matter: no two readings that are tested would still look the same.
    """
    c = candidates(net, adj.xy, adj.Q)
    if not len(c.i):
        return None
    p = net.weight * adj.used
    h = (c.Qa @ adj.A.T) * p[None, :]
    M = np.diag(p) - (p[:, None] * adj.A) @ adj.Q @ (p[:, None] * adj.A).T
    wanted = np.zeros(net.m, dtype=bool)
    wanted[list(among or ())] = True
    best, score, settled = None, (-1.0, 0.0), False
    for k in range(len(c.i)):
        more = M + np.outer(h[k], h[k]) / c.total[k]
        new = -h[k] / c.total[k]  # the new reading against the old ones
        whole = np.block([[more, new[:, None]], [new[None, :], np.array([[1.0 / c.total[k]]])]])
        weight = np.append(p, 1.0 / c.sigma[k] ** 2)
        r = np.diag(whole) / np.where(weight > 0.0, weight, 1.0)
        fine = r > PARTLY_R
        if among is not None:
            fine[: net.m] &= wanted
        tested = np.flatnonzero(fine)
        if len(tested) < 2:
            continue
        s = 1.0 / np.sqrt(np.diag(whole)[tested])
        rho = np.abs(whole[np.ix_(tested, tested)] * s[:, None] * s[None, :]) - np.eye(len(tested))
        alike = np.count_nonzero(rho > _ALIKE) / len(tested)
        mine = (len(tested) - alike, float(np.sum(np.minimum(r[tested], 0.3))))
        if mine > score:
            best, score, settled = k, mine, bool(rho.max() < _SAME)
    if best is None:
        return None
    line = finding("survey.line", a=net.names[int(c.i[best])], b=net.names[int(c.j[best])])
    return finding("survey.again" if c.again[best] else "survey.as-well", line=line), settled
