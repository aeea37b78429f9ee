"""What an eye saw while the cover ran, turned into odds for the causes (practice; source ``seen-on-site``)."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from stringline.lengths import LengthError, Unit, parse


@dataclass(frozen=True, slots=True)
class Observations:
    """Odds by cause, and by cause and side; stations where it caught; what could not be understood."""

    odds: Mapping[str, float]
    side_odds: Mapping[tuple[str, str], float]
    catches_m: tuple[float, ...]
    unread: tuple[str, ...]


NONE_MADE = Observations({}, {}, (), ())

_CATCH = "catch"
# A line that holds one of these words multiplies the odds of causes.
_TABLE: tuple[tuple[str, dict[str, float]], ...] = (
    (_CATCH, {"tight-spot": 20.0}),
    ("slack rope", {"rope-length": 3.0, "reel-stacking": 2.0}),
    ("baggy middle", {"hem-roll": 3.0, "square": 1.5}),
    ("hem out of track", {"tight-spot": 4.0, "both-drag": 2.0, "hem-drag": 2.0}),
    ("stops short", {"both-drag": 4.0, "tight-spot": 3.0, "slider-drag": 2.0}),
)
KNOWN = tuple(phrase for phrase, _ in _TABLE)
"""What a line may say, as a person types it into the job."""


def read_observations(lines: Iterable[str], bare: Unit | None, drive_side: str = "left") -> Observations:
    """Read lines such as ``catches at 12' 6"`` or ``slack rope, idle side``; left and right are turned into drive and
    idle. ``bare`` is what a bare number means, as in :func:`stringline.lengths.parse`.

    >>> from stringline.lengths import Unit
    >>> read_observations(["catches at 3.2, left", "it squeaks"], Unit.M).catches_m
    (3.2,)
    """
    odds: dict[str, float] = {}
    sides: dict[tuple[str, str], float] = {}
    catches: list[float] = []
    unread: list[str] = []
    for line in lines:
        text = line.lower()
        hit = next(((phrase, table) for phrase, table in _TABLE if phrase in text), None)
        if hit is None:
            unread.append(line)
            continue
        phrase, table = hit
        for key, factor in table.items():
            odds[key] = odds.get(key, 1.0) * factor
        side = _side(text, drive_side)
        if side is not None:
            for key in table:
                sides[key, side] = sides.get((key, side), 1.0) * 4.0
        if phrase == _CATCH:
            at = _station(line, bare)
            if at is not None:
                catches.append(at)
    return Observations(odds, sides, tuple(catches), tuple(unread))


def _side(text: str, drive_side: str) -> str | None:
    """Side that the line names, if it names one."""
    for word in ("drive", "idle"):
        if word in text:
            return word
    for word in ("left", "right"):
        if word in text:
            return "drive" if word == drive_side else "idle"
    return None


def _station(line: str, bare: Unit | None) -> float | None:
    """Length behind ``at``, if there is one that can be read."""
    found = re.search(r"\bat\b\s*(.+)$", line, re.IGNORECASE)
    if found is None:
        return None
    words = found.group(1).strip().rstrip(".")
    for cut in (words, words.split(",")[0]):
        try:
            return parse(cut, bare).m
        except LengthError:
            continue
    return None
