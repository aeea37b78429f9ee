"""Least-squares adjustment of a network, and what each reading and each point is worth.

With l the readings, f(x) what they should be, P = diag(1/σ²) and A = ∂f/∂x at the solution:

    (AᵀPA) dx = AᵀP (l − f(x)), repeated        v = f(x) − l            Q = (AᵀPA)⁻¹, the covariance a priori
    r_i = 1 − p_i (A Q Aᵀ)_ii, Σ r = f          w_i = v_i/(σ_i √r_i)    σ₀ = √(vᵀPv/f)
    τ_i = w_i/σ₀ (Pope)                         smallest slip found with power 0.8: δ₀ σ_i/√r_i (Baarda)

Valid as long as readings are independent and normal with the σ given. Sources ``data-snooping``, ``chi-square``,
``pope-tau``; worked examples of textbooks in ``tests/published/test_networks.py``.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from stringline.geometry import Array
from stringline.limits import GLOBAL_ALPHA, NONCENTRALITY, UNTESTED_R
from stringline.probability import chi_square_quantile
from stringline.survey.adjust.network import BoolArray, Datum, Network
from stringline.survey.adjust.observe import dense, entries, gradient, normal_matrix, row_variance, sparsity
from stringline.survey.result import GlobalTest


@dataclass(frozen=True)
class Adjustment:
    """A network after least squares. All arrays belong to ``network``'s rows (m) and points (n).

    ``used`` (m,) masks the rows that took part; a row left out still gets its residual against the rest.
    ``A`` (m, 2n) is the design at the solution (zero columns for held coordinates), ``p`` (m,) the weights 1/σ² (0 for
    a row left out), ``v`` (m,) residuals adjusted − read, ``Q`` (2n, 2n) the a-priori covariance of the coordinates
    in m² (weights are 1/σ², so cofactor and a-priori covariance are the same thing), zero where held.
    ``r`` (m,) redundancy numbers, ``w`` v/(σ√r), ``tau`` w/σ₀, NaN where r < 1e-6 (or f = 0); ``mdb`` (m,) smallest
    detectable slip, inf where none is.
    ``start_xy`` (n, 2) is where it began; a robust start is close to the truth even where a gross slip has pulled
    ``xy`` metres away.
    """

    network: Network
    xy: Array
    Q: Array
    A: Array
    p: Array
    used: BoolArray
    computed: Array
    v: Array
    r: Array
    w: Array
    tau: Array
    mdb: Array
    vtpv: float
    f: int
    sigma0: float
    test: GlobalTest
    iterations: int
    converged: bool
    start_xy: Array

    @cached_property
    def ellipses(self) -> Array:
        """Standard error ellipses (n, 3): major, minor (1 σ, m) and angle (rad) of the major axis."""
        return error_ellipses(self.Q)

    def sigma_of(self, i: int, j: int) -> float:
        """Standard deviation of the adjusted distance between points i and j, m: √(g Q gᵀ) with g = (−u, u)."""
        d = self.xy[j] - self.xy[i]
        length = float(np.hypot(d[0], d[1]))
        if length == 0.0:
            return 0.0
        u = d / length
        g = np.concatenate([-u, u])
        rows = [2 * i, 2 * i + 1, 2 * j, 2 * j + 1]
        return float(np.sqrt(max(0.0, g @ self.Q[np.ix_(rows, rows)] @ g)))


class SingularError(ValueError):
    """The rows in use do not hold every point; ``xy`` is where the adjustment stood when it found out."""

    def __init__(self, xy: Array) -> None:
        self.xy = xy
        super().__init__()


PIVOT_HIGH = 1e12  # a coordinate whose variance is this much larger for the others' sake is not held at all


def adjust(
    network: Network,
    start_xy: Array,
    *,
    use: BoolArray | None = None,
    max_iter: int = 50,
    tol: float = 1e-10,
) -> Adjustment:
    """Adjust by Gauss–Newton from ``start_xy`` (n, 2), by Newton near the end, with step halving.

    ``use`` (m,) leaves rows out. ``tol`` is how far off the answer may be, m (for coordinates beyond 1 km, per km).
    Raises ``SingularError`` where the rows that take part do not hold every point at the solution. Where it runs out of
    iterations ``converged`` is False; nothing else is hidden.

    Two points, taped twice with 2 mm each: the mean, σ/√2, and each reading half checked.

    >>> from stringline.job.model import SurveyInput
    >>> from stringline.job.readings import Tape
    >>> from stringline.lengths import metres
    >>> from stringline.survey.build import build_network
    >>> twice = tuple(Tape("A", "B", metres(m), sigma_m=0.002) for m in (5.000, 5.004))
    >>> found = adjust(build_network(SurveyInput(twice, baseline=("A", "B"))), np.array([[0.0, 0.0], [5.0, 0.0]]))
    >>> found.xy[1].round(6).tolist(), round(1000 * found.sigma_of(0, 1), 3), found.f
    ([5.002, 0.0], 1.414, 1)
    >>> found.r.round(6).tolist(), found.w.round(3).tolist(), round(found.sigma0, 3)
    ([0.5, 0.5], [1.414, -1.414], 1.414)
    """
    net = network
    used = np.ones(net.m, dtype=bool) if use is None else np.asarray(use, dtype=bool)
    weight = np.where(used, net.weight, 0.0)
    xy = np.where(net.fixed, net.fixed_xy, start_xy)
    limit = tol * max(1.0, 1e-3 * float(np.abs(xy).max()))
    computed, values = entries(net, xy)
    size, converged, iterations = np.inf, False, 0
    inverse: Array | None = None
    for iterations in range(1, max_iter + 1):
        miss = net.value - computed
        pull = gradient(net, values, weight * miss)
        near = size < NEAR_M or iterations > GENTLE
        step = _step(net, xy, computed, values, weight, pull, near=near)
        size = float(np.abs(step).max())
        xy, computed, values = _advance(net, xy, step.reshape(-1, 2), weight, float(weight @ (miss * miss)))
        if near and size < LAST_M:
            inverse = _inverse(net, _normal(net, values, weight, xy), xy)
            xy, computed, values, converged = _creep(net, xy, computed, values, weight, inverse, limit)
            if converged:
                break
    if inverse is None or not converged:
        inverse = _inverse(net, _normal(net, values, weight, xy), xy)
    return _report(net, xy, computed, values, inverse, used, iterations, converged, start_xy)


LAST_M = 1e-4  # after a Newton step this small the next would be below 1e-8 for any but the shortest lines
NEAR_M = 0.05  # after a step this small, second derivatives are taken in full: then steps shrink quadratically
GENTLE = 6  # and after this many steps in any case: a gross misfit is suspected


def _normal(net: Network, values: Array, weight: Array, xy: Array, bend: Array | None = None) -> Array:
    """Normal matrix (2n, 2n), ones on the diagonal where held; for a free network bordered by its own null space."""
    normal = normal_matrix(net, values, weight, bend)
    held = sparsity(net).held
    normal[held, held] = 1.0
    if net.datum is Datum.FREE:
        null = inner_constraints(xy)
        normal += (np.trace(normal) / len(normal)) * (null @ null.T)
    return normal


def inner_constraints(xy: Array) -> Array:
    """Orthonormal shift and turn of the whole network about its centroid, shape (2n, 3)."""
    n = len(xy)
    null = np.zeros((2 * n, 3))
    null[0::2, 0] = null[1::2, 1] = 1.0 / np.sqrt(n)
    d = xy - xy.mean(axis=0)
    null[0::2, 2], null[1::2, 2] = -d[:, 1], d[:, 0]
    null[:, 2] /= max(float(np.linalg.norm(null[:, 2])), 1e-300)
    return null


def _inverse(net: Network, normal: Array, xy: Array) -> Array:
    """Covariance of the coordinates; raises ``SingularError`` where the normal matrix does not hold every point."""
    try:
        inverse = np.asarray(np.linalg.inv(normal), dtype=float)
    except np.linalg.LinAlgError:
        raise SingularError(xy) from None
    spared = np.diag(inverse) * np.diag(normal)  # marginal over conditional variance of each coordinate
    if not (bool(np.isfinite(spared).all()) and float(spared.min()) > 0.0 and float(spared.max()) < PIVOT_HIGH):
        raise SingularError(xy)
    if net.datum is Datum.FREE:
        null = inner_constraints(xy)
        scale = float(null[:, 0] @ normal @ null[:, 0])
        inverse = inverse - (null @ null.T) / scale
    return inverse


def _step(net: Network, xy: Array, computed: Array, values: Array, weight: Array, pull: Array, *, near: bool) -> Array:
    """Newton's step where it is near and leads downhill, else Gauss–Newton's, damped where that does not exist."""
    if near:
        bend = weight * (computed - net.value) / np.maximum(np.abs(computed), 1e-9)
        try:
            step = np.linalg.solve(_normal(net, values, weight, xy, bend), pull)
        except np.linalg.LinAlgError:
            step = -pull
        if float(step @ pull) > 0.0:
            return np.asarray(step)
    normal = _normal(net, values, weight, xy)
    try:
        return np.asarray(np.linalg.solve(normal, pull))
    except np.linalg.LinAlgError:
        damped = normal + np.diag(1e-6 * np.diag(normal) + 1e-12 * np.trace(normal))
        return np.asarray(np.linalg.solve(damped, pull))


def _creep(
    net: Network, xy: Array, computed: Array, values: Array, weight: Array, inverse: Array, limit: float
) -> tuple[Array, Array, Array, bool]:
    """Take up what is left with the covariance at hand, while each step is less than half the one before.

    Gives back what it was given, and False, where they are not.
    """
    before, last = (xy, computed, values), LAST_M
    while True:
        step = inverse @ gradient(net, values, weight * (net.value - computed))
        size = float(np.abs(step).max())
        if size > 0.5 * last and size > limit:
            return *before, False
        xy = xy + step.reshape(-1, 2)
        computed, values = entries(net, xy)
        if size <= limit:
            return xy, computed, values, True
        last = size


def _advance(net: Network, xy: Array, move: Array, weight: Array, old: float) -> tuple[Array, Array, Array]:
    """Move by the longest of step, step/2, step/4 … that does not worsen the fit; xy, readings, entries."""
    factor = 1.0
    for _ in range(30):
        trial = xy + factor * move
        computed, values = entries(net, trial)
        miss = net.value - computed
        if float(weight @ (miss * miss)) <= old * (1.0 + 1e-9) + 1e-12:
            return trial, computed, values
        factor *= 0.5
    return xy, *entries(net, xy)


def _report(
    net: Network,
    xy: Array,
    computed: Array,
    values: Array,
    inverse: Array,
    used: BoolArray,
    iterations: int,
    converged: bool,
    start_xy: Array,
) -> Adjustment:
    lay = sparsity(net)
    cov = inverse
    cov[lay.held] = 0.0
    cov[:, lay.held] = 0.0
    v = computed - net.value
    p = np.where(used, net.weight, 0.0)
    r = np.where(used, np.clip(1.0 - p * row_variance(net, values, cov), 0.0, 1.0), np.nan)
    good = used & (r > UNTESTED_R)
    freedom = int(np.count_nonzero(used)) - (2 * net.n - len(lay.held)) + (3 if net.datum is Datum.FREE else 0)
    vtpv = float(p @ (v * v))
    sigma0 = float(np.sqrt(vtpv / freedom)) if freedom > 0 else 0.0
    nan = np.full(net.m, np.nan)
    root_r = np.sqrt(np.where(good, r, 1.0))
    w = np.where(good, v / (net.sigma * root_r), nan)
    return Adjustment(
        network=net,
        xy=xy,
        Q=cov,
        A=dense(net, lay.columns, values),
        p=p,
        used=used,
        computed=computed,
        v=v,
        r=r,
        w=w,
        tau=w / sigma0 if sigma0 > 0.0 else nan,
        mdb=np.where(good, NONCENTRALITY * net.sigma / root_r, np.inf),
        vtpv=vtpv,
        f=freedom,
        sigma0=sigma0,
        test=global_test(vtpv, freedom),
        iterations=iterations,
        converged=converged,
        start_xy=start_xy,
    )


def global_test(vtpv: float, freedom: int, alpha: float = GLOBAL_ALPHA) -> GlobalTest:
    """Two-sided χ² test of the whole network at ``alpha``; passes where there is nothing to test.

    vᵀPv lies between χ²(α/2; f) and χ²(1 − α/2; f) in 1 − α of all surveys whose σ are right (source ``chi-square``).

    >>> found = global_test(9.4, 9)
    >>> round(found.low, 2), round(found.high, 2), found.pass_
    (2.7, 19.02, True)
    """
    if freedom <= 0:
        return GlobalTest(vtpv, 0.0, 0.0, True)
    low, high = chi_square_quantile(1.0 - alpha / 2.0, freedom), chi_square_quantile(alpha / 2.0, freedom)
    return GlobalTest(vtpv, low, high, low <= vtpv <= high)


def error_ellipses(cov: Array) -> Array:
    """Semi-axes and direction of each point's standard ellipse, from its 2 × 2 block: shape (n, 3).

    √(½(q_xx + q_yy) ± √(¼(q_xx − q_yy)² + q_xy²)) in m, tan 2φ = 2 q_xy/(q_xx − q_yy), φ in (−π/2, π/2]. A point lies
    in its standard ellipse with 39 %.

    >>> error_ellipses(np.array([[5e-6, 3e-6], [3e-6, 5e-6]])).round(6).tolist()
    [[0.002828, 0.001414, 0.785398]]
    """
    a, b = np.diag(cov)[0::2], np.diag(cov)[1::2]
    k = np.arange(0, len(cov), 2)
    c = cov[k, k + 1]
    mean, half = 0.5 * (a + b), np.hypot(0.5 * (a - b), c)
    angle = 0.5 * np.arctan2(2.0 * c, a - b)
    angle = np.where(angle <= -0.5 * np.pi, 0.5 * np.pi, angle)
    return np.stack([np.sqrt(mean + half), np.sqrt(np.maximum(mean - half, 0.0)), angle], axis=1)
