"""What an adjusted survey cannot tell, in plain words."""

from __future__ import annotations

import numpy as np

from stringline.job.readings import Tape
from stringline.lengths import Unit, format_amount
from stringline.survey.adjust.least_squares import Adjustment
from stringline.survey.approximate.rigidity import listed

WEAK_RATIO = 12.0  # an ellipse this much longer than wide: lines cross at under about 10°
WEAK_M = 0.02  # and this long


def remarks(adj: Adjustment, unit: Unit) -> tuple[str, ...]:
    """Notes on corrections, weak crossings and an adjustment that did not settle; the search for slips adds its own."""
    net = adj.network
    out: list[str] = []
    if not adj.converged:
        out.append("The adjustment did not settle: readings contradict each other grossly. Trust no coordinate yet.")
    added = np.array([net.value[k] - r.length.m for k, r in enumerate(net.reading) if isinstance(r, Tape)])
    if added.any():
        low, high = (format_amount(float(x), unit) for x in (added.min(), added.max()))
        out.append(f"Taped readings are corrected as asked, by {low} to {high}; what was read stands as written.")
    for i, name in enumerate(net.names):
        major, minor, angle = (float(x) for x in adj.ellipses[i])
        if major > WEAK_M and major > WEAK_RATIO * minor:
            ends = {j for _, j in net.neighbours[i]}
            held = listed([net.names[j] for j in sorted(ends)]) if ends else "its readings"
            out.append(
                f"{name} is weak one way (± {format_amount(major, unit)} at {np.degrees(angle):.0f}°): the lines from "
                f"{held} cross at too flat an angle there."
            )
    return tuple(out)
