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
)
