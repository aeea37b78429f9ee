"""Cuts of several jobs and plain stock, for a terminal: the verdict, why, then stick by stick."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stringline.cutting.jobs import JobsPlan, TrackStock
from stringline.finding import Code, Finding, finding, nested
from stringline.job.lists import RackPiece
from stringline.lengths import Unit, format_length
from stringline.nesting.diagram import Strip
from stringline.nesting.grain import to_m
from stringline.nesting.listed import ListedPlan
from stringline.nesting.runs import RunPlan
from stringline.sheets.voice import Voice
from stringline.tables.csv_tables import written_on


def jobs_text(plan: JobsPlan, unit: Unit) -> str:
    """The plan as a page of text."""
    voice = Voice(unit)
    lines: list[str] = []
    for t in plan.tracks:
        lines += [*_track_lines(t, voice), ""]
    for p in plan.plain:
        word = "proven, no plan wastes less" if p.plan.proven else f"best found; no plan has fewer than {p.plan.bound}"
        lines.append(f"{voice.say(p.material).capitalize()}: {p.plan.sticks_used} sticks ({word}).")
        lines += [f"  {_row(s, voice)}" for s in p.strips]
        lines.append("")
    lines += [f"! {n}" for n in voice.all(plan.notes)]
    return "\n".join(lines).rstrip()


def rack_text(
    used: Sequence[RackPiece], fresh: Sequence[RackPiece], after: Sequence[RackPiece], out: str | None, unit: Unit
) -> list[str]:
    """What to take from the rack, what to put on it with its label, and what it then holds; ``out``: where written."""

    def named(pieces: Sequence[RackPiece]) -> list[Finding]:
        return [finding("cli.rack-piece", label=p.label, text=nested(written_on(p))) for p in pieces]

    lines: list[Code] = []
    if used:
        lines.append(finding("cli.take-from-rack", pieces=named(used)))
    if fresh:
        lines.append(finding("cli.put-on-rack", pieces=named(fresh)))
    lines.append(finding("cli.rack-afterwards", pieces=named(after)) if after else "cli.rack-empty")
    if out is not None:
        lines.append(finding("cli.wrote-rack", file=out))
    return ["", *Voice(unit).all(lines)]


def held_text(held: Mapping[str, Sequence[str]]) -> list[str]:
    """The jobs of which nothing may be cut yet, by name with the checks that hold them."""
    if not held:
        return []
    say = Voice(Unit.M).say
    return ["", *(say(finding("cli.hold-job", job=job, checks=list(codes))) for job, codes in held.items())]


def _track_lines(t: TrackStock, voice: Voice) -> list[str]:
    sticks = ", ".join(f"{c} × {voice.length(to_m(n))}" for n, c in t.plan.sticks) or "no stick"
    word = "proven, no plan buys less" if t.plan.proven else f"within {max(t.plan.gap, 1e-5):.3%} of the proven bound"
    lines = [f"{t.profile}: buy {sticks} ({word})."]
    lines += [f"  {_row(s, voice)}" for s in t.strips]
    lines.append("  From the pulley to the housing:")
    return [*lines, *(f"  {_made(t.called[r.run.key], r, voice)}" for r in t.plan.runs)]


def _made(called: Code, r: RunPlan, voice: Voice) -> str:
    """A run as it is laid: whole sticks from the pulley, then the last piece; and where its joints fall."""
    parts = [voice.length(to_m(w)) for w in r.variant.wholes]
    if r.variant.last > 0:
        parts.append(f"last piece {voice.length(to_m(r.variant.last))}")
    joints = ", ".join(voice.length(to_m(j)) for j in r.variant.joints)
    at = f"; joints {joints} from the housing end" if joints else ""
    return f"  {voice.say(called)} {voice.length(to_m(r.run.length))}: {' + '.join(parts)}{at}"


def _row(strip: Strip, voice: Voice) -> str:
    where = "rack piece" if strip.from_rack else "stick"
    parts = [
        f"{said} {voice.length(s.length_m)}" if s.kind == "piece" else f"({said} {voice.length(s.length_m)})"
        for s, said in ((s, voice.say(s.label)) for s in strip.spans if s.kind != "kerf")
    ]
    times = f"{strip.times} × " if strip.times > 1 else ""
    return f"{times}{where} {voice.length(strip.stick_m)}: {' | '.join(parts)}"


def stock_text(result: ListedPlan, unit: Unit) -> str:
    """Plain stock for two lists as a page of text: the verdict, why, then each pattern."""
    plan = result.plan

    def say(n: int) -> str:
        return format_length(n / result.per_m, unit)

    sticks = f"{plan.sticks_used} stick{'' if plan.sticks_used == 1 else 's'}, {say(plan.material)} of material"
    if plan.proven:
        lines = [f"{sticks}: proven, no plan wastes less."]
    else:
        lines = [
            f"{sticks}: the best plan found, not proven.",
            f"No plan takes less than {say(plan.material_bound)}, or with so little material fewer than {plan.bound} "
            f"stick{'' if plan.bound == 1 else 's'}.",
        ]
    share = plan.waste / plan.material if plan.material else 0.0
    lines += [f"Waste, offcuts and kerf: {say(plan.waste)} ({100 * share:.1f} %).", ""]
    for p in plan.patterns:
        parts = " + ".join(f"{n} × {name} {say(size)}" for name, size, n in p.pieces)
        lines.append(f"{p.times:>4} × {p.stick} {say(p.length)}: {parts}; left {say(p.left)}")
    return "\n".join(lines)
