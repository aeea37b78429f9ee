"""Sources of the mechanics chapter."""

from __future__ import annotations

from stringline.sources.model import Source

ENTRIES: tuple[Source, ...] = ()
