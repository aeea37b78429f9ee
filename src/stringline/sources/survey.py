"""Sources for taping, adjustment, slips and form."""

from __future__ import annotations

from stringline.sources.model import Source, Standing

ENTRIES: tuple[Source, ...] = (
    Source(
        "tape-class",
        "UK SI 2016/1153, The Measuring Instruments Regulations 2016 (EU MI-008)",
        Standing.SEEN,
        "schedule 1I, material measures of length",
        "Error limit a + b·L mm with L rounded up to whole metres; half of it is taken as σ (practice).",
    ),
    Source("reading-sigma", "Reading and pointing a tape, 2 mm", Standing.PRACTICE),
    Source(
        "guard-band",
        "JCGM 106:2012, The role of measurement uncertainty in conformity assessment",
        Standing.FROM_MEMORY,
        "guarded acceptance",
    ),
    Source(
        "chi-square",
        "Global test of a least-squares adjustment: vᵀPv against the χ² interval, two-sided 95 %",
        Standing.FROM_MEMORY,
        note="Any textbook of adjustment; e.g. Ghilani, Adjustment Computations, the chapter on tests of hypotheses.",
    ),
    Source(
        "redundancy-practice",
        "A reading counts as checked by others from a redundancy of 0.2 up",
        Standing.PRACTICE,
    ),
)
