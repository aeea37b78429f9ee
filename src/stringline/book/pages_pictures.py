"""Drawings set into sheets at their exact size, so that a scale rule laid on the print reads true."""

from __future__ import annotations

from typing import Any

from stringline.book.drawing import Drawing
from stringline.book.svg import svg


def picture(drawing: Drawing, *, id_prefix: str) -> dict[str, Any]:
    """A drawing as page data: its SVG, its size on paper in millimetres, its scale in words, and its alt text."""
    width, height = drawing.paper_size_mm
    return {
        "svg": svg(drawing, id_prefix=id_prefix),
        "width_mm": width,
        "height_mm": height,
        "scale": drawing.scale.text,
        "title": drawing.title,
        "alt": drawing.alt,
    }
