"""A figure held against a limit, with its uncertainty."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringline.judging import Check, Limit, Stage, Verdict, judge
from stringline.worked import Figure, Origin

STEADY = settings(max_examples=200, deadline=None, derandomize=True)


@pytest.mark.parametrize(
    ("value", "sigma", "verdict"),
    [
        (5.0, None, Verdict.PASS),
        (10.0, None, Verdict.PASS),  # a limit belongs to what it allows
        (10.001, None, Verdict.FAIL),
        (-0.001, 0.0, Verdict.FAIL),
        (8.0, 1.0, Verdict.PASS),  # 8 + 2 just inside
        (8.1, 1.0, Verdict.CANNOT_TELL),
        (11.9, 1.0, Verdict.CANNOT_TELL),
        (12.1, 1.0, Verdict.FAIL),  # 12.1 - 2 outside
        (5.0, 3.0, Verdict.CANNOT_TELL),  # wider than the limits themselves
    ],
)
def test_guard_band(value: float, sigma: float | None, verdict: Verdict) -> None:
    assert judge(value, sigma, Limit(0.0, 10.0)) is verdict


def test_open_ends() -> None:
    assert judge(-1e9, 1.0, Limit(high=0.0)) is Verdict.PASS
    assert judge(1e9, 1.0, Limit(low=0.0)) is Verdict.PASS
    assert judge(3.0, None, Limit()) is Verdict.PASS


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_what_is_not_finite_is_not_judged(bad: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        judge(bad, None, Limit(0.0, 1.0))


@STEADY
@given(st.floats(-10, 10), st.floats(0, 5), st.floats(-5, 0), st.floats(0.1, 5))
def test_more_uncertainty_never_turns_doubt_into_a_verdict(
    value: float, sigma: float, low: float, width: float
) -> None:
    limit = Limit(low, low + width)
    sharp, blunt = judge(value, sigma, limit), judge(value, sigma + 1.0, limit)
    if sharp is Verdict.CANNOT_TELL:
        assert blunt is Verdict.CANNOT_TELL
    else:
        assert blunt in (sharp, Verdict.CANNOT_TELL)
    if sharp is Verdict.PASS:
        assert low <= value <= low + width
    if sharp is Verdict.FAIL:
        assert not low <= value <= low + width


def test_the_stages_stand_in_the_order_of_work() -> None:
    assert [str(s) for s in sorted(Stage, key=lambda s: s.rank)] == [
        "survey",
        "layout",
        "order",
        "rough-in",
        "fit-out",
        "run-in",
        "handover",
        "service",
    ]


@pytest.mark.parametrize(
    ("verdict", "holds", "stops"),
    [
        (Verdict.PASS, True, False),
        (Verdict.WATCH, True, False),
        (Verdict.FAIL, True, True),
        (Verdict.CANNOT_TELL, True, True),
        (Verdict.NOT_MEASURED, True, True),
        (Verdict.FAIL, False, False),
    ],
)
def test_what_stops_a_stage(verdict: Verdict, holds: bool, stops: bool) -> None:
    figure = Figure.single("gauge", 5.0, Origin.MEASURED)
    check = Check("x", verdict, Stage.FIT_OUT, figure, Limit(0.0, 10.0), "check.measure", holds)
    assert check.stops is stops


def test_a_limit_with_an_unknown_source_is_refused() -> None:
    with pytest.raises(KeyError, match="nobody-said"):
        Limit(0.0, 1.0, "nobody-said")
