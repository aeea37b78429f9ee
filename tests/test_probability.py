"""The normal law and χ², held against SciPy's special functions."""

from __future__ import annotations

from statistics import StatisticsError

import numpy as np
import pytest
from scipy import special

from stringline.probability import chi_square_above, chi_square_quantile, normal_below, normal_quantile


def test_the_normal_law_is_scipys() -> None:
    rng = np.random.default_rng(3)
    x = np.concatenate([rng.uniform(-10.0, 10.0, 100_000), np.arange(-9 * 512, 9 * 512 + 1) / 512, [-1e9, 1e9, 0.0]])
    assert np.abs(normal_below(x) - special.ndtr(x)).max() < 3e-14
    assert normal_below(np.zeros((2, 3))).shape == (2, 3)
    assert float(normal_below(0.0)) == 0.5


def test_the_normal_quantile_is_scipys() -> None:
    p = np.random.default_rng(4).uniform(1e-9, 1.0, (2, 5000))
    p[0, :4] = 0.001, 0.999, 0.5, 1e-12
    assert np.abs(normal_quantile(p) - special.ndtri(p)).max() < 1e-10
    with pytest.raises(StatisticsError):
        normal_quantile(np.array([1.0]))


@pytest.mark.parametrize("freedom", [*range(1, 40), 99, 100, 997, 5000])
@pytest.mark.parametrize("above", [0.999, 0.975, 0.5, 0.025, 0.001])
def test_chi_square_is_scipys(freedom: int, above: float) -> None:
    x = float(special.chdtri(freedom, above))
    assert chi_square_quantile(above, freedom) == pytest.approx(x, rel=1e-11)
    assert chi_square_above(x, freedom) == pytest.approx(float(special.chdtrc(freedom, x)), rel=1e-11)
    assert chi_square_above(0.0, freedom) == 1.0
