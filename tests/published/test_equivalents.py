"""Feet, inches and metres: the definition of the inch and published tables of equivalents."""

from __future__ import annotations

from fractions import Fraction

import pytest

from stringline.lengths import FOOT_M, INCH_M, Unit, format_inches, format_length, parse


def test_inch_and_foot_are_exact() -> None:
    """Source: International yard and pound agreement, 1959 — seen second-hand.

    1 in = 25.4 mm and 1 ft = 0.3048 m, equal as fractions, without rounding.
    """
    assert parse("1 in", None).exact_m == INCH_M == Fraction(254, 10_000)
    assert parse("1 ft", None).exact_m == FOOT_M == Fraction(3048, 10_000)
    assert parse("3 ft", None).exact_m == Fraction(9144, 10_000)  # the yard that the agreement names


@pytest.mark.parametrize(
    ("fraction", "decimal", "mm"),
    [
        ("1/64", "0.015625", 0.3969),
        ("1/32", "0.03125", 0.7937),
        ("3/64", "0.046875", 1.1906),
        ("1/16", "0.0625", 1.5875),
        ("1/8", "0.125", 3.1750),
        ("11/64", "0.171875", 4.3656),
        ("3/16", "0.1875", 4.7625),
        ("1/4", "0.25", 6.35),
        ("21/64", "0.328125", 8.3344),
        ("7/16", "0.4375", 11.1125),
        ("37/64", "0.578125", 14.6844),
        ("5/8", "0.625", 15.875),
        ("3/4", "0.75", 19.05),
        ("53/64", "0.828125", 21.0344),
        ("15/16", "0.9375", 23.8125),
        ("63/64", "0.984375", 25.0031),
    ],
)
def test_ruler_fractions(fraction: str, decimal: str, mm: float) -> None:
    """Source: Equivalents of 64ths of an inch as printed on machinists' charts — seen in three copies that agree.

    Decimal inches exactly; millimetres to the four places printed.
    """
    read = parse(f'{fraction}"', None)
    assert read.exact_m == parse(f"{decimal} in", None).exact_m
    assert read.m * 1000 == pytest.approx(mm, abs=0.00006)
    assert format_inches(Fraction(decimal) * INCH_M, step=INCH_M / 64) == f'{fraction}"'


def test_decimal_feet_to_feet_and_inches() -> None:
    """Source: a public table of metres and feet, worked examples — verified.

    6.37 ft is 6 ft 4.44 in; 4.382 in is a bit over 4 3/8 in. The first to the two places
    printed, the second to the nearest eighth.
    """
    feet = parse("6.37 ft", None)
    assert feet.exact_m is not None
    assert float((feet.exact_m - 6 * FOOT_M) / INCH_M) == pytest.approx(4.44, abs=0.005)
    assert format_inches(parse("4.382 in", None).m, step=INCH_M / 8) == '4 3/8"'


def test_metres_to_feet() -> None:
    """Source: a public page on the international foot, worked example — verified: 100 m is about 328.08 ft.

    Written to the hundredth of a foot that the page gives.
    """
    assert format_length(100.0, Unit.FT, step=FOOT_M / 100) == "328.08 ft"
    assert parse("328.08 ft", None).m == pytest.approx(100.0, abs=0.002)
