"""Values as TOML text."""

from __future__ import annotations

import datetime
import re
from typing import Any

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_SHORT = {"\\": "\\\\", '"': '\\"', "\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f", "\r": "\\r"}


def toml_value(value: Any) -> str:
    """A value on one line: texts quoted, lists in brackets, tables inline.

    Raises TypeError for what TOML has no form for, ValueError for a text with half a surrogate pair.

    >>> print(toml_value(["A", 3, 1.5, True, {"by": 'J "D"'}]))
    ["A", 3, 1.5, true, { by = "J \\"D\\"" }]
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return toml_text(value)
    if isinstance(value, int):
        return str(value)
    if isinstance(value, float):
        return repr(value)
    if isinstance(value, datetime.datetime | datetime.date | datetime.time):
        return value.isoformat()
    if isinstance(value, list | tuple):
        return f"[{', '.join(toml_value(v) for v in value)}]"
    if isinstance(value, dict):
        inner = ", ".join(f"{toml_key(k)} = {toml_value(v)}" for k, v in value.items())
        return f"{{ {inner} }}" if inner else "{}"
    raise TypeError(f"TOML has no form for {type(value).__name__}")


def toml_text(text: str) -> str:
    """A text in double quotes, whatever is in it.

    >>> print(toml_text('6 1/2"'))
    "6 1/2\\""
    """
    out = []
    for ch in text:
        if 0xD800 <= ord(ch) <= 0xDFFF:
            raise ValueError("half a surrogate pair is no text")
        if ch in _SHORT:
            out.append(_SHORT[ch])
        else:
            out.append(f"\\u{ord(ch):04x}" if ord(ch) < 0x20 or ord(ch) == 0x7F else ch)
    return f'"{"".join(out)}"'


def toml_key(key: str) -> str:
    """A key, in quotes where it needs them.

    >>> toml_key("deep end"), toml_key("tape_class")
    ('"deep end"', 'tape_class')
    """
    return key if _BARE_KEY.fullmatch(key) else toml_text(key)
