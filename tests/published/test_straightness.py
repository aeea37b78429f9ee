"""Straightness as the narrowest zone: widths of hulls and lines of least largest error."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import linprog

from stringline.form.zones import parallelism, straightness
from stringline.geometry import Array, narrowest_strip


def _no_spread(points: Array) -> Array:
    return np.zeros((2 * len(points), 2 * len(points)))


def test_width_of_a_quadrilateral() -> None:
    """Source: JTS MinimumDiameterTest, case 5 — verified: 202.2119066, to 1e-9."""
    points = np.array([[0, 240], [160, 140], [220, 0], [0, 0]], dtype=float)
    want = math.dist((185.86206896551724, 79.65517241379311), (0.0, 0.0))
    assert want == pytest.approx(202.2119066, abs=5e-8)
    assert narrowest_strip(points).width == pytest.approx(want, rel=1e-12)


def test_width_of_a_rectangle() -> None:
    """Source: JTS MinimumDiameterTest, case 3 — verified: 220, exactly."""
    points = np.array([[0, 240], [220, 240], [220, 0], [0, 0]], dtype=float)
    assert narrowest_strip(points).width == 220.0


def test_width_of_a_tangled_line() -> None:
    """Source: JTS MinimumDiameterTest, case 6 — verified: (64.46, 196.41) to (95, 35), to 1e-11."""
    flat = (
        "39 119 162 197 135 70 95 35 33 66 111 82 97 131 48 160 -4 182 57 195 94 202 90 174 75 134 47 114 0 100 "
        "59 81 123 60 136 43 163 75 145 114 93 136 92 159 105 175"
    )
    points = np.array([float(x) for x in flat.split()]).reshape(-1, 2)
    want = math.dist((64.46262341325811, 196.41184767277855), (95.0, 35.0))
    strip = narrowest_strip(points)
    assert strip.width == pytest.approx(want, rel=1e-11)
    assert tuple(points[strip.k]) == (95.0, 35.0)


@pytest.mark.parametrize(
    ("of", "low", "high", "slope", "error"),
    [
        ("sqrt", 0.0, 1.0, 1.0, 0.125),
        ("exp", 0.0, 1.0, 1.718282, 0.105933),
        ("exp", -1.0, 1.0, 1.1752, 0.2788),
    ],
)
def test_minimax_lines(of: str, low: float, high: float, slope: float, error: float) -> None:
    """Source: classical minimax lines of √x and eˣ; Atkinson, An Introduction to Numerical Analysis, p. 200 — seen.

    √x on [0, 1]: x + 1/8 (from memory). eˣ on [0, 1]: 1.718282x + 0.894067, error 0.105933 (seen). eˣ on [−1, 1]:
    1.2643 + 1.1752x, error e⁻¹/2 + ln(1.1752)·(e − e⁻¹)/4 (Atkinson, seen second-hand, recomputed). The strip around
    the curve is twice that error, measured square to the line; 4001 points, to 1e-4 relative.
    """
    x = np.linspace(low, high, 4001)
    points = np.stack([x, np.sqrt(x) if of == "sqrt" else np.exp(x)], axis=-1)
    want = 2 * error * math.cos(math.atan(slope))
    zone = straightness(points, _no_spread(points))
    assert zone.width == pytest.approx(want, rel=1e-4)
    assert math.tan(zone.normal_rad + math.pi / 2) == pytest.approx(slope, rel=1e-4)


def _turned(points: Array, angle: float) -> Array:
    c, s = math.cos(angle), math.sin(angle)
    return np.asarray(points @ np.array([[c, -s], [s, c]]))


def _least_largest(groups: list[Array]) -> tuple[float, float]:
    """Slope and half-height of equal strips of one slope, one around each group: a linear programme."""
    rows, right = [], []
    for g, pts in enumerate(groups):
        for x, y in pts:
            lie = [0.0] * len(groups)
            lie[g] = 1.0
            rows += [[x, *lie, -1.0], [-x, *(-v for v in lie), -1.0]]
            right += [y, -y]
    cost = [0.0] * (len(groups) + 1) + [1.0]
    answer = linprog(cost, A_ub=rows, b_ub=right, bounds=[(None, None)] * (len(groups) + 1) + [(0, None)])
    assert answer.x is not None
    return float(answer.x[0]), float(answer.x[-1])


def _judge(groups: list[Array]) -> float:
    """Width of the least equal strips square to themselves: the programme again and again in the frame it finds."""
    angle = 0.0
    for _ in range(40):
        slope, half = _least_largest([_turned(g, -angle) for g in groups])
        if abs(slope) < 1e-13:
            break
        angle -= math.atan(slope)
    return 2 * half


@pytest.mark.parametrize("seed", range(12))
def test_straightness_against_a_linear_programme(seed: int) -> None:
    """Source: second judge, scipy.optimize.linprog (HiGHS) on the Chebyshev line, turned until flat; to 1e-9 m."""
    rng = np.random.default_rng(seed)
    points = np.stack([np.sort(rng.uniform(0, 12, 9)), rng.normal(0, 0.004, 9)], axis=-1)
    mine = straightness(_turned(points, rng.uniform(-3, 3)), _no_spread(points)).width
    assert mine == pytest.approx(_judge([points]), abs=1e-9)


@pytest.mark.parametrize("seed", range(12))
def test_parallelism_against_a_linear_programme(seed: int) -> None:
    """Source: second judge, scipy.optimize.linprog on two Chebyshev lines of one slope, until flat; to 1e-9 m."""
    rng = np.random.default_rng(100 + seed)
    n, m = rng.integers(2, 8, 2)
    left = np.stack([np.sort(rng.uniform(0, 12, n)), rng.normal(0, 0.006, n)], axis=-1)
    right = np.stack([np.sort(rng.uniform(0, 12, m)), rng.normal(-6, 0.006, m)], axis=-1)
    turn = rng.uniform(-3, 3)
    both = _no_spread(np.vstack([left, right]))
    mine = parallelism(_turned(left, turn), _turned(right, turn), both).width
    assert mine == pytest.approx(_judge([left, right]), abs=1e-9)
