"""Lengths as whole numbers, so that what fits is a matter of arithmetic and not of rounding.

The grain is an eighth of a micrometre: a millimetre is 8000 of it and a sixty-fourth of an inch 3175, so what is read
from either kind of tape is exact.
"""

from __future__ import annotations

GRAINS_PER_M = 8_000_000


def to_grains(length_m: float) -> int:
    """Nearest whole number of grains.

    >>> to_grains(0.001), to_grains(0.0254 / 64)
    (8000, 3175)
    """
    return round(length_m * GRAINS_PER_M)


def to_m(grains: int) -> float:
    """Back to metres.

    >>> to_m(to_grains(6.096))
    6.096
    """
    return grains / GRAINS_PER_M
