"""Write into a job file that an order went out: its date, the mark of the plan it came from, and its figures.

What was ordered is a fact: it is never overwritten. A new order is written in its place only where that is asked for,
and the old one then stays under ``earlier``.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from stringline.faults import Fault, Faults
from stringline.job.rewrite import edit, item, must_be, values

KEPT = ("date", "mark", "figures")


def place_order(text: str, record: Mapping[str, Any], *, again: bool = False, document: str = "the job file") -> str:
    """The job's text with ``record`` (keys of :data:`KEPT`) in its ``[order]`` section; costs there stay.

    Raises Faults where the text is not TOML, where ``[order]`` is no table, or where an order stands there already and
    ``again`` is not given.
    """
    before = values(text, document)
    section = before.get("order", {})
    if not isinstance(section, dict):
        fault = Fault("wrong-type", "order", "this is not a section", "write [order] and its keys below it")
        raise Faults(document, [fault])
    old = {key: section[key] for key in KEPT if key in section}
    if "figures" in old and not again:
        wrong = f"an order went out already ({old.get('date') or 'no date'}, plan {old.get('mark') or 'not marked'})"
        fault = Fault("order-placed", "order.figures", wrong, "add --again to keep it as an earlier one and write this")
        raise Faults(document, [fault])
    earlier = section.get("earlier", [])
    if not isinstance(earlier, list):
        fault = Fault("wrong-type", "order.earlier", "this is not a list", "write earlier = [] or leave it out")
        raise Faults(document, [fault])
    made = {**section, **{key: record[key] for key in KEPT}}
    if "figures" in old:
        made["earlier"] = [*earlier, old]

    def change(job: Any) -> None:
        import tomlkit

        if "order" not in job:
            job["order"] = tomlkit.table()
        for key, value in made.items():
            if key not in section or section[key] != value:
                job["order"][key] = item(value)

    after = edit(text, change)
    must_be(after, {**before, "order": made})
    return after


def order_block(record: Mapping[str, Any]) -> str:
    """The same as text to paste by hand into a job that has no ``[order]`` section yet."""
    import tomlkit

    block = tomlkit.document()
    block["order"] = tomlkit.table()
    for key in KEPT:
        block["order"][key] = item(record[key])
    return tomlkit.dumps(block).strip()
