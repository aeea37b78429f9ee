"""Checks on the survey: can these readings be built on?"""

from __future__ import annotations

from stringline.finding import Finding, finding, in_turn, nested
from stringline.judging import Check, Limit, Verdict
from stringline.limits import ENOUGH_R, GUARD, UNCHECKED_R
from stringline.plan.checks.codes import check
from stringline.survey.result import Survey, Suspect
from stringline.system.model import System
from stringline.worked import Figure, Kind, Origin, Term


def survey_checks(survey: Survey, system: System | None = None) -> tuple[Check, ...]:
    """Checks on one adjusted survey; the precision check needs the catalogue's gauge limit."""
    found = [_misread(survey), _agreement(survey), _controlled(survey)]
    if system is not None:
        found.append(_precision(survey, system))
    return tuple(found)


def untaped_check() -> Check:
    """What holds a pool that nobody has taped yet."""
    return check("survey-taped", Verdict.NOT_MEASURED)


def re_tape_advice(suspect: Suspect) -> Finding:
    """Which line to re-tape and what to expect, and what it cannot be told from."""
    return finding(
        "check.retape",
        frm=suspect.frm,
        to=suspect.to,
        read_m=float(suspect.read_m),
        expected_m=float(suspect.expected_m),
        rivals=finding("check.rivals", rivals=suspect.rivals) if suspect.rivals else None,
        would_tell=finding("check.would-tell", would_tell=nested(suspect.would_tell)) if suspect.would_tell else None,
    )


def _misread(survey: Survey) -> Check:
    if survey.freedom == 0:
        return check("survey-misread", Verdict.CANNOT_TELL, detail="check.nothing-checks")
    if not survey.suspects and survey.global_test.statistic > survey.global_test.high:
        return check("survey-misread", Verdict.CANNOT_TELL, detail="check.contradiction-unplaced")
    if not survey.suspects:
        return check("survey-misread", Verdict.PASS)
    worst = survey.suspects[0]
    figure = Figure.sum(
        finding("check.slip", frm=worst.frm, to=worst.to),
        [
            Term("check.as-read", worst.read_m, Origin.MEASURED),
            Term("check.expected", -worst.expected_m, Origin.DERIVED, sigma=worst.sigma_m),
        ],
    )
    advice = in_turn(*(re_tape_advice(s) for s in survey.suspects))
    return check("survey-misread", Verdict.FAIL, figure=figure, detail=advice)


def _agreement(survey: Survey) -> Check:
    test = survey.global_test
    if survey.freedom == 0:
        return check("survey-agreement", Verdict.CANNOT_TELL, holds=False)
    figure = Figure.by_rule(
        "check.squared-residuals",
        test.statistic,
        "check.residuals-over-sigma",
        [Term("check.freedom", float(survey.freedom), Origin.DERIVED)],
        kind=Kind.RATIO,
        source="chi-square",
    )
    limit = Limit(test.low, test.high, "chi-square")
    if survey.suspects:
        # The slip alone may be the whole of the misfit; the test means something once that line is taped again.
        detail = "check.settled-once-retaped"
        return check("survey-agreement", Verdict.CANNOT_TELL, figure=figure, limit=limit, detail=detail)
    if test.statistic > test.high:
        return check("survey-agreement", Verdict.FAIL, figure=figure, limit=limit)
    if test.statistic < test.low:
        detail = "check.better-than-stated"
        return check("survey-agreement", Verdict.WATCH, figure=figure, limit=limit, detail=detail)
    return check("survey-agreement", Verdict.PASS, figure=figure, limit=limit)


def _controlled(survey: Survey) -> Check:
    lines = [(t.redundancy, (t.frm, t.to), finding("check.line", frm=t.frm, to=t.to)) for t in survey.tapes]
    lines += [
        (o.redundancy, (str(o.label), ""), nested(o.label)) for o in survey.others if o.kind in ("station", "offset")
    ]
    if not lines:
        return check("survey-controlled", Verdict.NOT_MEASURED)
    # of those as weak but for rounding, the first by name
    weakest, _, line = min(lines, key=lambda found: (round(found[0], 9), found[1]))
    figure = Figure.single(finding("check.weakest", line=line), weakest, Origin.DERIVED, kind=Kind.RATIO)
    limit = Limit(low=ENOUGH_R, source="redundancy-practice")
    if weakest >= ENOUGH_R:
        verdict = Verdict.PASS
    else:
        verdict = Verdict.WATCH if weakest >= UNCHECKED_R else Verdict.FAIL
    return check("survey-controlled", verdict, figure=figure, limit=limit, detail=_next(survey))


def _precision(survey: Survey, system: System) -> Check:
    free = [p for p in survey.points if not p.fixed]
    if not free:
        return check("survey-precision", Verdict.NOT_MEASURED)
    worst = max(free, key=lambda p: p.ellipse.major_m)
    figure = Figure.by_rule(
        finding("check.half-axis", point=worst.name),
        GUARD * worst.ellipse.major_m,
        "check.twice-half-axis",
        [Term("check.standard-half-axis", worst.ellipse.major_m, Origin.DERIVED)],
    )
    limit = Limit(high=system.limits.gauge_m, source="catalogue")
    verdict = Verdict.PASS if figure.value <= system.limits.gauge_m else Verdict.WATCH
    return check("survey-precision", verdict, figure=figure, limit=limit, detail=_next(survey))


def _next(survey: Survey) -> Finding | None:
    if not survey.next_tapes:
        return None
    return finding("check.next", lines=[finding("check.line", frm=t.frm, to=t.to) for t in survey.next_tapes])
