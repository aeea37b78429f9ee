"""Sources of the safety chapter: what a crew is cautioned about, and who says so."""

from __future__ import annotations

from stringline.sources.model import Source, Standing

ENTRIES: tuple[Source, ...] = (
    Source("caution-water", "Open water beside work: barrier, watch, nobody alone", Standing.PRACTICE),
    Source(
        "caution-power",
        "Electricity isolated, locked out and proved dead by the licensed trade",
        Standing.PRACTICE,
        note="Lock-out rules differ from place to place; the local rule decides.",
    ),
    Source(
        "caution-run",
        "ASTM F1346-23, performance specification for safety covers: control within sight of the water",
        Standing.SECOND_HAND,
        "read as quoted in municipal records",
        "Read the standard itself; what is printed here is the caution, not the requirement.",
    ),
    Source("caution-nip", "Hands, hair and clothing clear of turning and running parts", Standing.PRACTICE),
    Source(
        "caution-water-on-cover",
        "ASTM F1346-23: standing water on a cover is to be drained",
        Standing.SECOND_HAND,
        "read as quoted in municipal records",
        "Read the standard itself for times and amounts.",
    ),
    Source(
        "caution-local",
        "Local code on barriers, bonding and disconnects (in the USA, NFPA 70 article 680)",
        Standing.FROM_MEMORY,
        "article 680, part II",
        "Named so that the right person looks it up.",
    ),
)
