"""How people misread a tape: for one reading, what it might have been, and the prior share of each.

The shares are practice (source ``slip-prior``): nobody has published how often a foot is dropped at a pool. They only
weigh explanations that fit the geometry about equally well.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

from stringline.finding import Finding, finding
from stringline.lengths import FOOT, INCH, Length

SLIP_RATE = 0.02
"""How many readings in a hundred carry a slip before anything is known: two (practice, source ``slip-prior``)."""

OTHER_SHARE = 0.25
"""Share of slips that are none of the usual misreadings (a snag, a bent tape, a wrong mark)."""

OTHER_LEAST_M, OTHER_MOST_M = 0.005, 10.0
"""Range over which 'another amount' is taken to be spread, evenly by order of magnitude, either sign."""

NEIGHBOUR_SHARE = 0.10
"""Share of slips where the tape was held at a neighbouring point."""

SWAP_SHARE = 0.05
"""Share of slips where two readings were written against each other's lines."""

SAME_M = 2e-4
"""Two explanations closer than this are one and the same amount."""

_LOOK_ALIKE = (("6", "9"), ("1", "7"), ("3", "8"))
_IMPERIAL_FEET = {1: 16.0, 2: 2.5, 3: 0.5, 4: 0.3, 5: 1.0, 10: 2.0}
_IMPERIAL_INCHES = {1: 8.0, 2: 2.0, 3: 1.5, 4: 1.0, 5: 0.7, 6: 7.0, 7: 0.7, 8: 0.7, 9: 0.7, 10: 1.0, 11: 0.7}
_STARTED_FOOT, _STARTED_INCH, _STARTED_DECIMETRE = 4.0, 4.0, 6.0
_METRES = {1: 12.0, 2: 2.0, 3: 0.3, 5: 0.7, 10: 1.0}
_DECIMETRES = {1: 10.0, 2: 2.5, 3: 1.0, 4: 1.0, 5: 4.0, 6: 0.7, 7: 0.7, 8: 0.7, 9: 0.7}
_CENTIMETRES = {1: 6.0, 2: 2.0, 3: 0.7, 4: 0.7, 5: 4.0, 6: 0.5, 7: 0.5, 8: 0.5, 9: 0.5}
_SWAPPED_DIGITS, _LOOKED_ALIKE, _FRACTION, _DECIMAL_FEET = 8.0, 6.0, 5.0, 4.0
_IMPERIAL = ("ft-in", "ft", "in")


@dataclass(frozen=True, slots=True)
class Misreading:
    """One explanation: the tape showed ``true_m`` although something else was written down.

    ``delta_m`` is written − true; ``share`` the prior probability of this explanation, given that there is a slip.
    """

    true_m: float
    delta_m: float
    says: Finding
    share: float


_Made = tuple[float, Finding, float]


def misreadings(length: Length) -> tuple[Misreading, ...]:
    """List the usual misreadings of one length in the notation that it was written in.

    Explanations of the same amount are merged, keeping what the likeliest one says; the shares add up to what is left
    beside ``OTHER_SHARE``, ``NEIGHBOUR_SHARE`` and ``SWAP_SHARE``. Source ``slip-prior`` (practice).

    >>> from stringline.lengths import parse
    >>> [m.says.code for m in misreadings(parse('37 ft 5 in', None)) if abs(m.true_m - 35 * FOOT - 5 * INCH) < 1e-6]
    ['survey.feet-many']
    """
    made = _imperial(length) if length.notation in _IMPERIAL else _metric(length)
    merged: list[_Merged] = []
    for true_m, says, share in sorted(made, key=lambda m: (m[0], -m[2])):
        if true_m <= 0.0 or abs(true_m - length.m) < SAME_M:
            continue
        if merged and abs(true_m - merged[-1].true_m) < SAME_M:
            merged[-1].add(says, share)
        else:
            merged.append(_Merged(true_m, says, share, share))
    total = sum(m.share for m in merged)
    room = 1.0 - OTHER_SHARE - NEIGHBOUR_SHARE - SWAP_SHARE
    return tuple(Misreading(m.true_m, length.m - m.true_m, m.says, room * m.share / total) for m in merged)


@dataclass(slots=True)
class _Merged:
    """Explanations of one amount; ``most`` is the share of the likeliest, whose words stand."""

    true_m: float
    says: Finding
    share: float
    most: float

    def add(self, says: Finding, share: float) -> None:
        self.share += share
        if share > self.most:
            self.says, self.most = says, share


def other_density(delta_m: float) -> float:
    """Prior density per metre of a slip that is no usual misreading: even in log |Δ|, flat below the least.

    p(Δ) = 1/(2 |Δ| (1 + ln(Δ_most/Δ_least))) for Δ_least ≤ |Δ| ≤ Δ_most, 0 beyond; it integrates to one over both
    signs. Source ``slip-prior`` (practice).

    >>> round(other_density(0.5), 4), other_density(11.0)
    (0.1163, 0.0)
    """
    size = max(abs(delta_m), OTHER_LEAST_M)
    if size > OTHER_MOST_M:
        return 0.0
    return 1.0 / (2.0 * size * (1.0 + math.log(OTHER_MOST_M / OTHER_LEAST_M)))


def unusual(delta_m: float) -> Finding:
    """An amount, written − true in metres, that is no usual misreading."""
    code = "survey.unusual-many" if delta_m > 0 else "survey.unusual-few"
    return finding(code, off_m=abs(float(delta_m)))


def is_unusual(says: Finding) -> bool:
    """Whether an explanation names an amount and no mistake that would make it."""
    return says.code in ("survey.unusual-many", "survey.unusual-few")


