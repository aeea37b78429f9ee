"""Fields of the JSON that are not an attribute of the value they describe: one function a field."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from stringline.cutting.rack import written_on
from stringline.nesting.grain import to_m

Derived = Callable[[Any], Any]

_STOCK = ("sticks_used", "bound", "proven")


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


def _tracks_m(name: str) -> Derived:
    return lambda stock: to_m(getattr(stock.plan, name))


def _runs(stock: Any) -> list[dict[str, Any]]:
    return [
        {
            "run": stock.called[r.run.key],
            "length_m": to_m(r.run.length),
            "whole_m": [to_m(w) for w in r.variant.wholes],
            "last_m": to_m(r.variant.last),
            "joints_m": [to_m(j) for j in r.variant.joints],
            "pins_m": [to_m(p) for p in r.pins],
        }
        for r in stock.plan.runs
    ]


def _patterns(found: Any) -> list[dict[str, Any]]:
    per_m = found.per_m
    return [
        {
            "stick": p.stick,
            "length_m": p.length / per_m,
            "times": p.times,
            "pieces": [{"name": name, "length_m": size / per_m, "count": n} for name, size, n in p.pieces],
            "left_m": p.left / per_m,
        }
        for p in found.plan.patterns
    ]


def _of_stock(name: str) -> Derived:
    return lambda stock: getattr(stock.plan, name)


def _listed_m(name: str) -> Derived:
    return lambda found: getattr(found.plan, name) / found.per_m


def _of_fit(name: str) -> Derived:
    return lambda choice: getattr(choice.fit, name)


DERIVED: dict[str, Derived] = {
    "Survey.schema": lambda _: 1,
    "Advice.notes": lambda _: (),  # kept for readers of schema 1: what cannot be read is a fault of the job
    "Placed.notes": lambda _: (),
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
    "Choice.probability": _of_fit("all"),
    "Choice.cover_width": _of_fit("cover_width"),
    "Choice.cover_length": _of_fit("cover_length"),
    "Choice.leading_edge": _of_fit("leading_edge"),
    "Choice.drum": _of_fit("drum"),
    "Choice.note": lambda _: "",
    "TrackStock.bought_m": _tracks_m("bought"),
    "TrackStock.bound_m": _tracks_m("bound"),
    "TrackStock.gap": _of_stock("gap"),
    "TrackStock.proven": _of_stock("proven"),
    "TrackStock.sticks": lambda t: [{"length_m": to_m(n), "count": c} for n, c in t.plan.sticks],
    "TrackStock.runs": _runs,
    "TrackStock.rack_used_m": lambda t: [t.rack_m[i] for i in t.plan.rack_used],
    "TrackStock.scrap_m": _tracks_m("scrap"),
    "Strip.factory_ends": lambda s: [s.left_end, s.right_end],
    **{f"{of}.{name}": _of_stock(name) for of in ("PlainStock", "ListedPlan") for name in _STOCK},
    "PlainStock.waste_m": _tracks_m("waste"),
    "ListedPlan.material_m": _listed_m("material"),
    "ListedPlan.material_bound_m": _listed_m("material_bound"),
    "ListedPlan.waste_m": _listed_m("waste"),
    "ListedPlan.patterns": _patterns,
    "RackPiece.text": written_on,
    "Mechanics.figures": lambda m: {n: f for n in m.__dataclass_fields__ if hasattr(f := getattr(m, n), "terms")},
    "LeadPrediction.closing": _band("closing"),
    "LeadPrediction.opening": _band("opening"),
}
