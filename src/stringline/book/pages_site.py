"""The sheet of the site: what to tape."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from stringline.book import pages_words as words
from stringline.book.pages_pictures import picture
from stringline.drawing.canvas import Drawing
from stringline.judging import Stage
from stringline.plan import Plan
from stringline.quantities import roughly
from stringline.sheets.cautions import for_stage
from stringline.sheets.voice import Voice

if TYPE_CHECKING:
    from stringline.survey.design.untaped import Taping


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
