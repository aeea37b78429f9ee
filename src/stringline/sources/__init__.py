"""Every source used, cited by key; an unknown key is an error as soon as it is used."""

from __future__ import annotations

from stringline.sources import cutting, mechanics, safety, survey, trade
from stringline.sources.model import Source, Standing

__all__ = ["ALL", "Source", "Standing", "require"]


def _gather() -> dict[str, Source]:
    found: dict[str, Source] = {}
    for chapter in (survey, trade, mechanics, cutting, safety):
        for entry in chapter.ENTRIES:
            if entry.key in found:
                raise ValueError(f"source key '{entry.key}' stands twice")
            found[entry.key] = entry
    return found


ALL: dict[str, Source] = _gather()


def require(key: str) -> Source:
    """Return the source with that key; raises KeyError, naming the key, where there is none."""
    try:
        return ALL[key]
    except KeyError:
        raise KeyError(f"no source is called '{key}'") from None
