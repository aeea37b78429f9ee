"""Text widths from the metrics of the font the drawings are lettered in, so that labels can be kept apart.

Reads the ``cmap`` (format 4), ``hhea`` and ``hmtx`` tables of an OpenType file; kerning is left out, which makes a
width a shade too wide rather than too narrow.
"""

from __future__ import annotations

import struct
from functools import lru_cache
from importlib.resources import files

FAMILY = "Source Sans Pro"
CAP_HEIGHT = 0.66  # of the font size; the font's OS/2 table says 660 of 1000 units
ASCENT = 0.712  # tallest lower-case letters and quotation marks
DESCENT = 0.225  # of letters that hang below the base line

_FILES = {
    "regular": "SourceSansPro-Regular.ttf",
    "bold": "SourceSansPro-Bold.ttf",
    "italic": "SourceSansPro-It.ttf",
}
_HANGING = frozenset("gjpqyQ,;()[]{}/|_@µβγζημρφχψς$§")


def font_size_mm(height_mm: float) -> float:
    """Font size whose capitals are ``height_mm`` tall."""
    return height_mm / CAP_HEIGHT


@lru_cache(maxsize=4096)
def width_mm(text: str, height_mm: float, weight: str = "regular") -> float:
    """Width of one line of text with capitals of ``height_mm``; raises KeyError for an unknown weight."""
    face = _face(weight)
    default = face.advances[0]
    units = sum(face.advances[g] if (g := face.glyphs.get(ord(c))) is not None else default for c in text)
    return units / face.units_per_em * font_size_mm(height_mm)


@lru_cache(maxsize=4096)
def reach_mm(text: str, height_mm: float) -> tuple[float, float]:
    """How far a line of text reaches below its base line (≥ 0) and above it, in millimetres."""
    size = font_size_mm(height_mm)
    below = DESCENT if any(c in _HANGING for c in text) else 0.012
    above = CAP_HEIGHT + 0.012 if not any(c in "ßbdfhkl'\"()[]{}/|" for c in text) else ASCENT
    return below * size, above * size


def missing(text: str) -> str:
    """Characters of ``text`` the font has no glyph for, each once, in their order."""
    glyphs = _face("regular").glyphs
    return "".join(dict.fromkeys(c for c in text if ord(c) not in glyphs))


def font_path(weight: str = "regular") -> str:
    """Path of the installed font file of that weight."""
    return str(files("font_source_sans_pro").joinpath("files", _FILES[weight]))


class _Face:
    """Advance widths and the character map of one font file."""

    __slots__ = ("advances", "glyphs", "units_per_em")

    def __init__(self, data: bytes) -> None:
        tables: dict[bytes, bytes] = {}
        (count,) = struct.unpack_from(">H", data, 4)
        for k in range(count):
            tag, _sum, offset, length = struct.unpack_from(">4sLLL", data, 12 + 16 * k)
            tables[tag] = data[offset : offset + length]
        self.units_per_em: int = struct.unpack_from(">H", tables[b"head"], 18)[0]
        (metrics,) = struct.unpack_from(">H", tables[b"hhea"], 34)
        (glyphs,) = struct.unpack_from(">H", tables[b"maxp"], 4)
        pairs = struct.unpack_from(f">{2 * metrics}H", tables[b"hmtx"], 0)
        widths = list(pairs[0::2])
        self.advances: list[int] = widths + [widths[-1]] * (glyphs - metrics)
        self.glyphs = _character_map(tables[b"cmap"])


def _character_map(cmap: bytes) -> dict[int, int]:
    (count,) = struct.unpack_from(">H", cmap, 2)
    for k in range(count):
        platform, encoding, offset = struct.unpack_from(">HHL", cmap, 4 + 8 * k)
        (form,) = struct.unpack_from(">H", cmap, offset)
        if form == 4 and (platform, encoding) in ((3, 1), (0, 3)):
            return _segments(cmap, offset)
    raise ValueError("the font has no character map for the basic plane")


def _segments(cmap: bytes, offset: int) -> dict[int, int]:
    (twice,) = struct.unpack_from(">H", cmap, offset + 6)
    n = twice // 2
    ends = struct.unpack_from(f">{n}H", cmap, offset + 14)
    starts = struct.unpack_from(f">{n}H", cmap, offset + 16 + twice)
    deltas = struct.unpack_from(f">{n}H", cmap, offset + 16 + 2 * twice)
    ranges_at = offset + 16 + 3 * twice
    ranges = struct.unpack_from(f">{n}H", cmap, ranges_at)
    found: dict[int, int] = {}
    for k in range(n):
        for code in range(starts[k], ends[k] + 1):
            if code == 0xFFFF:
                continue
            if ranges[k] == 0:
                glyph = (code + deltas[k]) & 0xFFFF
            else:
                (glyph,) = struct.unpack_from(">H", cmap, ranges_at + 2 * k + ranges[k] + 2 * (code - starts[k]))
                glyph = (glyph + deltas[k]) & 0xFFFF if glyph else 0
            if glyph:
                found[code] = glyph
    return found


@lru_cache(maxsize=8)
def _face(weight: str) -> _Face:
    return _Face(files("font_source_sans_pro").joinpath("files", _FILES[weight]).read_bytes())
