"""The cuts of several jobs as JSON-able data and as text: the verdict, why, then stick by stick."""

from __future__ import annotations

from typing import Any

from stringline.cutting.jobs import JobsPlan, TrackStock
from stringline.lengths import Unit, format_length
from stringline.nesting.diagram import Strip
from stringline.nesting.grain import to_m
from stringline.nesting.runs import RunPlan


def jobs_json(plan: JobsPlan) -> dict[str, Any]:
    """The plan as data; every length in metres."""
    return {
        "proven": plan.proven,
        "tracks": [
            {
                "profile": t.profile,
                "bought_m": to_m(t.plan.bought),
                "bound_m": to_m(t.plan.bound),
                "gap": t.plan.gap,
                "proven": t.plan.proven,
                "sticks": [{"length_m": to_m(n), "count": c} for n, c in t.plan.sticks],
                "runs": [
                    {
                        "run": r.run.key,
                        "length_m": to_m(r.run.length),
                        "whole_m": [to_m(w) for w in r.variant.wholes],
                        "last_m": to_m(r.variant.last),
                        "joints_m": [to_m(j) for j in r.variant.joints],
                        "pins_m": [to_m(p) for p in r.pins],
                    }
                    for r in t.plan.runs
                ],
                "cuts": [_strip(s) for s in t.strips],
                "rack_used_m": [t.rack_m[i] for i in t.plan.rack_used],
                "back_on_rack_m": list(t.back_on_rack_m),
                "scrap_m": to_m(t.plan.scrap),
            }
            for t in plan.tracks
        ],
        "plain": [
            {
                "material": p.material,
                "sticks_used": p.plan.sticks_used,
                "bound": p.plan.bound,
                "proven": p.plan.proven,
                "waste_m": to_m(p.plan.waste),
                "cuts": [_strip(s) for s in p.strips],
            }
            for p in plan.plain
        ],
        "notes": list(plan.notes),
    }


def _strip(strip: Strip) -> dict[str, Any]:
    return {
        "stick_m": strip.stick_m,
        "times": strip.times,
        "from_rack": strip.from_rack,
        "factory_ends": [strip.left_end, strip.right_end],
        "spans": [
            {"start_m": s.start_m, "length_m": s.length_m, "kind": s.kind, "label": s.label} for s in strip.spans
        ],
    }


def jobs_text(plan: JobsPlan, unit: Unit) -> str:
    """The plan as a page of text."""
    lines: list[str] = []
    for t in plan.tracks:
        lines += [*_track_lines(t, unit), ""]
    for p in plan.plain:
        word = "proven, no plan wastes less" if p.plan.proven else f"best found; no plan has fewer than {p.plan.bound}"
        lines.append(f"{p.material.capitalize()}: {p.plan.sticks_used} sticks ({word}).")
        lines += [f"  {_row(s, unit)}" for s in p.strips]
        lines.append("")
    lines += [f"! {n}" for n in plan.notes]
    return "\n".join(lines).rstrip()


def _track_lines(t: TrackStock, unit: Unit) -> list[str]:
    sticks = ", ".join(f"{c} × {format_length(to_m(n), unit)}" for n, c in t.plan.sticks) or "no stick"
    word = "proven, no plan buys less" if t.plan.proven else f"within {max(t.plan.gap, 1e-5):.3%} of the proven bound"
    lines = [f"{t.profile}: buy {sticks} ({word})."]
    lines += [f"  {_row(s, unit)}" for s in t.strips]
    lines.append("  From the pulley to the housing:")
    return [*lines, *(f"  {_made(r, unit)}" for r in t.plan.runs)]


def _made(r: RunPlan, unit: Unit) -> str:
    """A run as it is laid: whole sticks from the pulley, then the last piece; and where its joints fall."""
    parts = [format_length(to_m(w), unit) for w in r.variant.wholes]
    if r.variant.last > 0:
        parts.append(f"last piece {format_length(to_m(r.variant.last), unit)}")
    joints = ", ".join(format_length(to_m(j), unit) for j in r.variant.joints)
    at = f"; joints {joints} from the housing end" if joints else ""
    return f"  {r.run.key} {format_length(to_m(r.run.length), unit)}: {' + '.join(parts)}{at}"


def _row(strip: Strip, unit: Unit) -> str:
    where = "rack piece" if strip.from_rack else "stick"
    parts = [
        f"{s.label} {format_length(s.length_m, unit)}" if s.kind == "piece" else f"({s.label} {_say(s.length_m, unit)})"
        for s in strip.spans
        if s.kind != "kerf"
    ]
    times = f"{strip.times} × " if strip.times > 1 else ""
    return f"{times}{where} {format_length(strip.stick_m, unit)}: {' | '.join(parts)}"


def _say(length_m: float, unit: Unit) -> str:
    return format_length(length_m, unit)
