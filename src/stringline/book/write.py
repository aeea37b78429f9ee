"""Write a book and its files into a folder; a kill at any moment leaves each file old or new, never half."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from stringline.book.pages import book_data
from stringline.book.pages_paper import PAPERS
from stringline.book.pages_pictures import drawings
from stringline.book.pdf import pdf
from stringline.cutting.result import CutList, Parts
from stringline.drawing.canvas import Drawing
from stringline.drawing.svg import svg
from stringline.files import write_all_atomic
from stringline.ordering.result import Order
from stringline.plan import Plan
from stringline.sheets.pictures.layers import shown
from stringline.sheets.pictures.title_strip import Title, titled
from stringline.sheets.voice import Voice
from stringline.tables.csv_tables import cuts_csv, order_csv, parts_csv
from stringline.tables.workbook import workbook


def write_book(
    plan: Plan,
    out_dir: Path,
    *,
    paper: str = "letter",
    revision: str = "A",
    today: datetime.date | None = None,
    progress: Callable[[str], None] | None = None,
) -> list[Path]:
    """Write ``book.pdf``, the drawings (SVG, DXF) and the tables (CSV, XLSX) that the plan has; returns the paths.

    ``paper`` is ``letter`` or ``a4``. ``today`` is printed and stamped; the same plan, revision and date give the same
    bytes. Raises KeyError for an unknown paper, BookError where the book cannot be set, OSError where the folder
    cannot be written; nothing is written unless everything could be made.
    """
    tell = progress or (lambda _: None)
    date = today or datetime.date.today()
    tell("drawings")
    drawn = drawings(plan, PAPERS[paper])
    data = book_data(plan, paper=paper, revision=revision, today=date, drawn=drawn, progress=progress)
    tell("typesetting")
    # The typesetter works outside the interpreter's lock; the other files are made meanwhile.
    with ThreadPoolExecutor(max_workers=1) as beside:
        setting = beside.submit(pdf, data, today=date)
        others = {**_drawing_files(drawn, _title(plan, revision, date)), **_tables(plan, date)}
        contents = {"book.pdf": setting.result(), **others}
    tell("writing")
    out_dir.mkdir(parents=True, exist_ok=True)
    write_all_atomic(out_dir, contents)
    return [out_dir / name for name in contents]


def alone_svg(plan: Plan, drawing: Drawing, *, date: datetime.date, revision: str = "A") -> str:
    """One drawing of a plan as an SVG of its own, in a frame with a title strip."""
    return svg(titled(drawing, _title(plan, revision, date)), id_prefix=drawing.name, alone=True)


def _tables(plan: Plan, date: datetime.date) -> dict[str, bytes]:
    voice = Voice(plan.job.unit)
    found: dict[str, bytes] = {}
    if isinstance(plan.cuts, CutList):
        found["cuts.csv"] = cuts_csv(plan.cuts, voice).encode()
    if isinstance(plan.order, Order):
        found["order.csv"] = order_csv(plan.order, voice).encode()
    if isinstance(plan.parts, Parts):
        found["parts.csv"] = parts_csv(plan.parts, voice).encode()
    if (whole := workbook(plan, date)) is not None:
        found["parts.xlsx"] = whole
    return found


def _title(plan: Plan, revision: str, date: datetime.date) -> Title:
    job = plan.job
    return Title(job.name, Voice(job.unit), revision, date.isoformat(), job.invented)


def _drawing_files(drawn: dict[str, Drawing], title: Title) -> dict[str, bytes]:
    from ezdxf import options  # type: ignore[attr-defined]

    from stringline.drawing.dxf import dxf

    found: dict[str, bytes] = {}
    before = options.write_fixed_meta_data_for_testing
    # Otherwise the clock and random identifiers go into the file, and no two are alike.
    options.write_fixed_meta_data_for_testing = True
    try:
        for name, drawing in drawn.items():
            alone = titled(drawing, title)
            found[f"{name}.svg"] = svg(alone, id_prefix=name, alone=True).encode()
            found[f"{name}.dxf"] = dxf(alone, shown(alone.layers(), title.voice)).encode()
    finally:
        options.write_fixed_meta_data_for_testing = before
    return found
