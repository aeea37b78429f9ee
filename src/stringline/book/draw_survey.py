"""The survey sheet's drawing: points, taped lines, what is doubtful, and what to tape next."""

from __future__ import annotations

from stringline.book.drawing import Drawing
from stringline.lengths import Unit
from stringline.survey.result import Survey


def survey_drawing(
    survey: Survey,
    unit: Unit,
    *,
    water: tuple[str, ...] = (),
    area_mm: tuple[float, float] = (180.0, 200.0),
    strip: tuple[str, ...] = (),
) -> Drawing:
    """Draw the survey within ``area_mm``; ``water`` names the points of the water's edge in order.

    ``strip`` holds lines for a small title strip (a drawing that stands alone); pages leave it empty.
    """
    raise NotImplementedError
