"""The README's pictures, drawn from the invented demo job by the same code that draws the book."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from functools import cache

from stringline.plan import Plan

_DAY = datetime.date(2026, 5, 4)  # a fixed day, so that the pictures change only with the drawing


@cache
def _demo_plan() -> Plan:
    from stringline.demo import demo_job_text
    from stringline.job.read import read_job
    from stringline.plan import plan
    from stringline.system.read import load_system

    job = read_job(demo_job_text(), "demo")
    return plan(job, load_system(job.system))


def _plan_picture() -> str:
    """The dimensioned plan as it leaves the book, in its frame."""
    from stringline.book.pages_paper import PAPERS
    from stringline.book.pages_pictures import drawings
    from stringline.book.write import alone_svg

    plan = _demo_plan()
    return alone_svg(plan, drawings(plan, PAPERS["letter"])["plan"], date=_DAY)


def _card_picture() -> str:
    """The left track's cut card as it is printed."""
    from stringline.book.pages import book_data
    from stringline.book.pages_paper import PAPERS
    from stringline.book.pdf import card_svg
    from stringline.cutting.result import CutList
    from stringline.drawing.svg import svg
    from stringline.sheets.pictures.draw_strip import strip_drawing
    from stringline.sheets.voice import Voice

    sheets = {s["kind"]: s for s in book_data(_demo_plan(), today=_DAY)["sheets"]}
    card = next(c for c in sheets["cards"]["cards"] if c["key"] == "track-left")
    free = PAPERS["letter"].free_mm[0]
    plan = _demo_plan()
    assert isinstance(plan.cuts, CutList)
    # Whoever looks at it may not have the font: the strip's letters are held to their widths.
    strip = strip_drawing(plan.cuts.piece(card["key"]), Voice(plan.job.unit), free - 6.0)
    card["picture"]["svg"] = svg(strip, id_prefix="strip", alone=True)
    return card_svg(card, f"Cut card {card['mark']}, {card['name']}", width_mm=free + 4.0, today=_DAY)


def pictures() -> dict[str, Callable[[], str]]:
    """Name of each picture under docs/ and the function that draws it."""
    return {"plan.svg": _plan_picture, "cut-card.svg": _card_picture}
