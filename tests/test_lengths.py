"""Lengths as people write them."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spoken import said
from stringline.lengths import (
    FOOT_M,
    INCH_M,
    LengthError,
    Unit,
    format_amount,
    format_inches,
    format_length,
    parse,
)

STEADY = settings(max_examples=200, deadline=None, derandomize=True)


def test_the_international_inch_is_exact() -> None:
    assert Fraction(254, 10_000) == INCH_M
    assert Fraction(3048, 10_000) == FOOT_M


@pytest.mark.parametrize(
    ("text", "inches", "notation"),
    [
        ("32' 6 1/2\"", Fraction(781, 2), "ft-in"),
        ("32'6 1/2\"", Fraction(781, 2), "ft-in"),
        ("32' 6-1/2\"", Fraction(781, 2), "ft-in"),
        ("32'-6 1/2\"", Fraction(781, 2), "ft-in"),
        ("32' - 6 1/2\"", Fraction(781, 2), "ft-in"),
        ("32-6-1/2", Fraction(781, 2), "ft-in"),
        ('32-6-1/2"', Fraction(781, 2), "ft-in"),
        ("32-6 1/2", Fraction(781, 2), "ft-in"),
        ("32-6½", Fraction(781, 2), "ft-in"),
        ("32ft 6.5in", Fraction(781, 2), "ft-in"),
        ("32 ft. 6.5 in.", Fraction(781, 2), "ft-in"),
        ("32 feet 6 1/2 inches", Fraction(781, 2), "ft-in"),
        ("32 FT 6 1/2 IN", Fraction(781, 2), "ft-in"),
        ("32′ 6½″", Fraction(781, 2), "ft-in"),
        ("32’ 6 ½”", Fraction(781, 2), "ft-in"),
        ("32' 6 1/2''", Fraction(781, 2), "ft-in"),
        ("32' 6 1⁄2\"", Fraction(781, 2), "ft-in"),
        ("  32'\u00a06\u20091/2\"  ", Fraction(781, 2), "ft-in"),
        ("32' 6", Fraction(390), "ft-in"),
        ("32-6", Fraction(390), "ft-in"),
        ("32'", Fraction(384), "ft-in"),
        ("32' 0\"", Fraction(384), "ft-in"),
        ("0' 0\"", Fraction(0), "ft-in"),
        ("0", Fraction(0), "ft-in"),
        ("32'1/2\"", Fraction(769, 2), "ft-in"),
        ("32' 6,5\"", Fraction(781, 2), "ft-in"),
        ('6 1/2"', Fraction(13, 2), "in"),
        ('6-1/2"', Fraction(13, 2), "in"),
        ('6½"', Fraction(13, 2), "in"),
        ('⅛"', Fraction(1, 8), "in"),
        ("6''", Fraction(6), "in"),
        ("6.5 in", Fraction(13, 2), "in"),
        ("1 inch", Fraction(1), "in"),
        ('54"', Fraction(54), "in"),
        ('63/64"', Fraction(63, 64), "in"),
        ('4/8"', Fraction(1, 2), "in"),
        ('.5"', Fraction(1, 2), "in"),
        ("32.5'", Fraction(390), "ft"),
        ("32.5 ft", Fraction(390), "ft"),
        ("32,5 ft", Fraction(390), "ft"),
    ],
)
def test_reads_feet_and_inches_exactly(text: str, inches: Fraction, notation: str) -> None:
    found = parse(text, Unit.FT_IN)
    assert found.exact_m == inches * INCH_M
    assert found.m == float(inches * INCH_M)
    assert found.notation == notation
    assert found.text == text.strip()


@pytest.mark.parametrize(
    ("text", "metres", "notation"),
    [
        ("9.92 m", Fraction(992, 100), "m"),
        ("9.92m", Fraction(992, 100), "m"),
        ("9,92 m", Fraction(992, 100), "m"),
        ("0,125 m", Fraction(1, 8), "m"),
        ("992cm", Fraction(992, 100), "cm"),
        ("992 centimetres", Fraction(992, 100), "cm"),
        ("9920 mm", Fraction(992, 100), "mm"),
        ("9920 millimeters", Fraction(992, 100), "mm"),
        ("9 metres", Fraction(9), "m"),
        ("1 Meter", Fraction(1), "m"),
        ("1.5 mm", Fraction(15, 10_000), "mm"),
    ],
)
def test_reads_metric_whatever_the_job_unit(text: str, metres: Fraction, notation: str) -> None:
    for unit in (*Unit, None):
        found = parse(text, unit)
        assert found.exact_m == metres
        assert found.notation == notation


@pytest.mark.parametrize(
    ("value", "unit", "metres", "notation"),
    [
        (9920, Unit.MM, Fraction(992, 100), "mm"),
        ("9920", Unit.MM, Fraction(992, 100), "mm"),
        (9920.5, Unit.MM, Fraction(99205, 10_000), "mm"),
        (9.92, Unit.M, Fraction(992, 100), "m"),
        ("9.92", Unit.M, Fraction(992, 100), "m"),
        ("9,92", Unit.M, Fraction(992, 100), "m"),
        (10, Unit.M, Fraction(10), "m"),
        (32.5, Unit.FT, Fraction(325, 10) * FOOT_M, "ft"),
        ("32.5", Unit.FT, Fraction(325, 10) * FOOT_M, "ft"),
        (0, None, Fraction(0), "ft-in"),
        (0.0, Unit.FT_IN, Fraction(0), "ft-in"),
        (1e-5, Unit.M, Fraction(1, 100_000), "m"),
    ],
)
def test_a_bare_number_means_the_stated_unit(
    value: str | float, unit: Unit | None, metres: Fraction, notation: str
) -> None:
    found = parse(value, unit)
    assert found.exact_m == metres
    assert found.notation == notation


@pytest.mark.parametrize(
    ("value", "unit", "says"),
    [
        ("12", Unit.FT_IN, "could be feet or inches"),
        (12, Unit.FT_IN, "could be feet or inches"),
        (12.5, Unit.FT_IN, "could be feet or inches"),
        ("12", None, "no unit"),
        ("6 1/2", Unit.FT_IN, "could be inches, or feet and a fraction"),
        ("6-1/2", Unit.FT_IN, "could be inches, or feet and a fraction"),
        ("1/2", Unit.FT_IN, "part of a foot or of an inch"),
        ("32 6 1/2", Unit.FT_IN, "32' 6 1/2\""),
        ('32 6"', Unit.FT_IN, "32' 6\""),
        ("9-92", Unit.M, "could be 9 ft 92 in"),
        ("9,920 m", Unit.M, "could be 9920 or 9.920"),
        ("9,920", Unit.MM, "could be 9920 or 9.920"),
        ("1,234.5 mm", Unit.MM, "more than one decimal mark"),
        ("9.9.2 m", Unit.M, "more than one decimal mark"),
        ("32' 12\"", Unit.FT_IN, "33' 0\""),
        ("32' 14 1/2\"", Unit.FT_IN, "33' 2 1/2\""),
        ("32-12", Unit.FT_IN, "a foot has 12"),
        ("32' 12.5 in", Unit.FT_IN, "a foot has 12"),
        ('6 9/8"', Unit.FT_IN, '7 1/8"'),
        ('6 8/8"', Unit.FT_IN, "an inch or more"),
        ('6 0/8"', Unit.FT_IN, "is nothing"),
        ('6 1/0"', Unit.FT_IN, "divides by nothing"),
        ('6 1/3"', Unit.FT_IN, "nearest 16th is 5/16"),
        ('⅓"', Unit.FT_IN, "no ruler"),
        ('6 3/10"', Unit.FT_IN, "no ruler"),
        ('6 3/128"', Unit.FT_IN, "no ruler"),
        ('6.5 1/2"', Unit.FT_IN, "decimal inches and a fraction"),
        ("32.5' 6\"", Unit.FT_IN, "decimal feet and inches"),
        ("6 1/2'", Unit.FT_IN, "fraction of a foot"),
        ("9 m 3 in", Unit.M, "mixes"),
        ("1e3", Unit.M, "power of ten"),
        ("", Unit.M, "empty"),
        ("   ", Unit.M, "empty"),
        ("about 9 m", Unit.M, "cannot be read"),
        ("9 m 20", Unit.M, "cannot be read"),
        ("32' 6\" 1/2", Unit.FT_IN, "cannot be read"),
        ("٣ m", Unit.M, "cannot be read"),
        ('-3"', Unit.FT_IN, "negative"),
        (-3, Unit.M, "negative"),
        ("−3 mm", Unit.M, "negative"),
        ("200000 m", Unit.M, "longer than any job"),
        (10**13, Unit.MM, "too big|this big"),
        ("9" * 61, Unit.MM, "too long"),
        (math.nan, Unit.M, "not a length"),
        (math.inf, Unit.M, "not a length"),
        ("nan", Unit.M, "cannot be read"),
        ("inf", Unit.M, "cannot be read"),
        (True, Unit.M, "not a length"),
        (None, Unit.M, "not a length"),
        ([1], Unit.M, "not a length"),
    ],
)
def test_refuses_what_is_wrong_or_could_mean_two_things(value: object, unit: Unit | None, says: str) -> None:
    with pytest.raises(LengthError) as caught:
        parse(value, unit)  # type: ignore[arg-type]
    message = said(caught.value.why)
    assert any(part in message for part in says.split("|")), message
    assert not said(caught.value.wrong).endswith(".")
    assert not said(caught.value.right).endswith(".")


def test_negative_only_where_it_may_be() -> None:
    found = parse("-2' 3 1/2\"", Unit.FT_IN, signed=True)
    assert found.exact_m == -Fraction(55, 2) * INCH_M
    assert (found.feet, found.inches, found.numerator, found.denominator, found.negative) == (2, 3, 1, 2, True)
    assert parse("+3 mm", None, signed=True).m == 0.003
    assert parse(-0.25, Unit.M, signed=True).m == -0.25
    assert parse("-0", Unit.M).m == 0.0


def test_keeps_what_was_written_as_numbers() -> None:
    a = parse("32' 6 3/16\"", Unit.FT_IN)
    assert (a.feet, a.inches, a.numerator, a.denominator, a.decimal) == (32, 6, 3, 16, None)
    b = parse("32ft 6.50in", Unit.FT_IN)
    assert (b.feet, b.inches, b.numerator, b.denominator, b.decimal) == (32, 6, 0, 1, "6.50")
    c = parse("9,92 m", Unit.FT_IN)
    assert (c.feet, c.inches, c.decimal) == (None, None, "9.92")
    d = parse("32.54'", Unit.FT_IN)
    assert (d.feet, d.inches, d.decimal) == (32, None, "32.54")
    e = parse('54"', Unit.FT_IN)
    assert (e.feet, e.inches, e.decimal) == (None, 54, None)


@pytest.mark.parametrize(
    ("m", "unit", "text"),
    [
        (0, Unit.FT_IN, '0"'),
        (Fraction(1, 10**6), Unit.FT_IN, '0"'),
        (-Fraction(1, 10**6), Unit.FT_IN, '0"'),
        ((12 * 12 + Fraction(7, 2)) * INCH_M, Unit.FT_IN, "12' 3 1/2\""),
        (Fraction(11 * 32 + 31, 32) * INCH_M, Unit.FT_IN, "1' 0\""),  # 11 31/32 carries
        (-Fraction(11 * 32 + 31, 32) * INCH_M, Unit.FT_IN, "-1' 0\""),
        (Fraction(143 * 64 + 63, 64) * INCH_M, Unit.FT_IN, "12' 0\""),
        (Fraction(1, 2) * INCH_M, Unit.FT_IN, '1/2"'),
        (Fraction(1, 32) * INCH_M, Unit.FT_IN, '1/16"'),  # a half goes up
        (-Fraction(7, 2) * INCH_M, Unit.FT_IN, '-3 1/2"'),
        (FOOT_M, Unit.FT_IN, "1' 0\""),
        (Fraction("9.9204"), Unit.M, "9.920 m"),
        (Fraction("9.9995"), Unit.M, "10.000 m"),
        (Fraction("9.9204"), Unit.MM, "9920 mm"),
        (-Fraction("0.0002"), Unit.MM, "0 mm"),
        (Fraction("32.5423") * FOOT_M, Unit.FT, "32.540 ft"),
    ],
)
def test_writes_to_the_nearest_step(m: Fraction, unit: Unit, text: str) -> None:
    assert format_length(m, unit) == text


def test_writes_to_another_step() -> None:
    x = Fraction(195, 64) * INCH_M  # 3 3/64
    assert format_length(x, Unit.FT_IN, step=INCH_M / 64) == '3 3/64"'
    assert format_length(x, Unit.FT_IN, step=0.0254 / 32) == '3 1/16"'
    assert format_length(x, Unit.FT_IN, step=INCH_M) == '3"'
    assert format_length(1.23456, Unit.M, step=0.0001) == "1.2346 m"
    assert format_length(1.23456, Unit.MM, step=0.0005) == "1234.5 mm"
    assert format_length(1.23456, Unit.MM, step=0.01) == "1230 mm"
    with pytest.raises(ValueError, match="ruler"):
        format_length(x, Unit.FT_IN, step=INCH_M / 3)
    with pytest.raises(ValueError, match="more than 0"):
        format_length(1.0, Unit.M, step=0.0)


def test_small_amounts() -> None:
    assert format_inches(Fraction(73, 4) * INCH_M) == '18 1/4"'
    assert format_inches(-Fraction(1, 4) * INCH_M) == '-1/4"'
    assert format_amount(0.0064, Unit.FT_IN) == '1/4"'
    assert format_amount(0.0064, Unit.FT) == '1/4"'
    assert format_amount(0.0064, Unit.M) == "6 mm"
    assert format_amount(0.0064, Unit.MM) == "6 mm"


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_not_written(bad: float) -> None:
    for unit in Unit:
        with pytest.raises(ValueError, match="finite"):
            format_length(bad, unit)
    with pytest.raises(ValueError, match="finite"):
        format_inches(bad)


@STEADY
@given(st.floats(-200, 200), st.sampled_from(list(Unit)))
def test_what_is_written_reads_back_within_half_a_step(m: float, unit: Unit) -> None:
    half = {Unit.FT_IN: INCH_M / 32, Unit.FT: FOOT_M / 400, Unit.M: Fraction(1, 2000), Unit.MM: Fraction(1, 2000)}[unit]
    text = format_length(m, unit)
    back = parse(text, unit, signed=True)
    assert back.exact_m is not None
    assert abs(back.exact_m - Fraction(m)) <= half
    assert format_length(back.exact_m, unit) == text


SPELLINGS = [
    "{f}' {i} {r}\"",
    "{f}-{i}-{r}",
    "{f} ft {i} {r} in",
    "{f}′{i}-{r}″",
    "{f}' {i} {r}''",
    "{f}'-{i} {r}\"",
]


@STEADY
@given(
    st.integers(0, 999),
    st.integers(0, 11),
    st.sampled_from([(n, d) for d in (2, 4, 8, 16, 32, 64) for n in range(1, d)]),
    st.sampled_from(SPELLINGS),
)
def test_every_spelling_of_feet_inches_and_a_fraction_is_exact(
    feet: int, inches: int, ruler: tuple[int, int], spelling: str
) -> None:
    numerator, denominator = ruler
    found = parse(spelling.format(f=feet, i=inches, r=f"{numerator}/{denominator}"), Unit.FT_IN)
    assert found.exact_m == (12 * feet + inches + Fraction(numerator, denominator)) * INCH_M
    assert (found.feet, found.inches, found.numerator, found.denominator) == (feet, inches, numerator, denominator)


@STEADY
@given(st.integers(-(10**6), 10**6), st.sampled_from([16, 32, 64]))
def test_ruler_fractions_are_written_in_lowest_terms_and_exactly(steps: int, denominator: int) -> None:
    exact = Fraction(steps, denominator) * INCH_M
    text = format_length(exact, Unit.FT_IN, step=INCH_M / denominator)
    assert parse(text, Unit.FT_IN, signed=True).exact_m == exact
    if "/" in text:
        numerator, below = (int(p) for p in text.rstrip('"').split(" ")[-1].lstrip("-").split("/"))
        assert math.gcd(numerator, below) == 1


@STEADY
@given(st.one_of(st.text(max_size=70), st.text(alphabet="0123456789'\"-/., ftinmc½¼′″", max_size=20)), st.booleans())
def test_any_text_is_a_length_or_is_refused(text: str, signed: bool) -> None:
    for unit in (*Unit, None):
        try:
            found = parse(text, unit, signed=signed)
        except LengthError:
            continue
        assert found.exact_m is not None
        assert math.isfinite(found.m)
        assert found.m == float(found.exact_m)
        assert signed or found.m >= 0
        assert found.notation in ("ft-in", "ft", "in", "m", "cm", "mm")


def test_whole_inches_are_never_left_out_after_feet() -> None:
    assert format_length(18 * FOOT_M + INCH_M * 5 / 16, Unit.FT_IN) == "18' 0 5/16\""
    assert format_length(18 * FOOT_M, Unit.FT_IN) == "18' 0\""
    assert format_length(INCH_M * 5 / 16, Unit.FT_IN) == '5/16"'
