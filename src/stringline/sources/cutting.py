"""Sources of the cutting chapter."""

from __future__ import annotations

from stringline.sources.model import Source, Standing

ENTRIES: tuple[Source, ...] = (
    Source(
        "gilmore-gomory",
        "Gilmore and Gomory, A linear programming approach to the cutting-stock problem",
        Standing.FROM_MEMORY,
        "Operations Research 9 (1961) 849-859 and 11 (1963) 863-888",
        "Patterns priced by a knapsack; the plan's bound is the linear programme's, rounded up.",
    ),
    Source(
        "factory-ends",
        "A stick has two factory ends and so gives at most two last pieces",
        Standing.OWN,
        "tests/test_cuts_fleet.py, against brute force",
        "Single pieces and pairs are the only ways to open a stick, so the plan is a matching with side conditions.",
    ),
    Source(
        "tolerances",
        "Building and making tolerances, one σ each",
        Standing.PRACTICE,
        "catalogue, [tolerances]",
        "A firm that measures what it builds puts its own figures there.",
    ),
    Source(
        "readiness",
        "Probability that what is built stays inside what ordered parts can take up",
        Standing.OWN,
        "tests/test_order_ready.py, against simulated pools",
    ),
)
