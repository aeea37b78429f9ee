"""Checks: every code in its table and with its words, guard bands, and what holds a stage."""

import ast
from pathlib import Path

import pytest

import stringline.plan.checks
from spoken import said
from stringline.finding import in_turn
from stringline.form.result import Fit, GaugeAt
from stringline.judging import Limit, Stage, Verdict, judge
from stringline.plan.checks.codes import CODES, check
from stringline.plan.checks.form import fit_checks
from stringline.sheets.words import chapter
from stringline.system.read import load_system
from stringline.worked import Figure, Origin


def test_every_code_used_is_in_the_table() -> None:
    used: set[str] = set()
    for path in Path(stringline.plan.checks.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "check":
                first = node.args[0]
                if isinstance(first, ast.Constant):
                    used.add(str(first.value))
    assert used <= set(CODES)
    assert used, "the scan found no check at all"


def test_every_check_has_its_words_and_every_word_its_check() -> None:
    """The chapter holds a title, a consequence and an action of each check, and else what the checks' modules say."""
    fixed = {f"check.{code}.{what}" for code in CODES for what in ("title", "consequence", "action")}
    worded = set(chapter("check"))
    assert fixed <= worded
    source = "".join(p.read_text("utf-8") for p in Path(stringline.plan.checks.__file__).parent.glob("*.py"))
    assert {code for code in worded - fixed if f'"{code}"' not in source} == set()
    assert not {c for c in worded if c.count(".") == 2} - fixed


@pytest.mark.parametrize("code", sorted(CODES))
def test_the_fixed_words_are_sentences(code: str) -> None:
    made = check(code, Verdict.FAIL)
    assert said(made.title)[0].isupper()
    assert not said(made.title).endswith(".")
    for text in (said(made.consequence), said(made.action)):
        assert text[0].isupper()
        assert text.endswith(".")


def test_an_unknown_code_is_an_error() -> None:
    with pytest.raises(KeyError):
        check("no-such-check", Verdict.PASS)


@pytest.mark.parametrize(
    ("value", "sigma", "expected"),
    [
        (0.9, 0.04, Verdict.PASS),
        (0.95, 0.04, Verdict.CANNOT_TELL),
        (1.05, 0.04, Verdict.CANNOT_TELL),
        (1.09, 0.04, Verdict.FAIL),
        (1.0, None, Verdict.PASS),
        (1.0000001, None, Verdict.FAIL),
    ],
)
def test_the_guard_band_is_two_sigma(value: float, sigma: float | None, expected: Verdict) -> None:
    assert judge(value, sigma, Limit(high=1.0)) is expected


def test_built_form_holds_fit_out_and_surveyed_form_does_not() -> None:
    system = load_system("invented-18")
    far_out = Figure.single("Left track", 10 * system.limits.straightness_m, Origin.MEASURED)
    for basis, stage, stops in (("survey", Stage.LAYOUT, False), ("as-built", Stage.FIT_OUT, True)):
        fit = Fit(basis, far_out, None, None, None, None)
        left = next(c for c in fit_checks(fit, system) if c.code == "fit-straight-left")
        assert left.verdict is Verdict.FAIL
        assert left.stage is stage
        assert left.stops is stops


def test_the_worst_gauge_is_the_one_judged() -> None:
    system = load_system("invented-18")
    limit = system.limits.gauge_m
    stations = tuple(
        GaugeAt(
            s,
            Figure.single("gauge", 5.0 + d, Origin.MEASURED),
            Figure.single("deviation", d, Origin.DERIVED),
        )
        for s, d in ((0.0, 0.2 * limit), (3.0, -3.0 * limit), (6.0, 0.5 * limit))
    )
    fit = Fit("as-built", None, None, None, None, None, stations)
    gauge = next(c for c in fit_checks(fit, system) if c.code == "fit-gauge")
    assert gauge.verdict is Verdict.FAIL
    assert gauge.figure is not None
    assert gauge.figure.value == pytest.approx(-3.0 * limit)


def test_where_only_the_uncertainty_stands_in_the_way_the_first_advice_is_to_measure_better() -> None:
    doubtful = Figure.single("Left track", 0.001, Origin.MEASURED, sigma=0.003)
    made = check("fit-straight-left", Verdict.CANNOT_TELL, figure=doubtful, limit=Limit(high=0.005))
    assert made.action == in_turn("check.measure-closer", "check.fit-straight-left.action")
    assert check("fit-straight-left", Verdict.FAIL, figure=doubtful).action == "check.fit-straight-left.action"
