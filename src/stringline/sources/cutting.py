"""Sources of the cutting chapter."""

from __future__ import annotations

from stringline.sources.model import Source

ENTRIES: tuple[Source, ...] = ()
