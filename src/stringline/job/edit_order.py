"""Write into a job file that an order went out: its date, the mark of the plan it came from, and its figures.

What was ordered is a fact: it is never overwritten. A new order is written in its place only where that is asked for,
and the old one then stays under ``earlier``.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from stringline.document.load import load
from stringline.document.locate import Path
from stringline.document.toml_text import toml_value
from stringline.faults import Fault, Faults
from stringline.finding import Code, finding
from stringline.job.edit import append_row, set_values

KEPT = ("date", "mark", "figures")


def place_order(text: str, record: Mapping[str, Any], *, again: bool = False, document: str = "job.toml") -> str:
    """The job's text with ``record`` (keys of :data:`KEPT`) in its ``[order]`` section; costs there stay.

    Raises Faults where the text is not TOML, where ``[order]`` is no table, or where an order stands there already and
    ``again`` is not given.
    """
    source = load(text, document)
    source.close()
    section = source.data.get("order", {})
    if not isinstance(section, dict):
        raise Faults(document, [Fault("wrong-type", "order", "job.no-section", "job.write-order")])
    old = {key: section[key] for key in KEPT if key in section}
    if "figures" in old and not again:
        date: Code = finding("job.no-day") if not old.get("date") else finding("job.day", day=str(old["date"]))
        mark: Code = finding("job.unmarked") if not old.get("mark") else finding("job.mark", mark=str(old["mark"]))
        wrong = finding("job.ordered-already", date=date, mark=mark)
        raise Faults(
            document, [Fault("order-placed", "order.figures", wrong, "job.add-again", source.line(("order",)))]
        )
    earlier = section.get("earlier", [])
    if not isinstance(earlier, list):
        raise Faults(document, [Fault("wrong-type", "order.earlier", "job.no-list", "job.write-earlier")])
    if "figures" in old:
        text = append_row(text, ("order", "earlier"), old, document=document)
    new: dict[Path, Any] = {("order", key): record[key] for key in KEPT if section.get(key) != record[key]}
    return set_values(text, new, document=document)


def order_block(record: Mapping[str, Any]) -> str:
    """The same as text to paste by hand into a job that has no ``[order]`` section yet."""
    return "\n".join(["[order]", *(f"{key} = {toml_value(record[key])}" for key in KEPT)])
