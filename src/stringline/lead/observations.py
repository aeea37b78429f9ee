"""What an eye saw while the cover ran, turned into odds for the causes (practice; source ``seen-on-site``)."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from stringline.lengths import LengthError, Unit, parse


@dataclass(frozen=True, slots=True)
class Seen:
    """Odds by cause, and by cause and side; stations where it caught; what could not be understood."""

    odds: Mapping[str, float]
    side_odds: Mapping[tuple[str, str], float]
    catches_m: tuple[float, ...]
    unread: tuple[str, ...]


_TABLE: tuple[tuple[str, dict[str, float]], ...] = (
    ("catch", {"tight-spot": 20.0}),
    ("slack rope", {"rope-length": 3.0, "reel-stacking": 2.0}),
    ("baggy middle", {"hem-roll": 3.0, "square": 1.5}),
    ("hem out of track", {"tight-spot": 4.0, "both-drag": 2.0, "hem-drag": 2.0}),
    ("stops short", {"both-drag": 4.0, "tight-spot": 3.0, "slider-drag": 2.0}),
)
KNOWN = tuple(word for word, _ in _TABLE)


def read_seen(lines: tuple[str, ...], unit: Unit, drive_side: str = "left") -> Seen:
    """Read lines such as ``catches at 12' 6"`` or ``slack rope, idle side``; left and right are turned into drive and
    idle.
    """
    odds: dict[str, float] = {}
    sides: dict[tuple[str, str], float] = {}
    catches: list[float] = []
    unread: list[str] = []
    for line in lines:
        text = line.lower()
        hit = next(((word, table) for word, table in _TABLE if word in text), None)
        if hit is None:
            unread.append(line)
            continue
        word, table = hit
        for key, factor in table.items():
            odds[key] = odds.get(key, 1.0) * factor
        side = _side(text, drive_side)
        if side is not None:
            for key in table:
                sides[key, side] = sides.get((key, side), 1.0) * 4.0
        if word == "catch":
            at = _station(line, unit)
            if at is not None:
                catches.append(at)
    return Seen(odds, sides, tuple(catches), tuple(unread))


def _side(text: str, drive_side: str) -> str | None:
    """Side that the line names, if it names one."""
    for word in ("drive", "idle"):
        if word in text:
            return word
    for word in ("left", "right"):
        if word in text:
            return "drive" if word == drive_side else "idle"
    return None


def _station(line: str, unit: Unit) -> float | None:
    """Length behind ``at``, if there is one that can be read."""
    found = re.search(r"\bat\b\s*(.+)$", line, re.IGNORECASE)
    if found is None:
        return None
    words = found.group(1).strip().rstrip(".")
    for cut in (words, words.split(",")[0]):
        try:
            return parse(cut, unit).m
        except LengthError:
            continue
    return None