def snap(length_m: float, notation: str) -> float:
    """Round a length to the nearest mark of the ruler that the notation implies: 1/16 in, 0.01 ft or 1 mm.

    >>> snap(3.14159, "m"), round(snap(3.14159, "ft-in") / INCH * 16)
    (3.142, 1979)
    """
    mark = {"ft-in": INCH / 16, "in": INCH / 16, "ft": FOOT / 100}.get(notation, 1e-3)
    return round(length_m / mark) * mark


def _whole(length: Length, table: dict[int, float], unit_m: float, many: str, few: str) -> Iterator[_Made]:
    for n, share in table.items():
        yield length.m - n * unit_m, finding(many, n=n), share
        yield length.m + n * unit_m, finding(few, n=n), share


def _imperial(length: Length) -> Iterator[_Made]:
    yield from _whole(length, _IMPERIAL_FEET, FOOT, "survey.feet-many", "survey.feet-few")
    yield length.m - FOOT, finding("survey.started-foot"), _STARTED_FOOT
    if length.notation == "ft":
        yield from _number(length)
        feet, tenths = divmod(round(length.m / FOOT * 10, 6), 10)
        if 0 < tenths < 10 and abs(tenths - round(tenths)) < 1e-6:
            meant = finding("survey.decimal-feet", feet=round(feet), inches=round(tenths))
            yield (feet + tenths / 12) * FOOT, meant, _DECIMAL_FEET
        return
    yield from _whole(length, _IMPERIAL_INCHES, INCH, "survey.inches-many", "survey.inches-few")
    yield length.m - INCH, finding("survey.started-inch"), _STARTED_INCH
    sixteenths = round(length.m / INCH * 16)
    inches, part = divmod(sixteenths, 16)
    yield from _fractions(inches, part)
    left = length.m - sixteenths * INCH / 16  # nothing for a ruler's reading
    if length.notation == "in":
        for other, code, share in _digits(str(inches), _IN_INCHES):
            true = (int(other) + part / 16) * INCH + left
            yield true, finding(code, written=str(inches), meant=other), share
        return
    feet, inch = divmod(inches, 12)
    for other, code, share in _digits(str(feet), _IN_FEET):
        true = (12 * int(other) + inch + part / 16) * INCH + left
        yield true, finding(code, written=str(feet), meant=other), share
    for other, code, share in _digits(str(inch), _IN_INCHES):
        if int(other) < 12:
            true = (12 * feet + int(other) + part / 16) * INCH + left
            yield true, finding(code, written=str(inch), meant=other), share
    if part == 0 and 0 < inch < 10:
        yield (feet + inch / 10) * FOOT, finding("survey.feet-inches", feet=feet, tenths=inch), _DECIMAL_FEET


def _fractions(inches: int, part: int) -> Iterator[_Made]:
    """Eighths taken for sixteenths and the other way round, and a mark miscounted."""
    if part == 0:
        return
    a, b = _lowest(part)
    for true, share in ((2 * part, 1.0), (part / 2, 1.0), (part + 2, 0.3), (part - 2, 0.3), (part + 4, 0.3),
                        (part - 4, 0.3), (part + 8, 0.4), (part - 8, 0.4), (16 - part, 0.3)):  # fmt: skip
        if 0 < true < 16 and true == int(true) and int(true) != part:
            c, d = _lowest(int(true))
            yield inches * INCH + true * INCH / 16, finding("survey.fraction", a=a, b=b, c=c, d=d), _FRACTION * share


def _metric(length: Length) -> Iterator[_Made]:
    yield from _whole(length, _METRES, 1.0, "survey.metres-many", "survey.metres-few")
    yield from _whole(length, _DECIMETRES, 0.1, "survey.decimetres-many", "survey.decimetres-few")
    yield length.m - 0.1, finding("survey.started-decimetre"), _STARTED_DECIMETRE
    yield from _whole(length, _CENTIMETRES, 0.01, "survey.centimetres-many", "survey.centimetres-few")
    yield from _number(length)


def _number(length: Length) -> Iterator[_Made]:
    """Digits swapped or mistaken in a length written as one decimal number."""
    found = re.search(r"\d+(?:[.,]\d+)?", length.text)
    if found is None:
        return
    text = found.group().replace(",", ".")
    value = float(text)
    if value <= 0.0:
        return
    for other, code, share in _digits(text, _IN_NUMBER):
        yield length.m * float(other) / value, finding(code, written=text, meant=other), share


# codes of two digits swapped, and of one taken for another
_IN_FEET = ("survey.swapped-feet", "survey.misread-feet")
_IN_INCHES = ("survey.swapped-inches", "survey.misread-inches")
_IN_NUMBER = ("survey.swapped-number", "survey.misread-number")


def _digits(text: str, codes: tuple[str, str]) -> Iterator[tuple[str, str, float]]:
    """Every number that swapping two neighbouring digits, or mistaking one, makes of ``text``."""
    places = [i for i, c in enumerate(text) if c.isdigit()]
    for i, j in itertools.pairwise(places):
        if text[i] != text[j]:
            changed = list(text)
            changed[i], changed[j] = text[j], text[i]
            yield "".join(changed), codes[0], _SWAPPED_DIGITS
    for i in places:
        for a, b in _LOOK_ALIKE:
            if text[i] in (a, b):
                yield text[:i] + (b if text[i] == a else a) + text[i + 1 :], codes[1], _LOOKED_ALIKE


def _lowest(sixteenths: int) -> tuple[int, int]:
    """A number of sixteenths as the fraction on the ruler."""
    shared = math.gcd(sixteenths, 16)
    return sixteenths // shared, 16 // shared
