"""Settle coordinates on what most readings agree about, whatever a few of them say."""

from __future__ import annotations

import numpy as np

from stringline.geometry import Array
from stringline.survey.adjust.network import Network
from stringline.survey.adjust.observe import entries, gradient, normal_matrix, predict
from stringline.survey.approximate.intersection import CAP

WIDTHS = (60.0, 30.0, 15.0, 8.0, 5.0, 3.0, 3.0, 3.0)
"""Scales (in σ) of the Geman–McClure weights, narrowed step by step so that the start may be centimetres off."""

STEP_SIGMA_M = 0.5  # a step much longer than this is held back; it also keeps a point that lost its readings in place


def robust_cost(net: Network, xy: Array) -> Array:
    """Σ of v²/σ² up to 25 a reading, and from there on growing only with the logarithm of v: (…) of ``xy`` (…, n, 2).

    The tail says that a misreading twice as large is a quarter as likely: of two placings that contradict one reading
    each, the one that contradicts it less is the better guess. With z = v/σ a reading costs z² up to |z| = 5 and
    25 + 2 ln(z²/25) beyond.
    """
    square = ((predict(net, xy) - net.value) / net.sigma) ** 2
    return np.asarray((np.minimum(square, CAP) + 2.0 * np.log(np.maximum(square / CAP, 1.0))).sum(axis=-1))


def refine(net: Network, xy: Array, widths: tuple[float, ...] = WIDTHS) -> tuple[Array, Array]:
    """Reweighted least squares from one or many placings ``xy`` (…, n, 2), side by side, with narrowing weights.

    Weights are p/(1 + (v/cσ)²)² (Geman–McClure) for scales c from 60 to 3. Returns coordinates and their robust cost
    (…).

    One of three readings of a line is a foot too long: the other two agree, and stand.

    >>> from stringline.job.model import SurveyInput
    >>> from stringline.job.readings import Tape
    >>> from stringline.lengths import metres
    >>> from stringline.survey.build import build_network
    >>> tapes = tuple(Tape("A", "B", metres(m)) for m in (5.000, 5.002, 5.3048))
    >>> net = build_network(SurveyInput(tapes, baseline=("A", "B")))
    >>> xy, _ = refine(net, np.array([[0.0, 0.0], [5.1, 0.0]]))
    >>> xy[1].round(3).tolist()
    [5.001, 0.0]
    """
    xy = np.where(net.fixed, net.fixed_xy, xy)
    for width in widths:
        xy = _step(net, xy, width)
    return xy, robust_cost(net, xy)


def settle(net: Network, xy: Array, steps: int = 60) -> Array:
    """Damped least squares from far away (Levenberg's damping), all readings in full: coordinates (n, 2)."""
    xy = np.where(net.fixed, net.fixed_xy, xy)
    even = np.ones(net.m)
    damping = 1.0
    cost = _plain(net, xy)
    for _ in range(steps):
        computed, values = entries(net, xy)
        normal = normal_matrix(net, values, even) + damping * np.eye(2 * net.n)
        step = np.linalg.solve(normal, gradient(net, values, net.value - computed))
        trial = xy + step.reshape(-1, 2)
        new = _plain(net, trial)
        if new < cost:
            done = cost - new < 1e-10
            xy, cost, damping = trial, new, damping * 0.2
            if done:
                break
        else:
            damping *= 5.0
            if damping > 1e8:
                break
    return xy


def _plain(net: Network, xy: Array) -> float:
    miss = predict(net, xy) - net.value
    return float(miss @ miss)


def _step(net: Network, xy: Array, width: float) -> Array:
    computed, values = entries(net, xy)
    miss = net.value - computed
    z = miss / (width * net.sigma)
    weight = net.weight / (1.0 + z * z) ** 2
    normal = normal_matrix(net, values, weight)
    own = np.arange(normal.shape[-1])
    normal[..., own, own] += 1.0 / STEP_SIGMA_M**2
    step = np.linalg.solve(normal, gradient(net, values, weight * miss)[..., None])
    return np.asarray(xy + step.reshape(xy.shape))
