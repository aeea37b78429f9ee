"""Add to a job file without disturbing it: comments, layout and every earlier reading stay as they were.

A reading is never changed and never taken out. A new one is appended; an old one is set aside by giving the reason.
The functions that change a job take and give text; the caller writes it with :func:`stringline.files.write_atomic`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from stringline.document.locate import Path, locate
from stringline.faults import Fault, Faults
from stringline.job.read import read_job
from stringline.job.rewrite import edit, item, must_be, values

TAPES = ("survey", "tapes")


def append_tape(
    text: str,
    a: str,
    b: str,
    reading: str | int | float,
    *,
    sigma: str | None = None,
    by: str | None = None,
    at: str | None = None,
    device: str | None = None,
    document: str = "the job file",
) -> str:
    """The job's text with one more tape reading behind the others.

    Raises Faults where the text is not TOML, or for what is wrong with this reading; faults elsewhere in the job do not
    keep a reading out.
    """
    remarks = {k: v for k, v in (("sigma", sigma), ("by", by), ("at", at), ("device", device)) if v is not None}
    row: list[Any] = [a, b, reading, *([remarks] if remarks else [])]
    before = values(text, document)

    def change(job: Any) -> None:
        import tomlkit

        if "survey" not in job:
            job["survey"] = tomlkit.table()
        if "tapes" not in job["survey"]:
            job["survey"]["tapes"] = tomlkit.array().multiline(True)
        job["survey"]["tapes"].add_line(item(row), indent="  ")

    _list_of_tapes(before, document)
    after = edit(text, change)
    tapes = [*before.get("survey", {}).get("tapes", []), row]
    expected = {**before, "survey": {**before.get("survey", {}), "tapes": tapes}}
    must_be(after, expected)
    where = f"survey.tapes[{len(tapes)}]"
    wrong = [f for f in _faults(after, document) if f.where == where or str(f.where).startswith(f"{where}[")]
    if wrong:
        raise Faults(document, wrong)
    return after


def strike_tape(text: str, line: int, reason: str, *, document: str = "the job file") -> str:
    """The job's text with the reading on that line set aside, and why; the reading itself stays.

    Raises Faults where the text is not TOML, where no reading or more than one stands on that line, where it is set
    aside already, or where there is no reason.
    """
    here = [r for r in readings_of(text, document=document) if r.line == line]
    if len(here) != 1:
        wrong = "no reading starts on this line" if not here else "several readings stand on this line"
        right = "give the line of a reading" if not here else "put each on a line of its own first"
        raise Faults(document, [Fault("no-such-reading", "survey.tapes", wrong, right, line)])
    return strike_reading(text, here[0].index, reason, document=document)


def strike_reading(text: str, index: int, reason: str, *, document: str = "the job file") -> str:
    """The job's text with the tape reading at ``index`` (from 0, as in the file) set aside, and why; it stays.

    Raises Faults as :func:`strike_tape` does.
    """
    before = values(text, document)
    tapes = _list_of_tapes(before, document)
    row = tapes[index]
    line = _lines(text).get((*TAPES, index))
    where = f"survey.tapes[{index + 1}]"
    if not reason.strip():
        raise Faults(document, [Fault("empty", where, "there is no reason", "say why it is set aside", line)])
    if not isinstance(row, list) or len(row) not in (3, 4) or (len(row) == 4 and not isinstance(row[3], dict)):
        raise Faults(document, [Fault("item-count", where, "this is no reading", "put the line right first", line)])
    if len(row) == 4 and "struck" in row[3]:
        wrong = f"it is set aside already: {row[3]['struck']}"
        raise Faults(document, [Fault("struck-already", where, wrong, "take a new reading instead", line)])

    def change(job: Any) -> None:
        row_item = job["survey"]["tapes"][index]
        if len(row_item) == 4:
            row_item[3]["struck"] = reason
        else:
            row_item.append(item({"struck": reason}))

    after = edit(text, change)
    struck = [*row[:3], {**(row[3] if len(row) == 4 else {}), "struck": reason}]
    expected_tapes = [struck if i == index else t for i, t in enumerate(tapes)]
    must_be(after, {**before, "survey": {**before["survey"], "tapes": expected_tapes}})
    return after


@dataclass(frozen=True, slots=True)
class Written:
    """A tape reading as it stands in the file: its place in the list from 0, its line, and why it is set aside."""

    index: int
    line: int | None
    a: str
    b: str
    reading: str
    struck: str | None


def readings_of(text: str, *, document: str = "the job file") -> list[Written]:
    """Every tape reading of a job's text, in the file's order, as far as it can be read. Raises Faults if not TOML."""
    lines = _lines(text)
    found = []
    for index, row in enumerate(_list_of_tapes(values(text, document), document)):
        if isinstance(row, list) and len(row) >= 3:
            more = row[3] if len(row) > 3 and isinstance(row[3], dict) else {}
            why = str(more["struck"]) if "struck" in more else None
            a, b, reading = (str(part) for part in row[:3])
            found.append(Written(index, lines.get((*TAPES, index)), a, b, reading, why))
    return found


def _lines(text: str) -> dict[Path, int]:
    return locate(text.removeprefix("\ufeff").replace("\r\n", "\n"))


def _list_of_tapes(data: dict[str, Any], document: str) -> list[Any]:
    survey = data.get("survey", {})
    tapes = survey.get("tapes", []) if isinstance(survey, dict) else None
    if not isinstance(tapes, list):
        fault = Fault("wrong-type", "survey.tapes", "this is not a list of readings", "write tapes = [] in [survey]")
        raise Faults(document, [fault])
    return tapes


def _faults(text: str, document: str) -> tuple[Fault, ...]:
    try:
        read_job(text, document)
    except Faults as faults:
        return faults.faults
    return ()
