"""Form of the tracks: straight, parallel, square, and gauge by station, each with its uncertainty."""

from __future__ import annotations

import math

from stringline.finding import Code, finding
from stringline.form.built import (
    beyond_channel,
    built_diagonals,
    built_gauge,
    built_parallel,
    built_sigma,
    built_square,
    built_straight,
)
from stringline.form.result import Fit
from stringline.form.shell import shell_diagonals, shell_gauge, shell_parallel, shell_square, shell_straight, sides_of
from stringline.job.model import Pool
from stringline.job.readings import AsBuilt, aside
from stringline.layout.outline import outline_of
from stringline.layout.result import Layout
from stringline.survey.result import Survey
from stringline.system.model import Tolerances

USUAL_SIGMA_M = Tolerances().as_built_tape_m


def fit_from_survey(survey: Survey, pool: Pool, layout: Layout) -> Fit:
    """Before the pour: form of the water's edges that tracks under the coping follow.

    Tracks flush in the deck or on it stand free of the water, so there is nothing to say before they are laid. What the
    survey cannot say is None, and a note says what to measure. Raises :class:`stringline.faults.Faults` as
    :func:`stringline.layout.outline.outline_of` does.
    """
    if layout.mount in ("flush", "on-deck"):
        return Fit("survey", None, None, None, None, None, notes=("form.free-of-water",))
    outline = outline_of(pool, survey)
    left, right = sides_of(outline, layout.frame)
    notes: list[Code] = []
    for name, side in (("left", left), ("right", right)):
        if len(side.names) < 2:
            notes.append(finding("form.no-straight-edge", side=name))
        elif len(side.names) == 2:
            notes.append(finding("form.two-points", side=name, points=side.names))
    return Fit(
        basis="survey",
        straight_left=shell_straight(survey, layout, left, "left"),
        straight_right=shell_straight(survey, layout, right, "right"),
        parallel=shell_parallel(survey, layout, left, right),
        square=shell_square(survey, layout, left, right),
        diagonals=shell_diagonals(survey, layout, left, right, notes),
        gauge=shell_gauge(survey, layout, left, right),
        notes=tuple(notes),
    )


def fit_from_as_built(as_built: AsBuilt, layout: Layout, usual_sigma_m: float = USUAL_SIGMA_M) -> Fit:
    """After the pour: form of the channels from what was measured in them, against the gauge that was laid out.

    ``usual_sigma_m`` is the σ of one reading where the job gives none, metres. Raises ValueError for a σ that is
    negative or no number. What was not measured is None; a note says what was taken for granted instead.
    """
    notes: list[Code] = []
    sigma = built_sigma(as_built, usual_sigma_m, notes)
    notes += [*aside(as_built.readings), *beyond_channel(as_built, layout)]
    if not math.isfinite(sigma) or sigma < 0.0:
        raise ValueError("the as-built σ must be zero or more")
    return Fit(
        basis="as-built",
        straight_left=built_straight(as_built.offsets_left, sigma, "left", notes),
        straight_right=built_straight(as_built.offsets_right, sigma, "right", notes),
        parallel=built_parallel(as_built, sigma, notes),
        square=built_square(as_built, layout, sigma, notes),
        diagonals=built_diagonals(as_built, sigma),
        gauge=built_gauge(as_built, layout, sigma),
        notes=tuple(notes),
    )
