"""The normal law and χ² of whole degrees of freedom, without special functions from a library.

SciPy's are as good, but to import them takes longer than to adjust a survey, and most runs of the program need nothing
else of SciPy. Where Owen's T or a logarithm far out is wanted, :mod:`stringline.lead.orthant` still goes there.
"""

from __future__ import annotations

import math
from functools import cache
from statistics import NormalDist

import numpy as np

from stringline.geometry import Array

_REACH, _PER_UNIT = 9.0, 512  # beyond 9 σ lies less than 1e-18


def normal_below(x: Array | float) -> Array:
    """Φ(x) for any shape, to 3e-14: cubic pieces through Φ and its slope at every 1/512.

    >>> normal_below(np.array([-40.0, 0.0, 1.96])).round(6).tolist()
    [0.0, 0.5, 0.975002]
    """
    at = (np.clip(x, -_REACH, _REACH) + _REACH) * _PER_UNIT
    k = np.minimum(at.astype(np.intp), int(2 * _REACH * _PER_UNIT) - 1)
    part = at - k
    c = _pieces()
    found: Array = c[0][k] + part * (c[1][k] + part * (c[2][k] + part * c[3][k]))
    return found


@cache
def _grid() -> tuple[Array, Array, Array]:
    """x at every step, Φ there and its density."""
    x = np.arange(-_REACH * _PER_UNIT, _REACH * _PER_UNIT + 1) / _PER_UNIT
    value = np.array([0.5 * math.erfc(v) for v in (-x / math.sqrt(2.0)).tolist()])
    return x, value, _density(x)


@cache
def _pieces() -> tuple[Array, Array, Array, Array]:
    """Coefficients of the cubic over each step, by rising rank of the step's part."""
    _, value, density = _grid()
    rise, left, right = np.diff(value), density[:-1] / _PER_UNIT, density[1:] / _PER_UNIT
    return value[:-1], left, 3.0 * rise - 2.0 * left - right, left + right - 2.0 * rise


def _density(x: Array) -> Array:
    return np.asarray(np.exp(-0.5 * x * x) / math.sqrt(2.0 * math.pi))


def normal_quantile(p: Array) -> Array:
    """x with Φ(x) = p for any shape, 0 < p < 1, to 1e-10; raises statistics.StatisticsError outside.

    >>> normal_quantile(np.array([0.5, 0.975])).round(6).tolist()
    [0.0, 1.959964]
    """
    x, value, _ = _grid()
    middle = np.abs(p - 0.5) < 0.499
    near = np.where(middle, p, 0.5)
    found: Array = np.interp(near, value, x)
    for _ in range(2):
        found -= (normal_below(found) - near) / _density(found)
    # Far out Φ hardly changes and the steps would divide by next to nothing; there are few such points.
    found[~middle] = [NormalDist().inv_cdf(v) for v in p[~middle].tolist()]
    return found


def chi_square_above(x: float, freedom: int) -> float:
    """P(χ² > x) for a whole number of degrees of freedom, x ≥ 0, by its finite sum (source ``chi-square``).

    With h = x/2: even, Σ e⁻ʰ hⁱ/i! for i < f/2; odd, erfc(√h) + Σ e⁻ʰ hⁱ/Γ(i + 1) for i = ½, 1½, … < f/2.

    >>> round(chi_square_above(19.0228, 9), 5)
    0.025
    """
    h = x / 2.0
    if h <= 0.0:
        return 1.0
    first = 0.0 if freedom % 2 == 0 else 0.5
    terms = (first + i for i in range(math.ceil(freedom / 2.0 - first)))
    # by logarithms, for neither e⁻ʰ nor hⁱ stands by itself where there are many readings
    total = math.fsum(math.exp(i * math.log(h) - h - math.lgamma(i + 1.0)) for i in terms)
    return total if first == 0.0 else total + math.erfc(math.sqrt(h))


def chi_square_quantile(above: float, freedom: int) -> float:
    """x with P(χ² > x) = ``above``, 0 < above < 1, freedom ≥ 1, to the last digits: Newton from Wilson and Hilferty.

    >>> round(chi_square_quantile(0.025, 9), 2), round(chi_square_quantile(0.975, 9), 2)
    (19.02, 2.7)
    """
    f = float(freedom)
    near = 1.0 - 2.0 / (9.0 * f) - NormalDist().inv_cdf(above) * math.sqrt(2.0 / (9.0 * f))
    x = max(f * near**3, 1e-3 * f)
    for _ in range(60):
        density = math.exp((f / 2.0 - 1.0) * math.log(x / 2.0) - x / 2.0 - math.lgamma(f / 2.0)) / 2.0
        step = (chi_square_above(x, freedom) - above) / density
        x, before = max(x + step, x / 4.0), x
        if abs(x - before) <= 4e-16 * x:
            break
    return x
