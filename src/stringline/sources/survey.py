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
        note="In part from 0.05, not at all below 0.02; below one in a million it is rounding.",
    ),
    Source(
        "data-snooping",
        "Baarda, A testing procedure for use in geodetic networks (1968)",
        Standing.FROM_MEMORY,
        "data snooping, |w| > 3.2905 at α = 0.001; smallest detectable slip 4.13 σ/√r at power 0.8",
        "Here the limit on |w| rises with the number of readings, so that one clean survey in a hundred is accused.",
    ),
    Source(
        "pope-tau",
        "Pope, The statistics of residuals and the detection of outliers (NOAA technical report NOS 65 NGS 1, 1976)",
        Standing.FROM_MEMORY,
        "τ = t √f / √(f − 1 + t²)",
    ),
    Source(
        "slip-prior",
        "How often a tape is misread, and how: two readings in a hundred, shared among the usual misreadings",
        Standing.PRACTICE,
        note="Only weighs explanations that fit the geometry about equally well; see survey/slips/misreadings.py.",
    ),
    Source(
        "minimum-zone",
        "ISO 1101, Geometrical tolerancing: tolerances of form, orientation, location and run-out",
        Standing.FROM_MEMORY,
        "straightness, parallelism: the zone of least width that holds the feature",
        "The width of the convex hull for one line; two equal zones of one direction for two.",
    ),
    Source("square-sigma", "How square an offset is held to a stringline by eye: 1 in 200", Standing.PRACTICE),
    Source(
        "tape-corrections",
        "Temperature, pull and sag corrections of a steel tape",
        Standing.VERIFIED,
        note="Any textbook of surveying; checked against worked examples of surveying course slides.",
    ),
    Source(
        "rigidity",
        "Laman, On graphs and rigidity of plane skeletal structures, Journal of Engineering Mathematics 4 (1970)",
        Standing.FROM_MEMORY,
        note="Whether lines hold points still belongs to the list of lines alone, but for special shapes.",
    ),
    Source("rod-sigma", "Reading a levelling rod and holding it upright, 2 mm", Standing.PRACTICE),
    Source(
        "correction-means",
        "Wedges moved over take a track 3 mm sideways, shims 10 mm; beyond that the channel is re-set",
        Standing.PRACTICE,
    ),
    Source("coordinate-sigma", "A coordinate by total station or laser on a pool, 3 mm", Standing.PRACTICE),
)
