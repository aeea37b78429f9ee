"""Checks on the survey: can these readings be built on?"""

from __future__ import annotations

from stringline.judging import Check, Limit, Verdict
from stringline.lengths import Unit, format_length
from stringline.limits import ENOUGH_R, GUARD, UNCHECKED_R
from stringline.plan.checks.codes import check
from stringline.survey.result import Survey, Suspect
from stringline.system.model import System
from stringline.worked import Figure, Kind, Origin, Term


def survey_checks(survey: Survey, unit: Unit, system: System | None = None) -> tuple[Check, ...]:
    """Checks on one adjusted survey; the precision check needs the catalogue's gauge limit."""
    found = [_misread(survey, unit), _agreement(survey), _controlled(survey)]
    if system is not None:
        found.append(_precision(survey, system))
    return tuple(found)


def untaped_check() -> Check:
    """What holds a pool that nobody has taped yet."""
    return check("survey-taped", Verdict.NOT_MEASURED)


def re_tape_advice(suspect: Suspect, unit: Unit) -> str:
    """Say in a sentence which line to re-tape and what to expect, and what it cannot be told from."""
    text = (
        f"Re-tape {suspect.frm} to {suspect.to}: read {format_length(suspect.read_m, unit)}, "
        f"the others expect {format_length(suspect.expected_m, unit)}"
    )
    if suspect.rivals:
        text += f"; it cannot be told from {', '.join(suspect.rivals)}"
    if suspect.would_tell:
        text += f"; {suspect.would_tell}"
    return text + "."


def _misread(survey: Survey, unit: Unit) -> Check:
    if survey.freedom == 0:
        return check("survey-misread", Verdict.CANNOT_TELL, detail="Tape one more line: nothing checks anything yet.")
    if not survey.suspects and survey.global_test.statistic > survey.global_test.high:
        detail = "The readings contradict each other, but not which of them is wrong: the notes say what would tell."
        return check("survey-misread", Verdict.CANNOT_TELL, detail=detail)
    if not survey.suspects:
        return check("survey-misread", Verdict.PASS)
    worst = survey.suspects[0]
    figure = Figure.sum(
        f"Slip in {worst.frm} to {worst.to}",
        [
            Term("as read", worst.read_m, Origin.MEASURED),
            Term("expected from all the others", -worst.expected_m, Origin.DERIVED, sigma=worst.sigma_m),
        ],
    )
    advice = " ".join(re_tape_advice(s, unit) for s in survey.suspects)
    return check("survey-misread", Verdict.FAIL, figure=figure, detail=advice)


def _agreement(survey: Survey) -> Check:
    test = survey.global_test
    if survey.freedom == 0:
        return check("survey-agreement", Verdict.CANNOT_TELL, holds=False)
    figure = Figure.by_rule(
        "Weighted sum of squared residuals",
        test.statistic,
        "each residual over its σ, squared, added up",
        [Term("readings more than needed", float(survey.freedom), Origin.DERIVED)],
        kind=Kind.RATIO,
        source="chi-square",
    )
    limit = Limit(test.low, test.high, "chi-square")
    if survey.suspects:
        # The slip alone may be the whole of the misfit; the test means something once that line is taped again.
        detail = "This is settled once the line named above is taped again."
        return check("survey-agreement", Verdict.CANNOT_TELL, figure=figure, limit=limit, detail=detail)
    if test.statistic > test.high:
        return check("survey-agreement", Verdict.FAIL, figure=figure, limit=limit)
    if test.statistic < test.low:
        detail = "The readings agree better than the stated tape would: the uncertainty shown is on the safe side."
        return check("survey-agreement", Verdict.WATCH, figure=figure, limit=limit, detail=detail)
    return check("survey-agreement", Verdict.PASS, figure=figure, limit=limit)


def _controlled(survey: Survey) -> Check:
    lines = [(t.redundancy, f"{t.frm} to {t.to}") for t in survey.tapes]
    lines += [(o.redundancy, o.label) for o in survey.others if o.kind in ("station", "offset")]
    if not lines:
        return check("survey-controlled", Verdict.NOT_MEASURED)
    weakest, name = min(lines)
    figure = Figure.single(f"Weakest redundancy, {name}", weakest, Origin.DERIVED, kind=Kind.RATIO)
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
        f"Longest half-axis at {worst.name}, two σ",
        GUARD * worst.ellipse.major_m,
        "twice the standard error ellipse's longer half-axis",
        [Term("standard half-axis", worst.ellipse.major_m, Origin.DERIVED)],
    )
    limit = Limit(high=system.limits.gauge_m, source="catalogue")
    verdict = Verdict.PASS if figure.value <= system.limits.gauge_m else Verdict.WATCH
    return check("survey-precision", verdict, figure=figure, limit=limit, detail=_next(survey))


def _next(survey: Survey) -> str:
    if not survey.next_tapes:
        return ""
    lines = ", ".join(f"{t.frm} to {t.to}" for t in survey.next_tapes)
    return f"Take next: {lines}."
