"""The survey sheet: what the readings say together, which one to take again, and which to take next."""

from __future__ import annotations

from typing import Any

from stringline.book import pages_words as words
from stringline.book.pages_pictures import picture
from stringline.drawing.canvas import Drawing
from stringline.lengths import Unit
from stringline.limits import BAARDA_W, ENOUGH_R
from stringline.plan import Plan
from stringline.quantities import odds
from stringline.sheets.voice import Voice
from stringline.survey.result import OtherReading, Survey, Suspect, TapeResult
from stringline.worked import Kind


def survey_sheet(plan: Plan, survey: Survey, drawing: Drawing) -> dict[str, Any]:
    """Drawing, suspects, tapes, points, next tapes and struck readings of one survey."""
    unit = plan.job.unit
    say = Voice(unit).say
    return {
        "kind": "survey",
        "title": "Survey",
        "verdict": _verdict(survey),
        "test": _test_words(survey),
        "suspects": [_suspect(s, unit) for s in survey.suspects],
        "picture": picture(drawing, id_prefix="survey"),
        "next": [
            {"line": _line(n.frm, n.to), "expected": words.length(n.expected_m, unit), "buys": say(n.buys)}
            for n in survey.next_tapes[:3]
        ],
        "tapes": [*(_tape(t, survey, unit) for t in survey.tapes), *(_other(o, unit) for o in survey.others)],
        "points": [
            {
                "name": p.name,
                "x": words.length(p.x_m, unit),
                "y": words.length(p.y_m, unit),
                "sx": "held" if p.fixed else words.small(p.sx_m, unit),
                "sy": "held" if p.fixed else words.small(p.sy_m, unit),
                "worst": "" if p.fixed else words.small(p.ellipse.major_m, unit),
            }
            for p in survey.points
        ],
        "struck": [
            {"line": _line(s.frm, s.to), "read": words.as_read(s.length.text, unit), "reason": s.reason}
            for s in survey.struck
        ],
        "notes": [say(n) for n in survey.notes],
    }


def _verdict(survey: Survey) -> str:
    if survey.suspects:
        first = survey.suspects[0]
        return f"Re-tape {_line(first.frm, first.to)} before anything is made from this survey."
    if survey.global_test.statistic > survey.global_test.high and survey.freedom > 0:
        return "The readings agree less well than their tapes should allow. Find out why before ordering."
    if survey.freedom == 0:
        return "Just enough readings to draw it, and none to check it: a misread tape would not show."
    return "The readings agree with one another."


def _test_words(survey: Survey) -> str:
    test = survey.global_test
    if survey.freedom == 0:
        return "No reading is spare, so nothing can be tested. The next tapes below change that."
    spare = "one reading more" if survey.freedom == 1 else f"{survey.freedom} readings more"
    range_words = f"between {test.low:.1f} and {test.high:.1f}"
    sizes = f"Together the misfits score {test.statistic:.1f}; honest tapes score {range_words}"
    if test.pass_:
        says = "inside: the readings scatter as their tapes should."
    elif test.statistic > test.high:
        says = "above: at least one reading is misread, or the tapes are worse than stated."
    else:
        says = "below: the readings agree better than stated, so the stated uncertainty is on the safe side."
    return f"There are {spare} than the drawing needs. {sizes} in 19 jobs of 20. That is {says}"


def _suspect(suspect: Suspect, unit: Unit) -> dict[str, Any]:
    likely, voice = suspect.likely_m, Voice(unit)
    return {
        "line": _line(suspect.frm, suspect.to),
        "read": words.length(suspect.read_m, unit),
        "expected": words.length(suspect.expected_m, unit),
        "spread": words.spread(suspect.sigma_m, Kind.LENGTH, unit),
        "slip": voice.say(suspect.slip),
        "likely": "" if likely is None else words.length(likely, unit),
        "odds": odds(suspect.odds),
        "rivals": ", ".join(voice.all(suspect.rivals)),
        "tell": "" if suspect.would_tell is None else voice.say(suspect.would_tell),
    }


def _tape(tape: TapeResult, survey: Survey, unit: Unit) -> dict[str, Any]:
    lines = {frozenset((s.frm, s.to)) for s in survey.suspects if abs(s.read_m - tape.read_m) < 1e-9}
    suspect = frozenset((tape.frm, tape.to)) in lines
    return {
        "line": _line(tape.frm, tape.to),
        "read": words.as_read(tape.text, unit) if tape.text else words.length(tape.read_m, unit),
        "adjusted": words.length(tape.adjusted_m, unit),
        "residual": words.small(tape.residual_m, unit, sign=True),
        "r": words.decimal(tape.redundancy, 2),
        "w": "—" if tape.w is None else words.decimal(tape.w, 1, sign=True),
        "slip": "none" if tape.smallest_slip_m is None else words.small(tape.smallest_slip_m, unit),
        "flag": _flag(tape, suspect=suspect),
        "suspect": suspect,
    }


def _other(o: OtherReading, unit: Unit) -> dict[str, Any]:
    """An offset or a coordinate, as a row among the tapes."""
    strained = o.w is not None and abs(o.w) > BAARDA_W
    return {
        "line": Voice(unit).say(o.label),
        "read": words.length(o.read_m, unit),
        "adjusted": words.length(o.adjusted_m, unit),
        "residual": words.small(o.residual_m, unit, sign=True),
        "r": words.decimal(o.redundancy, 2),
        "w": "—" if o.w is None else words.decimal(o.w, 1, sign=True),
        "slip": "none" if o.smallest_slip_m is None else words.small(o.smallest_slip_m, unit),
        "flag": "unchecked" if o.w is None else "strained" if strained else "weak" if o.redundancy < ENOUGH_R else "",
        "suspect": False,
    }


def _flag(tape: TapeResult, *, suspect: bool) -> str:
    if suspect:
        return "RE-TAPE"
    if tape.w is None:
        return "unchecked"
    if abs(tape.w) > BAARDA_W:
        return "strained"
    return "weak" if tape.redundancy < ENOUGH_R else ""


def _line(a: str, b: str) -> str:
    return f"{a}–{b}"
