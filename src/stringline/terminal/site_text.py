"""What a site has: what to tape, for a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stringline.lengths import Unit
from stringline.quantities import roughly, small
from stringline.sheets.voice import Voice
from stringline.terminal.lines import heading, table

if TYPE_CHECKING:
    from stringline.survey.design.taping_plan import TapingPlan
    from stringline.survey.design.untaped import Taping


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
