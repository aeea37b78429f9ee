"""Rolls of sheet and reels of rope."""

from __future__ import annotations

import math

import numpy as np
import pytest

from stringline.mechanics import reel, roll
from stringline.system.model import Reel

INCH = 0.0254
FOOT = 0.3048


def test_length_of_a_thin_roll() -> None:
    """Source: published roll-length table, 12 in roll on a 3 in core, 0.004 in sheet — verified.

    Value 26 507 in, ours to 1 in.
    """
    assert float(roll.length_for_turns(1.5, 0.004, (6.0 - 1.5) / 0.004)) == pytest.approx(26507.0, abs=1.0)
    assert float(roll.radius_m(1.5, 0.004, 26507.0)) == pytest.approx(6.0, abs=1e-4)


def test_stretch_wrap_roll() -> None:
    """Source: roll-length worked example 2, stretch wrap of 5 in on a 2 in core, film 0.0008 in — verified.

    20 617 in (its 3.14159 rounds; ours to 1 in) and about 1875 wraps, to half a wrap.
    """
    assert float(roll.length_for_turns(1.0, 0.0008, 1875.0)) == pytest.approx(20617.0, abs=1.0)
    assert float(roll.turns(1.0, 0.0008, 20617.0)) == pytest.approx(1875.0, abs=0.5)


def test_roll_against_the_integral_of_its_spiral() -> None:
    """Source: arc length of r = R₀ + tθ/2π, integrated numerically by scipy.integrate.quad as a second judge —
    verified.

    The true arc is longer than the even-thickness model by the spiral's slant only: under one part in a million here.
    """
    from scipy.integrate import quad

    core, t, turned = 0.09, 0.0012, 17.3
    slope = t / (2 * math.pi)
    arc, _ = quad(lambda a: math.hypot(core + slope * a, slope), 0.0, 2 * math.pi * turned, epsabs=1e-12)
    ours = float(roll.length_for_turns(core, t, turned))
    assert arc == pytest.approx(ours, rel=1e-5)
    assert float(roll.turns(core, t, ours)) == pytest.approx(turned, rel=1e-12)
    assert float(roll.radius_m(core, t, ours)) == pytest.approx(core + t * turned, rel=1e-12)


def _reel(barrel: float, flange: float, width: float, freeboard: float = 0.0) -> Reel:
    """A reel given by diameters in inches."""
    return Reel(barrel / 2 * INCH, flange / 2 * INCH, width * INCH, freeboard * INCH)


def test_winch_drum_of_ten_layers() -> None:
    """Source: published winch-drum example, 10 in barrel, 20 in flange, 12 in wide, ½ in rope — verified.

    10 layers, about 942 ft.
    """
    laid = reel.spooling(_reel(10, 20, 12), 0.5 * INCH, reel.STACKED)
    assert laid.room == 10
    assert laid.turns_a_layer == 24
    assert laid.capacity_m / FOOT == pytest.approx(942.0, abs=1.0)


@pytest.mark.parametrize(
    ("diameter", "factor"),
    [(0.25, 3.29), (0.3125, 2.21), (0.375, 1.58), (0.5, 0.925), (0.625, 0.607), (0.75, 0.428), (1.0, 0.239)],
)
def test_reel_capacity_table(diameter: float, factor: float) -> None:
    """Source: wire-rope handbook reel-capacity rule (A + D)·A·B·K in feet, K by rope diameter — verified.

    K allows for oversize rope, so it lies below the exact 0.2618/d² by 6 to 21 %; our exact layers lie between the
    table and the ideal once whole turns and whole layers are allowed for.
    """
    a, b, d = 10.0, 20.0, 18.0
    table = (a + d) * a * b * factor
    ideal = (a + d) * a * b * 0.2618 / diameter**2
    laid = reel.spooling(_reel(d, d + 2 * a, b), diameter * INCH, reel.STACKED)
    ours = laid.capacity_m / FOOT
    assert 0.78 * ideal < table < ideal
    assert table * 0.99 < ours <= ideal * 1.0001


def test_capacity_of_half_inch_rope_by_the_table() -> None:
    """Source: the same rule with A 10, B 20, D 18 in and ½ in rope, K 0.925 — verified.

    Value 5180 ft; exact layers give 13 % more.
    """
    assert pytest.approx(5180.0) == (10 + 18) * 10 * 20 * 0.925
    ours = reel.spooling(_reel(18, 38, 20), 0.5 * INCH, reel.STACKED).capacity_m / FOOT
    assert ours == pytest.approx(5180 * (0.2618 / 0.25) / 0.925, rel=0.001)


def test_winding_drum_by_volume() -> None:
    """Source: school problem "Winch", 6 mm rope, 20 m, drum 60 mm wide and 50 mm across — verified.

    Published: 133.34 mm by volume, 138 mm over the outside in whole layers. Stacked layers here give 10 turns a layer
    and 7 begun layers (134 mm); the published figure rounds up a whole rope diameter.
    """
    r = Reel(0.025, 0.2, 0.060, 0.0)
    full = reel.fill(r, 0.006, 20.0)
    assert 2 * full.outer_radius_m == pytest.approx(0.134, abs=1e-9)
    assert 0.13333 <= 2 * full.outer_radius_m <= 0.138
    assert full.layers == 7


def test_nested_layers_by_a_trigonometric_second_route() -> None:
    """Source: close packing of equal circles, layer pitch d·√3/2 — verified.

    Pitch to 1e-12 from the triangle of three rope middles.
    """
    laid = reel.spooling(_reel(4, 9, 2), 0.25 * INCH, reel.NESTED)
    side = 0.25 * INCH
    height = math.sqrt(side**2 - (side / 2) ** 2)
    assert np.diff(laid.layer_radius_m) == pytest.approx(height, rel=1e-12)
