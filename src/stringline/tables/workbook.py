"""Parts, order and cuts as a workbook (Office Open XML): a sheet each, lengths as text in the job's unit and in metres.

Every text is stored as text, also where it begins as a formula does; the same plan gives the same bytes.
"""

from __future__ import annotations

import csv
import datetime
import io
import re
import zipfile

from stringline.cutting.result import CutList, Parts
from stringline.ordering.result import Order
from stringline.plan import Plan
from stringline.sheets.voice import Voice
from stringline.tables.csv_tables import cuts_csv, order_csv, parts_csv

_STAMP = (1980, 1, 1, 0, 0, 0)  # the earliest that a ZIP entry can hold
_NUMBERS = ("count", "length_m", "sigma_m", "value_si", "sigma_si")
_WIDEST = 60


def workbook(plan: Plan, today: datetime.date) -> bytes | None:
    """The workbook of a plan, stamped ``today``; None where the plan has none of its tables."""
    voice = Voice(plan.job.unit)
    tables = _tables(plan, voice)
    if not tables:
        return None
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.worksheets[0])
    for name, text in tables.items():
        _fill(book.create_sheet(voice.say(f"tables.{name}")), list(csv.reader(io.StringIO(text, newline=""))), voice)
    moment = datetime.datetime.combine(today, datetime.time())
    book.properties.creator = "Stringline"
    book.properties.title = _plain(plan.job.name)
    book.properties.created = moment
    out = io.BytesIO()
    book.save(out)
    return _fixed(out.getvalue(), moment)


def _tables(plan: Plan, voice: Voice) -> dict[str, str]:
    found: dict[str, str] = {}
    if isinstance(plan.parts, Parts):
        found["parts"] = parts_csv(plan.parts, voice)
    if isinstance(plan.order, Order):
        found["order"] = order_csv(plan.order, voice)
    if isinstance(plan.cuts, CutList):
        found["cuts"] = cuts_csv(plan.cuts, voice)
    return found


def _fill(sheet: object, rows: list[list[str]], voice: Voice) -> None:
    """Write rows under a bold heading in words that stays in sight; columns as wide as their text."""
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.worksheet import Worksheet

    assert isinstance(sheet, Worksheet)
    keys, *below = rows
    shown = [voice.all(f"tables.column.{key}" for key in keys), *below]
    for y, row in enumerate(shown, 1):
        for x, text in enumerate(row, 1):
            spot = sheet.cell(y, x)
            if y > 1 and keys[x - 1] in _NUMBERS and text:
                spot.value = float(text)
                continue
            spot.value = _plain(text)
            spot.data_type = "s"
            spot.alignment = Alignment(wrap_text=len(text) > _WIDEST, vertical="top")
            if y == 1:
                spot.font = Font(bold=True)
    for x in range(1, len(keys) + 1):
        longest = max(len(row[x - 1]) for row in shown)
        sheet.column_dimensions[get_column_letter(x)].width = min(_WIDEST, longest) + 2
    sheet.freeze_panes = "A2"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True


def _plain(text: str) -> str:
    """Text without the control signs that XML cannot hold."""
    return re.sub(r"[\x00-\x08\x0b\x0c\x0e-\x1f]", "", text)


def _fixed(content: bytes, moment: datetime.datetime) -> bytes:
    """The same archive with every moment in it set: otherwise no two are alike."""
    out = io.BytesIO()
    stamp = moment.strftime("%Y-%m-%dT%H:%M:%SZ").encode()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in sorted(old.namelist(), key=lambda n: (n != "[Content_Types].xml", n)):
            data = old.read(name)
            if name == "docProps/core.xml":
                data = re.sub(rb"(<dcterms:modified[^>]*>)[^<]*", rb"\g<1>" + stamp, data)
            entry = zipfile.ZipInfo(name, _STAMP)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            new.writestr(entry, data)
    return out.getvalue()
