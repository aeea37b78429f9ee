"""Text that people wrote, made fit for print: letters the font has, words that break, lines that hold them."""

from __future__ import annotations

import unicodedata
from typing import Any

from stringline.drawing import lettering
from stringline.lengths import INCH

_PT_MM = 1000 * INCH / 72
_HEADINGS = ("job", "name", "title")  # texts that head something and so may not be empty


def printable(value: Any) -> Any:
    """Make every text one that the book's font can set and a line can hold.

    A character that the font lacks is printed as its code point, so that a name stays tellable from another; control
    and direction characters are dropped; a word too long to break gets places to break at.
    """
    if isinstance(value, dict):
        heads = value.get("block") == "heading"
        return {k: _value("title" if heads and k == "text" else k, v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [printable(v) for v in value]
    if isinstance(value, str):
        return _breakable(_in_font(value))
    return value


def one_line(text: str) -> str:
    """The same words on one line, each space single."""
    return " ".join(text.split())


def shortened(text: str, width_mm: float, size_pt: float, *, lines: int) -> str:
    """One line of text cut, with an ellipsis, to what ``lines`` lines of ``width_mm`` hold at ``size_pt``."""
    kept = _in_font(one_line(text))
    room = width_mm * lines * (1.0 if lines == 1 else 0.85)  # lines seldom fill up
    height = size_pt * _PT_MM * lettering.CAP_HEIGHT
    if lettering.width_mm(kept, height, "bold") <= room:
        return kept
    while kept and lettering.width_mm(kept + "…", height, "bold") > room:
        kept = kept[: -max(1, len(kept) // 20)]
    return kept.rstrip() + "…"


def _value(key: str, value: Any) -> Any:
    if key in ("svg", "qr"):
        return _in_svg(value)
    made = printable(value)
    return "unnamed" if key in _HEADINGS and isinstance(made, str) and not made.strip() else made


def _in_svg(svg: str) -> str:
    return svg if svg.isascii() else _in_font(svg)


def _in_font(text: str) -> str:
    if text.isascii() and text.isprintable():
        return text
    kept = "".join(c if c.isprintable() else ("\n" if c == "\n" else " " if c.isspace() else "") for c in text)
    for c in lettering.missing(kept.replace("\n", "")):
        kept = kept.replace(c, _stand_in(c))
    return kept


def _stand_in(c: str) -> str:
    """A plain letter for a raised or lowered one that the font lacks; else the code point."""
    if unicodedata.decomposition(c).startswith(("<super>", "<sub>")):
        plain = unicodedata.normalize("NFKC", c)
        if not lettering.missing(plain):
            return plain
    return f"[U+{ord(c):04X}]"


def _breakable(text: str) -> str:
    if all(len(word) <= 28 for word in text.split()):
        return text
    return " ".join(
        "\u200b".join(w[k : k + 14] for k in range(0, len(w), 14)) if len(w) > 28 else w for w in text.split(" ")
    )
