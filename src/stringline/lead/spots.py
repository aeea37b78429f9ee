"""Where a tight spot may be: only where something beside a single lead speaks for one."""

from __future__ import annotations

import numpy as np

from stringline.lead.observations import Observations
from stringline.lead.trial import CLOSING, CURRENT, OPENING, Sheet

ASIDE = 2.5
"""How many σ of its own a reading must leave its neighbours' line by (practice)."""


def spots(page: Sheet, seen: Observations) -> tuple[float, ...]:
    """Stations at which a tight spot is looked for, never two closer than 0.4 m: where it caught, and where the
    current peaks or both leads step aside together. One lead alone is no tight spot: it may be a false reading.
    """
    found: list[float] = []
    for at in [*seen.catches_m, *_stepped_aside(page)]:
        if all(abs(at - other) >= 0.4 for other in found):
            found.append(float(at))
    return tuple(found)


def _stepped_aside(page: Sheet) -> list[float]:
    """Stations whose current stands over its neighbours', or both of whose leads leave theirs to one side.

    A step at one station puts its neighbours off their lines too, by less: only the highest of a row is taken.
    """
    rows = np.unique(page.row)
    score = np.zeros(rows.size)
    for i, k in enumerate(rows):
        for t in range(len(page.trials)):
            shut, back, amps = (_off_line(page, int(k), what, t) for what in (CLOSING, OPENING, CURRENT))
            together = min(abs(shut), abs(back)) if shut * back > 0.0 else 0.0
            score[i] = max(score[i], amps, together)
    around = np.pad(score, 1)
    highest = (score >= around[:-2]) & (score >= around[2:])
    return [float(page.stations[k]) for k in rows[highest & (score > ASIDE)]]


def _off_line(page: Sheet, row: int, what: int, trial: int) -> float:
    """How many σ a reading lies off the line through its neighbours; nought where there is none."""
    mine = (page.what == what) & (page.trial == trial)
    here = np.flatnonzero(mine & (page.row == row))
    rest = np.flatnonzero(mine & (page.row != row))
    if here.size == 0 or rest.size == 0:
        return 0.0
    s, at = page.stations[page.row[rest]], page.stations[row]
    order = np.argsort(s)
    there = float(np.interp(at, s[order], page.value[rest][order]))
    return float((page.value[here[0]] - there) / (1.25 * page.sigma[here[0]]))
