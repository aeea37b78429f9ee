"""Practice of the trade: no published source, every value editable in a catalogue."""

from __future__ import annotations

from stringline.sources.model import Source, Standing

ENTRIES: tuple[Source, ...] = (
    Source("trade", "Practice of the trade", Standing.PRACTICE),
    Source(
        "catalogue",
        "The hardware catalogue that the job names",
        Standing.PRACTICE,
        note="What a firm writes for what it installs; the one shipped here is invented.",
    ),
)
