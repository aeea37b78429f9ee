"""Write a book and its files into a folder; a kill at any moment leaves each file old or new, never half."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from pathlib import Path

from stringline.book.pages import book_data
from stringline.book.pdf import pdf
from stringline.book.tables import cuts_csv, order_csv, parts_csv
from stringline.cutting.result import CutList, Order, Parts
from stringline.files import write_atomic
from stringline.plan import Plan


def write_book(
    plan: Plan,
    out_dir: Path,
    *,
    paper: str = "letter",
    revision: str = "A",
    today: datetime.date | None = None,
    progress: Callable[[str], None] | None = None,
) -> list[Path]:
    """Write ``book.pdf`` and the tables that the plan has; returns the paths written, the book first.

    ``paper`` is ``letter`` or ``a4``. ``today`` is printed and stamped; the same plan, revision and date give the same
    bytes. Raises KeyError for an unknown paper, OSError where the folder cannot be written.
    """
    date = today or datetime.date.today()
    data = book_data(plan, paper=paper, revision=revision, today=date, progress=progress)
    if progress is not None:
        progress("typesetting")
    contents: dict[str, bytes] = {"book.pdf": pdf(data, today=date)}
    unit = plan.job.unit
    if isinstance(plan.cuts, CutList):
        contents["cuts.csv"] = cuts_csv(plan.cuts, unit).encode()
    if isinstance(plan.order, Order):
        contents["order.csv"] = order_csv(plan.order, unit).encode()
    if isinstance(plan.parts, Parts):
        contents["parts.csv"] = parts_csv(plan.parts).encode()
    out_dir.mkdir(parents=True, exist_ok=True)
    written = []
    for name, content in contents.items():
        write_atomic(out_dir / name, content)
        written.append(out_dir / name)
    return written
