"""Change a TOML text without disturbing it: comments, layout, byte order mark and line ends stay as they were."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from typing import Any

from stringline.document.load import load


def values(text: str, document: str) -> dict[str, Any]:
    """The document's values; raises Faults where it is not TOML."""
    source = load(text, document)
    source.close()
    return source.data


def item(value: Any) -> Any:
    """A value as the layout-keeping writer holds it, tables inline."""
    import tomlkit

    if isinstance(value, dict):
        table = tomlkit.inline_table()
        table.update(value)
        return table
    if isinstance(value, list):
        array = tomlkit.array()
        for inner in value:
            array.append(item(inner))
        return array
    return tomlkit.item(value)


def edit(text: str, change: Callable[[Any], None]) -> str:
    """Apply a change, keeping a byte order mark and the kind of line ends."""
    import tomlkit

    mark = "\ufeff" if text.startswith("\ufeff") else ""
    windows = "\r\n" in text
    job = tomlkit.parse(text.removeprefix("\ufeff").replace("\r\n", "\n"))
    change(job)
    out = tomlkit.dumps(job)
    return mark + (out.replace("\n", "\r\n") if windows else out)


def must_be(text: str, expected: dict[str, Any]) -> None:
    """Stop before anything is lost: what was written has to read back as the old job and the change, no more."""
    if repr(tomllib.loads(text.removeprefix("\ufeff"))) != repr(expected):
        raise RuntimeError("the job file could not be added to without disturbing it; add the line by hand")
