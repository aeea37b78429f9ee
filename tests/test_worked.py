"""Numbers that carry their working."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringline.sources import ALL, require
from stringline.worked import Figure, Kind, Origin, Term

STEADY = settings(max_examples=150, deadline=None, derandomize=True)


def test_terms_add_up_to_the_value() -> None:
    figure = Figure.sum(
        "Track, left",
        [
            Term("channel as built", 11.0, Origin.MEASURED, sigma=0.003),
            Term("into the housing", 0.0254, Origin.PRACTICE, "track-into-housing"),
            Term("pulley spacer", -0.05715, Origin.CATALOGUE, "catalogue", sigma=0.004),
        ],
    )
    assert figure.value == pytest.approx(10.96825)
    assert figure.sigma == pytest.approx(0.005)
    assert figure.kind is Kind.LENGTH
    assert figure.origin is Origin.DERIVED


def test_working_that_does_not_add_up_is_refused() -> None:
    with pytest.raises(ValueError, match="add to"):
        Figure("x", 2.0, Kind.LENGTH, Origin.DERIVED, (Term("a", 1.0, Origin.CHOSEN),))


def test_a_rule_frees_the_terms_from_adding_up() -> None:
    figure = Figure.by_rule("diameter", 2.0, "twice the radius", [Term("radius", 1.0, Origin.MEASURED)])
    assert figure.rule == "twice the radius"
    assert figure.value == 2.0


def test_sigma_that_is_given_stays_and_none_known_is_none() -> None:
    parts = [Term("a", 1.0, Origin.MEASURED, sigma=3.0), Term("b", 2.0, Origin.MEASURED, sigma=4.0)]
    assert Figure.sum("x", parts, sigma=1.0).sigma == 1.0
    assert Figure.sum("x", parts, sigma=0.0).sigma == 0.0
    assert Figure.sum("x", [Term("a", 1.0, Origin.CHOSEN)]).sigma is None


def test_a_figure_becomes_a_term_with_its_sign() -> None:
    figure = Figure.single("gauge", 5.5, Origin.MEASURED, sigma=0.002, source="trade")
    half = figure.term("half the gauge", times=-0.5)
    assert (half.label, half.value, half.sigma, half.source) == ("half the gauge", -2.75, 0.001, "trade")
    assert figure.term().label == "gauge"
    assert Figure.single("x", 1.0, Origin.CHOSEN).term().sigma is None


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_no_number(bad: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        Term("x", bad, Origin.MEASURED)
    with pytest.raises(ValueError, match="finite"):
        Figure.single("x", bad, Origin.MEASURED)


def test_an_unknown_source_is_refused_by_name() -> None:
    with pytest.raises(KeyError, match="nobody-said"):
        Term("x", 1.0, Origin.PRACTICE, "nobody-said")
    with pytest.raises(KeyError, match="nobody-said"):
        Figure.single("x", 1.0, Origin.PRACTICE, source="nobody-said")


def test_every_source_is_found_by_its_key() -> None:
    assert ALL
    for key, source in ALL.items():
        assert require(key) is source
        assert source.key == key
        assert source.title


@STEADY
@given(st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=12), st.lists(st.floats(0, 10), min_size=12, max_size=12))
def test_sums_are_exact_and_sigmas_combine_in_quadrature(values: list[float], sigmas: list[float]) -> None:
    terms = [Term("t", v, Origin.MEASURED, sigma=s) for v, s in zip(values, sigmas, strict=False)]
    figure = Figure.sum("x", terms)
    assert figure.value == math.fsum(values)
    assert figure.sigma == pytest.approx(math.hypot(*sigmas[: len(values)]))
    back = Figure.sum("zero", [figure.term(), figure.term(times=-1.0)])
    assert back.value == 0.0
