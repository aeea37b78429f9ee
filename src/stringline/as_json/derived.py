"""Fields of the JSON that are not an attribute of the value they describe: one function a field."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

Derived = Callable[[Any], Any]


def _edge(layout: Any) -> dict[str, Any] | None:
    sigma = layout.water_sigma
    if sigma is None or not len(sigma):
        return None
    worst = int(sigma.argmax())
    return {
        "worst_sigma_m": float(sigma[worst]),
        "worst_at_m": layout.water[worst],
        "least_sigma_m": float(sigma.min()),
    }


def _heights(levels: Any) -> dict[str, Any]:
    h = levels.heights
    return {n: {"height_m": h.at(n), "sigma_m": h.sigma_between(n, levels.datum)} for n in h.names}


def _band(direction: str) -> Derived:
    def band(lead: Any) -> dict[str, Any]:
        low, high = getattr(lead, f"{direction}_band_m")
        return {
            "drawn_m": getattr(lead.nominal, f"{direction}_m"),
            "mean_m": getattr(lead, f"{direction}_mean_m"),
            "low_m": low,
            "high_m": high,
        }

    return band


def _of_plan(name: str) -> Derived:
    return lambda taping: getattr(taping.plan, name)


def _of_layout(name: str) -> Derived:
    return lambda option: None if option.layout is None else getattr(option.layout, name)


def _of_chance(name: str) -> Derived:
    return lambda choice: getattr(choice.chance, name)


DERIVED: dict[str, Derived] = {
    "Survey.schema": lambda _: 1,
    "Survey.points": lambda s: {p.name: p for p in s.points},
    "Survey.levels": lambda s: s.levels,
    "Struck.read_m": lambda s: s.length.m,
    "Struck.text": lambda s: s.length.text,
    "Levels.along": lambda _: "points",
    "Levels.heights": _heights,
    "Levels.freedom": lambda levels: levels.heights.freedom,
    "Levelled.along": lambda found: found.frame,
    "Levelled.heights": lambda found: _heights(found.levels),
    "Levelled.freedom": lambda found: found.levels.heights.freedom,
    "Levelled.notes": lambda found: (*found.levels.notes, *found.notes),
    "Layout.frame": lambda x: {"origin_m": x.frame.origin, "heading_rad": x.frame.heading_rad},
    "Layout.corners_m": lambda x: x.corners(),
    "Layout.edge": _edge,
    "Option.fits": lambda o: o.layout is not None,
    "Option.gauge": _of_layout("gauge"),
    "Option.travel": _of_layout("travel"),
    "Taping.baseline": _of_plan("baseline"),
    "Taping.stakes_m": lambda t: dict(zip(t.plan.baseline, (t.plan.a, t.plan.b), strict=True)),
    "Taping.lines": lambda t: [
        {"from": x.frm, "to": x.to, "about_m": x.length_m, "check": x.check} for x in t.plan.lines
    ],
    "Taping.needed": _of_plan("needed"),
    "Taping.axis_m": _of_plan("axis_m"),
    "Taping.worst_m": _of_plan("worst_m"),
    "Taping.checked_worst_m": _of_plan("checked_worst_m"),
    "Taping.two_point_worst_m": _of_plan("two_point_worst_m"),
    "Taping.weakest_redundancy": _of_plan("weakest_r"),
    "Choice.probability": _of_chance("all"),
    "Choice.cover_width": _of_chance("cover_width"),
    "Choice.cover_length": _of_chance("cover_length"),
    "Choice.leading_edge": _of_chance("leading_edge"),
    "Choice.drum": _of_chance("drum"),
    "Mechanics.figures": lambda m: {n: f for n in m.__dataclass_fields__ if hasattr(f := getattr(m, n), "terms")},
    "LeadPrediction.closing": _band("closing"),
    "LeadPrediction.opening": _band("opening"),
}
