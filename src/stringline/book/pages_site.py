"""Sheets on the site: what to tape, levels, every end side by side, and how tracks are put right."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from stringline.book import pages_words as words
from stringline.book.pages_pictures import picture
from stringline.drawing.canvas import Drawing
from stringline.judging import Stage
from stringline.lengths import Unit
from stringline.plan import Plan
from stringline.quantities import roughly
from stringline.sheets.cautions import for_card, for_stage
from stringline.sheets.voice import Voice
from stringline.worked import Figure, Kind

if TYPE_CHECKING:
    from stringline.form.correction import Correction, Remedy
    from stringline.form.effects import Effect
    from stringline.layout.options import Option
    from stringline.survey.design.untaped import Taping


_END_FIGURES = (
    ("Cover between the tracks", "area"),
    ("Drum", "drum"),
    ("Track, each side", "track"),
    ("Cover sheet, width", "cover_width"),
    ("Cover sheet, length", "cover_length"),
)


def taping_sheet(plan: Plan, taping: Taping, drawing: Drawing) -> dict[str, Any]:
    """A sheet for the site: where the baseline goes, and a box for the reading of every line, in order."""
    unit, p = plan.job.unit, taping.plan
    worst = max(p.axis_m, key=lambda k: p.axis_m[k])
    worth = f"Then the point known worst, {worst}, has σ {words.small(p.checked_worst_m, unit)} in its worst direction"
    if p.two_point_worst_m is not None:
        worth += f"; from two stakes alone it would be {words.small(p.two_point_worst_m, unit)}"
    return {
        "kind": "taping",
        "title": "What to tape",
        "picture": picture(drawing, id_prefix="taping"),
        "where": Voice(unit).say(taping.where),
        "worth": f"{worth}.",
        "remember": [asdict(i) for i in for_stage(Stage.SURVEY, Voice(plan.job.unit))],
        "lines": [
            {
                "line": f"{x.frm}–{x.to}",
                "about": roughly(x.length_m, unit),
                "why": "checks" if x.check else "ties",
            }
            for x in p.lines
        ],
        "spare": 2,
        "notes": Voice(unit).all(taping.notes),
    }


def ends_sheet(plan: Plan, ends: tuple[Option, ...]) -> dict[str, Any]:
    """Every end with what it means for drum, track and cover, and why it was taken or not."""
    unit = plan.job.unit
    made = [_end(o, unit) for o in ends]
    return {
        "kind": "ends",
        "title": "Ends compared",
        "ends": made,
        "rows": [{"what": what, "cells": [e["figures"][k] for e in made]} for k, (what, _) in enumerate(_END_FIGURES)],
    }


def remedy_sheet(plan: Plan, remedy: Remedy) -> dict[str, Any]:
    """What is out of form, what the ordered parts take up as it stands, and each way to put it right, to tick off."""
    unit = plan.job.unit
    return {
        "kind": "remedy",
        "title": "Putting the tracks right",
        "cautions": [asdict(i) for i in for_card("fit-out", Voice(plan.job.unit))],
        "out": Voice(unit).all(remedy.out),
        "as_is": [_effect(e, unit) for e in remedy.as_is],
        "ways": [_way(w, unit) for w in remedy.ways],
        "notes": Voice(unit).all(remedy.notes),
    }


def _end(o: Option, unit: Unit) -> dict[str, Any]:
    voice = Voice(unit)
    label = _capital(voice.say(o.end))
    return {
        "end": f"{label}, least width" if o.by == "width" else label,
        "chosen": o.chosen,
        "verdict": "pass" if o.chosen else "fail" if o.area is None else "watch" if o.beyond else "",
        "says": "taken" if o.chosen else "does not fit" if o.area is None else "fits",
        "why": voice.say(o.why) + "".join(f" {_capital(b)}." for b in voice.all(o.beyond)),
        "figures": [_cell(getattr(o, name), unit) for _, name in _END_FIGURES],
    }


def _cell(figure: Figure | None, unit: Unit) -> dict[str, str]:
    if figure is None:
        return {"amount": "", "spread": ""}
    return {
        "amount": words.amount(figure.value, figure.kind, unit),
        "spread": words.spread(figure.sigma, figure.kind, unit),
    }


def _way(way: Correction, unit: Unit) -> dict[str, Any]:
    return {
        "title": Voice(unit).say(way.title),
        "total": words.small(way.total_m, unit),
        "gauge": words.length(way.gauge.value, unit),
        "moves": [
            {
                "side": m.side,
                "station": words.length(m.station_m, unit),
                "move": words.small(abs(m.figure.value), unit),
                "way": "right" if m.figure.value > 0 else "left",
                "means": Voice(unit).say(m.means),
            }
            for m in way.moves
        ],
        "effects": [_effect(e, unit) for e in way.effects],
    }


def _effect(e: Effect, unit: Unit) -> dict[str, str]:
    return {
        "part": Voice(unit).say(e.part),
        "verdict": e.verdict.value,
        "amount": words.small(e.figure.value, unit, sign=True),
        "limit": words.limit_words(e.limit, Kind.LENGTH, unit),
        "says": Voice(unit).say(e.says),
    }


def _row(what: str, figure: Figure, unit: Unit) -> dict[str, str]:
    return {"what": what, **_cell(figure, unit)}


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"
