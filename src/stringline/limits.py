"""Statistical limits: one table of the levels that tests and verdicts are judged at, each with its source.

The limits of parts (a gauge, a clearance) are the catalogue's and stand in :mod:`stringline.system`; these belong to
the statistics of readings and are the same for every job.
"""

from __future__ import annotations

from statistics import NormalDist

from stringline.sources import require

READING_ALPHA = 0.001
"""How often a good reading is called doubtful when it is tested by itself (Baarda's choice)."""

POWER = 0.8
"""How often a slip of the smallest detectable size is then found."""

BAARDA_W = NormalDist().inv_cdf(1.0 - READING_ALPHA / 2.0)
"""|w| = 3.2905: a standardised residual that a good reading exceeds once in a thousand, two-sided."""

NONCENTRALITY = BAARDA_W + NormalDist().inv_cdf(POWER)
"""δ₀ = 4.132: a slip of δ₀·σ/√r in a reading of redundancy r is found with power 0.8 at α = 0.001."""

SURVEY_ALPHA = 0.007
"""How often any reading of a clean survey may pass the limit when all are looked at together (Bonferroni)."""

HIGHEST_W = 3.84
"""|w| that the limit for many readings never exceeds: 1½ times the smallest detectable slip, |w| 6.2 ± 1, still shows.
"""

GLOBAL_ALPHA = 0.05
"""How often the test of all residuals together fails a clean survey: vᵀPv outside its two-sided 95 % of χ²."""

ENOUGH_R = 0.2
"""Redundancy from which a reading counts as checked by the others; a slip then shows from δ₀·σ/√0.2 = 9.2 σ up."""

PARTLY_R = 0.05
"""Redundancy from which a reading counts as checked in part: a slip shows from 18 σ up."""

UNCHECKED_R = 0.02
"""Redundancy below which a reading counts as not checked: a slip under 29 σ goes unseen."""

UNTESTED_R = 1e-6
"""Redundancy below which r is rounding and no test is made at all."""

GUARD = 2.0
"""Standard deviations that a figure keeps from its limit before it passes or fails; also the ± written behind it."""

SOURCES: dict[str, str] = {
    "READING_ALPHA": "data-snooping",
    "POWER": "data-snooping",
    "BAARDA_W": "data-snooping",
    "NONCENTRALITY": "data-snooping",
    "SURVEY_ALPHA": "data-snooping",
    "HIGHEST_W": "data-snooping",
    "GLOBAL_ALPHA": "chi-square",
    "ENOUGH_R": "redundancy-practice",
    "PARTLY_R": "redundancy-practice",
    "UNCHECKED_R": "redundancy-practice",
    "UNTESTED_R": "redundancy-practice",
    "GUARD": "guard-band",
}
"""The key in :mod:`stringline.sources` of who says so, for each limit above."""

for _key in SOURCES.values():
    require(_key)
