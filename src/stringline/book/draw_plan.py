"""The dimensioned plan, in the cover's frame: housing at the bottom, looking over the water."""

from __future__ import annotations

from stringline.book.drawing import Drawing
from stringline.fit.result import Fit
from stringline.job.model import Pool
from stringline.layout.result import Layout
from stringline.lengths import Unit
from stringline.survey.result import Survey
from stringline.system.model import System


def plan_drawing(
    layout: Layout,
    survey: Survey,
    pool: Pool,
    system: System,
    unit: Unit,
    *,
    fit: Fit | None = None,
    area_mm: tuple[float, float] = (180.0, 230.0),
    strip: tuple[str, ...] = (),
) -> Drawing:
    """Draw the plan to the largest standard scale that fits ``area_mm``."""
    raise NotImplementedError
