"""Write a drawing as a self-contained SVG with real text, to size in millimetres."""

from __future__ import annotations

from stringline.book.drawing import Drawing

FONT = "Source Sans Pro"


def svg(drawing: Drawing, *, id_prefix: str) -> str:
    """SVG document of a drawing, ids beginning with ``id_prefix``, width and height in mm, with <title> and <desc>."""
    raise NotImplementedError(drawing.name, id_prefix)
