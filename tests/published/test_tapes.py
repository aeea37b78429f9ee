"""Tapes: permissible errors of accuracy classes, and corrections for temperature, pull and sag."""

from __future__ import annotations

import math

import pytest

from stringline.survey.adjust.tape import (
    permissible_error_m,
    pull_correction_m,
    sag_correction_m,
    tape_sigma,
    temperature_correction_m,
)

FT, LB, IN = 0.3048, 4.4482216152605, 0.0254


@pytest.mark.parametrize(
    ("tape_class", "length_m", "limit_mm"), [("II", 10.0, 2.3), ("I", 10.0, 1.1), ("III", 10.0, 4.6)]
)
def test_class_limits(tape_class: str, length_m: float, limit_mm: float) -> None:
    """Source: UK SI 2016/1153 schedule 1I (EU MI-008), a + b·L mm, L rounded up to whole metres — seen; exact."""
    assert 1e3 * permissible_error_m(length_m, tape_class) == pytest.approx(limit_mm, abs=1e-9)


def test_class_limit_rounds_the_length_up() -> None:
    """Source: UK SI 2016/1153 schedule 1I (EU MI-008) — seen: 9.01 m counts as 10 m, 9 m as 9 m."""
    assert permissible_error_m(9.01) == permissible_error_m(10.0)
    assert 1e3 * permissible_error_m(9.0) == pytest.approx(2.1, abs=1e-9)


def test_sigma_is_half_the_limit_with_a_reading_part() -> None:
    """Source: practice, no source: σ = half the class limit, with 2 mm for reading, in quadrature."""
    assert tape_sigma(10.0) == pytest.approx(math.hypot(0.00115, 0.002), abs=1e-12)


def test_temperature() -> None:
    """Source: surveying course slides, worked example — verified: 368.50 ft steel tape, 68 → 22 °F, 6.5e-6/°F: −0.11 ft to 0.005."""  # noqa: E501
    correction = temperature_correction_m(368.50 * FT, (22.0 - 32.0) / 1.8, 20.0, 6.5e-6 * 1.8)
    assert correction / FT == pytest.approx(-0.11, abs=5e-3)


@pytest.mark.parametrize(
    ("spans", "pull_lb", "printed_ft"),
    [
        ((100.0,) * 3 + (48.75,), 12.0, -0.71),
        ((100.0,) * 3 + (48.75,), 18.0, -0.31),
        ((50.0,) * 6 + (48.75,), 12.0, -0.20),
    ],
)
def test_sag(spans: tuple[float, ...], pull_lb: float, printed_ft: float) -> None:
    """Source: surveying course slides, worked examples — verified: 2.8 lb per 100 ft tape, 348.75 ft, to 0.005 ft."""
    weight = 2.8 * LB / (100.0 * FT)
    total = sum(sag_correction_m(span * FT, weight, pull_lb * LB) for span in spans)
    assert total / FT == pytest.approx(printed_ft, abs=5e-3)


def test_pull() -> None:
    """Source: surveying course slides, worked example — verified: 12 → 18 lb, 0.015 in², 29e6 psi, 100 ft: 0.0014 ft to 0.00005."""  # noqa: E501
    correction = pull_correction_m(100.0 * FT, 18.0 * LB, 12.0 * LB, 0.015 * IN**2, 29e6 * LB / IN**2)
    assert correction / FT == pytest.approx(0.0014, abs=5e-5)
