"""Checks on the tracks' form, from the survey before the pour and from readings after it."""

from __future__ import annotations

from collections.abc import Mapping

from stringline.finding import Code
from stringline.form.result import Fit, GaugeAt
from stringline.judging import Check, Limit, Stage, Verdict, judge
from stringline.plan.checks.codes import check
from stringline.system.model import System
from stringline.worked import Figure


def fit_checks(fit: Fit, system: System, *, advice: Mapping[str, Code | None] | None = None) -> tuple[Check, ...]:
    """Straight, parallel, square, diagonals and gauge; before the pour they watch the layout instead of holding it.

    Before the pour the form is that of the water's edges, which the channels may still correct: nothing is held, but a
    shell that is out of form is worth knowing while it can be set right. After the pour ``advice``, by check code,
    stands in the place of the standing advice.
    """
    limits = system.limits
    built = fit.basis == "as-built"
    rows: list[tuple[str, Figure | None, Limit]] = [
        ("fit-straight-left", fit.straight_left, Limit(high=limits.straightness_m, source="catalogue")),
        ("fit-straight-right", fit.straight_right, Limit(high=limits.straightness_m, source="catalogue")),
        ("fit-parallel", fit.parallel, Limit(high=limits.parallelism_m, source="catalogue")),
        ("fit-square", fit.square, Limit(-limits.square_m, limits.square_m, "catalogue")),
        ("fit-diagonals", fit.diagonals, Limit(-limits.diagonal_m, limits.diagonal_m, "catalogue")),
    ]
    worst = worst_gauge(fit)
    rows.append(
        (
            "fit-gauge",
            None if worst is None else worst.deviation,
            Limit(-limits.gauge_m, limits.gauge_m, "catalogue"),
        )
    )
    said = advice or {}
    measured = check("fit-measured", Verdict.PASS if built and fit.gauge else Verdict.NOT_MEASURED)
    return (measured, *(_row(code, figure, limit, built, said.get(code)) for code, figure, limit in rows))


def worst_gauge(fit: Fit) -> GaugeAt | None:
    """The station whose gauge is farthest from what was laid out; None where no station was measured."""
    return max(fit.gauge, key=lambda g: abs(g.deviation.value), default=None)


def _row(code: str, figure: Figure | None, limit: Limit, built: bool, advice: Code | None) -> Check:
    stage = Stage.FIT_OUT if built else Stage.LAYOUT
    if figure is None:
        detail = "form.to-measure"
        return check(code, Verdict.NOT_MEASURED, limit=limit, stage=Stage.FIT_OUT, holds=False, detail=detail)
    verdict = judge(figure.value, figure.sigma, limit)
    return check(
        code,
        verdict,
        figure=figure,
        limit=limit,
        stage=stage,
        holds=built,
        detail=advice if built else "form.before-pour",
    )
