"""A tape's σ from its class, and the corrections for temperature, pull and sag (off unless asked for)."""

from __future__ import annotations

import math

from stringline.job.model import TapeConditions

CLASS_LIMIT_MM: dict[str, tuple[float, float]] = {"I": (0.1, 0.1), "II": (0.3, 0.2), "III": (0.6, 0.4)}
"""Permissible error a + b·L of a tape's accuracy class, mm, L rounded up to whole metres (source ``tape-class``)."""

READING_SIGMA_M = 0.002
"""Reading and pointing a tape (source ``reading-sigma``)."""


def permissible_error_m(length_m: float, tape_class: str = "II") -> float:
    """Largest error that a tape of a class may have over a length, m: (a + b·⌈L/m⌉) mm (source ``tape-class``).

    Lengths from 0 to what the tape has; the class's limits hold at its own temperature and pull. Raises KeyError for a
    class that does not exist.

    >>> round(1000 * permissible_error_m(12.2, "II"), 3)  # 0.3 mm + 13 × 0.2 mm
    2.9
    """
    a, b = CLASS_LIMIT_MM[tape_class]
    return 1e-3 * (a + b * math.ceil(length_m - 1e-9))


def tape_sigma(length_m: float, tape_class: str = "II", reading_sigma_m: float = READING_SIGMA_M) -> float:
    """Standard deviation of one taped distance, m.

    σ = √((½·(a + b·⌈L⌉))² + σ_r²): half the permissible error of the tape's class (practice: it is a bound of two σ),
    combined in quadrature with reading and pointing, σ_r (source ``reading-sigma``). Raises KeyError for a class that
    does not exist.

    >>> round(1000 * tape_sigma(12.2), 2)  # √(1.45² + 2²) mm
    2.47
    """
    return math.hypot(0.5 * permissible_error_m(length_m, tape_class), reading_sigma_m)


def temperature_correction_m(length_m: float, celsius: float, standard_celsius: float, per_kelvin: float) -> float:
    """What to add to a reading because the tape has grown with warmth: α·(T − T₀)·L, m (source ``tape-corrections``).

    ``per_kelvin`` is α, 11.5·10⁻⁶ for steel. Too cold a tape is short and reads too much, so the correction is then
    negative. Linear: good to 1 % over the temperatures that people tape in.

    >>> round(1000 * temperature_correction_m(30.0, 5.0, 20.0, 11.5e-6), 3)
    -5.175
    """
    return per_kelvin * (celsius - standard_celsius) * length_m


def pull_correction_m(
    length_m: float, pull_n: float, standard_pull_n: float, area_m2: float, modulus_pa: float
) -> float:
    """What to add to a reading because the tape is stretched by its pull: (P − P₀)·L/(A·E), m.

    Hooke's law, for pulls that the tape springs back from (source ``tape-corrections``). Example: a steel band of
    13 mm × 0.2 mm pulled with 100 N instead of 50 N.

    >>> round(1000 * pull_correction_m(30.0, 100.0, 50.0, 2.6e-6, 200e9), 3)
    2.885
    """
    return (pull_n - standard_pull_n) * length_m / (area_m2 * modulus_pa)


def sag_correction_m(span_m: float, weight_n_per_m: float, pull_n: float) -> float:
    """What to add to the reading of one unsupported span: −w²·L³/(24·P²), m; never positive.

    The parabola's arc less its chord; good while the sag stays small against the span (w·L well under P). A tape that
    lies on the deck has no span: add the corrections of its unsupported spans one by one. Raises ValueError for a pull
    that is not positive (source ``tape-corrections``).

    >>> round(1000 * sag_correction_m(20.0, 0.2, 50.0), 3)
    -5.333
    """
    if not pull_n > 0.0:
        raise ValueError("a sagging tape needs a pull above zero")
    return -(weight_n_per_m**2) * span_m**3 / (24.0 * pull_n**2)


def correction_m(length_m: float, conditions: TapeConditions | None) -> float:
    """Everything that ``conditions`` ask to add to a reading, m; 0 where none are given.

    >>> round(1000 * correction_m(30.0, TapeConditions(celsius=5.0)), 3)
    -5.175
    >>> correction_m(30.0, None)
    0.0
    """
    if conditions is None:
        return 0.0
    c, total = conditions, 0.0
    if c.celsius is not None:
        total += temperature_correction_m(length_m, c.celsius, c.standard_celsius, c.per_kelvin)
    if c.pull_n is not None and c.area_m2 is not None:
        total += pull_correction_m(length_m, c.pull_n, c.standard_pull_n, c.area_m2, c.modulus_pa)
    if c.hanging and c.pull_n is not None and c.weight_n_per_m is not None:
        total += sag_correction_m(length_m, c.weight_n_per_m, c.pull_n)
    return total
