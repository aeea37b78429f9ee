"""The to-scale strip on a cut card: one run with its sticks, joints, pins and ends."""

from __future__ import annotations

from stringline.book.drawing import Drawing
from stringline.cutting.result import Piece
from stringline.lengths import Unit


def strip_drawing(piece: Piece, unit: Unit, width_mm: float = 170.0) -> Drawing:
    """Draw a piece from its housing end to its far end, broken into rows where labels would not be legible."""
    raise NotImplementedError
