"""What a site has: its water, ends, levels, tracks as built and what to tape, as JSON-able values."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stringline.as_json.figure_json import figure_json, limit_json
from stringline.form.result import Fit
from stringline.layout.result import Layout
from stringline.sections.ends import beyond
from stringline.worked import Figure

if TYPE_CHECKING:
    from stringline.form.correction import Correction, Remedy
    from stringline.form.effects import Effect
    from stringline.layout.options import Option
    from stringline.sections.levelled import Levelled
    from stringline.sections.untaped import Taping
    from stringline.survey.levels.heights import Levels
    from stringline.system.model import System

Value = dict[str, Any]


def water_json(layout: Layout) -> Value:
    """Area, perimeter and how closely the water's edge is known: σ square to it at its worst and at its best place."""
    edge: Value | None = None
    if layout.water_sigma is not None and len(layout.water_sigma):
        worst = int(layout.water_sigma.argmax())
        edge = {
            "worst_sigma_m": float(layout.water_sigma[worst]),
            "worst_at_m": layout.water[worst].tolist(),
            "least_sigma_m": float(layout.water_sigma.min()),
        }
    return {"water_area": _maybe(layout.water_area), "water_perimeter": _maybe(layout.water_perimeter), "edge": edge}


def end_json(option: Option, system: System | None) -> Value:
    """One end: whether it was taken and why, and what it would mean for the parts; null where nothing fits there."""
    return {
        "end": option.end,
        "by": option.by,
        "chosen": option.chosen,
        "fits": option.layout is not None,
        "why": option.why,
        "beyond": list(beyond(option, system)),
        "gauge": _maybe(None if option.layout is None else option.layout.gauge),
        "travel": _maybe(None if option.layout is None else option.layout.travel),
        "area": _maybe(option.area),
        "drum": _maybe(option.drum),
        "track": _maybe(option.track),
        "cover_width": _maybe(option.cover_width),
        "cover_length": _maybe(option.cover_length),
    }


def levelled_json(found: Levelled) -> Value:
    """Levels along and across the cover, and the housing floor's least fall to its drain."""
    whole = levels_json(found.levels, found.frame)
    return {**whole, "floor": _maybe(found.floor), "notes": [*whole["notes"], *found.notes]}


def levels_json(levels: Levels, frame: str) -> Value:
    """Heights above the first point read, falls, twist and flatness."""
    h = levels.heights
    named = ("fall_along", "fall_across", "out_of_plane", "flatness", "twist")
    return {
        "datum": levels.datum,
        "along": frame,
        "heights": {name: {"height_m": h.at(name), "sigma_m": h.sigma_between(name, levels.datum)} for name in h.names},
        "freedom": h.freedom,
        **{name: _maybe(getattr(levels, name)) for name in named},
        "notes": list(levels.notes),
    }


def fit_json(fit: Fit) -> Value:
    """Form of the tracks, null where there is no reading."""
    names = ("straight_left", "straight_right", "parallel", "square", "diagonals")
    return {
        "basis": fit.basis,
        **{n: _maybe(getattr(fit, n)) for n in names},
        "gauge": [
            {"station_m": g.station_m, "gauge": figure_json(g.gauge), "deviation": figure_json(g.deviation)}
            for g in fit.gauge
        ],
        "notes": list(fit.notes),
    }


def remedy_json(remedy: Remedy) -> Value:
    """Limits not safely kept, what parts take up as it stands, and ways to put it right, least moving first."""
    return {
        "out": list(remedy.out),
        "as_is": [_effect(e) for e in remedy.as_is],
        "ways": [_way(w) for w in remedy.ways],
        "notes": list(remedy.notes),
    }


def taping_json(taping: Taping) -> Value:
    """What to tape, in order, and what it will be worth."""
    p = taping.plan
    return {
        "tape_m": taping.tape_m,
        "baseline": list(p.baseline),
        "where": taping.where,
        "stakes_m": {p.baseline[0]: list(p.a), p.baseline[1]: list(p.b)},
        "lines": [{"from": x.frm, "to": x.to, "about_m": x.length_m, "check": x.check} for x in p.lines],
        "needed": p.needed,
        "axis_m": dict(p.axis_m),
        "worst_m": p.worst_m,
        "checked_worst_m": p.checked_worst_m,
        "two_point_worst_m": p.two_point_worst_m,
        "weakest_redundancy": p.weakest_r,
        "notes": list(taping.notes),
    }


def _way(way: Correction) -> Value:
    return {
        "title": way.title,
        "total_m": way.total_m,
        "gauge": figure_json(way.gauge),
        "moves": [
            {"side": m.side, "station_m": m.station_m, "means": m.means, "figure": figure_json(m.figure)}
            for m in way.moves
        ],
        "after": fit_json(way.after),
        "effects": [_effect(e) for e in way.effects],
    }


def _effect(e: Effect) -> Value:
    return {
        "part": e.part,
        "figure": figure_json(e.figure),
        "limit": limit_json(e.limit),
        "verdict": e.verdict.value,
        "says": e.says,
    }


def _maybe(figure: Figure | None) -> Value | None:
    return None if figure is None else figure_json(figure)
