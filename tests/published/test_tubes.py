"""Tubes: section, sag and twist."""

from __future__ import annotations

import math

import numpy as np
import pytest

from stringline.geometry import Array
from stringline.mechanics import drum

INCH = 0.0254


def test_pipe_twelve_inch_by_a_quarter() -> None:
    """Source: US Army Corps of Engineers EI 02C097, table B-1 — verified.

    Pipe 12 in × 0.250: A 9.23 in², I 159 in⁴; S 26.6 in³ and r 4.16 in as I/R and √(I/A), to the last digit.
    """
    s = drum.tube(6.0, 0.25)
    assert s.area_m2 == pytest.approx(9.23, abs=0.005)
    assert s.inertia_m4 == pytest.approx(159.0, abs=0.5)
    assert s.inertia_m4 / 6.0 == pytest.approx(26.6, abs=0.05)
    assert math.sqrt(s.inertia_m4 / s.area_m2) == pytest.approx(4.16, abs=0.005)


def test_hollow_section_48() -> None:
    """Source: circular hollow sections table (EN 10210/10219 sizes), CHS 48.3 × 3.2 — seen.

    A 4.53 cm², I 11.6 cm⁴, J 23.2 cm⁴, 3.56 kg/m, to the last digit.
    """
    s = drum.tube(2.415, 0.32)
    assert s.area_m2 == pytest.approx(4.53, abs=0.005)
    assert s.inertia_m4 == pytest.approx(11.6, abs=0.05)
    assert s.polar_m4 == pytest.approx(23.2, abs=0.05)
    assert s.area_m2 * 1e-4 * 7850 == pytest.approx(3.56, abs=0.005)


def test_polar_moment_of_a_40_mm_tube() -> None:
    """Source: MecMovies, torsion example M6.4: tube 40 mm outside, wall 5 mm — verified.

    J = 171 805.85 mm⁴, to 0.01.
    """
    assert drum.tube(20.0, 5.0).polar_m4 == pytest.approx(171_805.85, abs=0.01)


def test_torsion_worked_example() -> None:
    """Source: worked torsion example, 675.7 N·m, 1 m, J 308 102 mm⁴, G 26 GPa — verified. 0.08435 rad, to 1e-5."""
    assert drum.twist_rad(675.7, 1.0, 26e9, 308102e-12) == pytest.approx(0.08435, abs=1e-5)


def _beam(stiffness: float, span: float, load: Array) -> Array:
    """Deflections of a simply supported beam of Hermite elements under an even load on each, shape (n + 1,)."""
    n = len(load)
    h = span / n
    k1 = (
        stiffness
        / h**3
        * np.array(
            [
                [12, 6 * h, -12, 6 * h],
                [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                [-12, -6 * h, 12, -6 * h],
                [6 * h, 2 * h * h, -6 * h, 4 * h * h],
            ]
        )
    )
    k, f = np.zeros((2 * n + 2, 2 * n + 2)), np.zeros(2 * n + 2)
    for e in range(n):
        at = slice(2 * e, 2 * e + 4)
        k[at, at] += k1
        f[at] += load[e] * h * np.array([0.5, h / 12, 0.5, -h / 12])
    held = [0, 2 * n]
    free = [i for i in range(2 * n + 2) if i not in held]
    u = np.zeros(2 * n + 2)
    u[free] = np.linalg.solve(k[np.ix_(free, free)], f[free])
    return u[0::2]


def test_sag_against_finite_elements() -> None:
    """Source: finite elements (Hermite cubic beam, 16 elements) as a second judge — verified.

    Sag in the middle, to 1e-9 of it.
    """
    s = drum.tube(0.0762, 0.0042)
    e, span, w = 69e9, 6.4, 210.0
    u = _beam(e * s.inertia_m4, span, np.full(16, w))
    assert drum.sag_m(w, span, e, s.inertia_m4) == pytest.approx(float(u.max()), rel=1e-9)


def test_evenly_spread_pull_is_the_safe_side() -> None:
    """Source: finite elements as a second judge — verified.

    The same pull near the ends sags the drum less than spread evenly.
    """
    s = drum.tube(0.0762, 0.0042)
    span, n, total = 6.4, 32, 900.0
    ends = np.zeros(n)
    ends[[0, -1]] = total / 2 / (span / n)
    even = np.full(n, total / span)
    stiff = 69e9 * s.inertia_m4
    assert float(_beam(stiff, span, ends).max()) < float(_beam(stiff, span, even).max())


def test_sag_by_integrating_the_moment() -> None:
    """Source: double integration of M/EI by scipy.integrate as a second judge — verified. Unit-load method, to 1e-8."""
    from scipy.integrate import quad

    span, w, stiff = 5.0, 130.0, 2.0e5

    def half_work(x: float) -> float:
        return w * x * (span - x) / 2 * (x / 2) / stiff

    half, _ = quad(half_work, 0.0, span / 2)
    assert drum.sag_m(w, span, stiff, 1.0) == pytest.approx(2 * half, rel=1e-8)


def test_polar_is_the_sum_of_both_second_moments() -> None:
    """Source: perpendicular-axis theorem — verified. J = 2I, by quadrature of r² over the ring, to 1e-9."""
    from scipy.integrate import quad

    def ring(r: float) -> float:
        return 2 * math.pi * r**3

    j, _ = quad(ring, 0.06, 0.0762)
    assert drum.tube(0.0762, 0.0162).polar_m4 == pytest.approx(j, rel=1e-9)
