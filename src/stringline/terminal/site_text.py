"""What a site has: its water, ends, levels, tracks as built and what to tape, for a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stringline.layout.result import Layout
from stringline.lengths import Unit
from stringline.quantities import VERDICT_WORDS, amount, figure_text, length, roughly, small, tolerance
from stringline.sheets.voice import Voice
from stringline.terminal.lines import heading, table

if TYPE_CHECKING:
    from stringline.form.correction import Correction, Remedy
    from stringline.layout.options import Option
    from stringline.survey.design.taping_plan import TapingPlan
    from stringline.survey.design.untaped import Taping

_WIDE = 44  # of a figure's name


def water_lines(layout: Layout, unit: Unit) -> list[str]:
    """Area, perimeter and how closely the edge is known."""
    named = (("Water, area", layout.water_area), ("Water, perimeter", layout.water_perimeter))
    out = [f"  {name:<{_WIDE}} {figure_text(f, unit)}" for name, f in named if f is not None]
    if layout.water_sigma is not None and len(layout.water_sigma):
        worst, least = (tolerance(2 * float(s), unit) for s in (layout.water_sigma.max(), layout.water_sigma.min()))
        out.append(f"  {'Edge known to, square to it':<{_WIDE}} ± {worst} where worst, ± {least} where best")
    return out


def ends_lines(ends: tuple[Option, ...], unit: Unit) -> list[str]:
    """Every end side by side, then why each was taken or not."""
    if not ends:
        return []
    rows, voice = [], Voice(unit)
    for n, o in enumerate(ends, 1):
        figures = (o.area, o.drum, o.track, o.cover_width, o.cover_length)
        cells = (
            ["does not fit", *([""] * 4)] if o.area is None else [amount(f.value, f.kind, unit) for f in figures if f]
        )
        rows.append((f"{n} {voice.say(o.end)}{', least width' if o.by == 'width' else ''}", *cells))
    out = ["Ends compared", *table(("", "between tracks", "drum", "track, each", "cover, wide", "cover, long"), rows)]
    for n, o in enumerate(ends, 1):
        over = " and ".join(voice.all(o.beyond))
        out.append(f"  {n} {voice.say(o.why)}" + (f" It is {over}." if over else ""))
    return out


def remedy_lines(remedy: Remedy, unit: Unit) -> list[str]:
    """What is out, what parts take up as it stands, and each way to put it right."""
    if not remedy.out:
        return ["Tracks as built", "  Straight, parallel and to gauge within their limits: nothing to correct."]
    voice = Voice(unit)
    out = ["Tracks as built", f"  Not safely within limits: {', '.join(voice.all(remedy.out))}."]
    out += ["  If nothing is moved:", *(f"    {voice.say(e.says)}" for e in remedy.as_is)]
    for n, way in enumerate(remedy.ways, 1):
        out += [
            f"  Way {n}: {voice.say(way.title)}, {small(way.total_m, unit)} of moving in all",
            *_way_lines(way, unit),
        ]
    return [*out, *(f"  note: {n}" for n in voice.all(remedy.notes))]


def taping_text(name: str, taping: Taping, unit: Unit) -> str:
    """What to tape: where the baseline goes, the lines in order, and what they will be worth."""
    p = taping.plan
    rows = [
        (str(n), f"{x.frm}–{x.to}", roughly(x.length_m, unit), "checks others" if x.check else "needed")
        for n, x in enumerate(p.lines, 1)
    ]
    worst = max(p.axis_m, key=lambda k: p.axis_m[k])
    known, checked = small(p.worst_m, unit), small(p.checked_worst_m, unit)
    out = [
        heading(f"{name} – what to tape"),
        Voice(unit).say(taping.where),
        f"Pull these {len(p.lines)} lines in this order; {_split(p)}.",
        "",
        *table(("", "line", "about", "why"), rows),
        "",
        f"The point known worst, {worst}, then has σ {checked} in its worst direction"
        + (f" ({known} after the first {p.needed} lines)." if p.needed < len(p.lines) else "."),
    ]
    if p.two_point_worst_m is not None:
        out.append(f"Every point from two stakes alone would leave it at {small(p.two_point_worst_m, unit)}.")
    out.append(f"The line that the others check least has a redundancy of {p.weakest_r:.2f}.")
    out.append(f'In the job: baseline = ["{p.baseline[0]}", "{p.baseline[1]}"], and a row of tapes for each reading.')
    return "\n".join([*out, *(f"  note: {n}" for n in Voice(unit).all(taping.notes))])


def _split(p: TapingPlan) -> str:
    if p.needed == len(p.lines):
        return "together they tie every point"
    return f"the first {p.needed} tie every point, the others check them"


def _way_lines(way: Correction, unit: Unit) -> list[str]:
    voice = Voice(unit)
    rows = [
        (
            f"{m.side} at {length(m.station_m, unit)}",
            f"{small(abs(m.figure.value), unit)} to the {'right' if m.figure.value > 0 else 'left'}",
            voice.say(m.means),
        )
        for m in way.moves
    ]
    out = [f"  {line}" for line in table(("track", "move", "by"), rows)]
    out.append(f"    Gauge after it: {figure_text(way.gauge, unit)}.")
    return [*out, *(f"    {voice.say(e.says)} [{VERDICT_WORDS[e.verdict]}]" for e in way.effects)]
