"""Checks on the layout: does the cover go where it was put?"""

from __future__ import annotations

from collections.abc import Iterable

from stringline.finding import Code, finding, nested
from stringline.judging import Check, Limit, Verdict, judge
from stringline.layout.result import Layout
from stringline.plan.checks.codes import check
from stringline.system.model import System
from stringline.worked import Figure


def layout_checks(layout: Layout, system: System) -> tuple[Check, ...]:
    """Width, travel and overlap against the catalogue, and the nearest obstacle against zero."""
    limits = system.limits
    width, length = (
        Limit(high=limits.max_width_m, source="catalogue"),
        Limit(high=limits.max_length_m, source="catalogue"),
    )
    overlap = Limit(low=limits.min_overlap_m, source="catalogue")
    found = [
        check("layout-width", judge(layout.gauge.value, layout.gauge.sigma, width), figure=layout.gauge, limit=width),
        check(
            "layout-length",
            judge(layout.travel.value, layout.travel.sigma, length),
            figure=layout.travel,
            limit=length,
        ),
        check(
            "layout-overlap",
            judge(layout.side_margin.value, layout.side_margin.sigma, overlap),
            figure=layout.side_margin,
            limit=overlap,
        ),
    ]
    if layout.clearances:
        nearest = min(layout.clearances, key=lambda c: c.figure.value)
        clear = Limit(low=0.0)
        found.append(
            check(
                "layout-clear",
                judge(nearest.figure.value, nearest.figure.sigma, clear),
                figure=nearest.figure,
                limit=clear,
            )
        )
    return tuple(found)


def blocked_check(why: Iterable[Code]) -> Check:
    """The cover that fits nowhere, or whose input cannot be used; ``why`` says what is in the way and what helps."""
    return check("layout-fits", Verdict.FAIL, detail=finding("common.sentences", said=[nested(w) for w in why]))


def floor_check(fall: Figure, system: System) -> Check:
    """The housing floor's least fall to its drain against the catalogue's."""
    limit = Limit(low=system.housing.min_drain_fall, source="catalogue")
    return check("floor-drains", judge(fall.value, fall.sigma, limit), figure=fall, limit=limit)
