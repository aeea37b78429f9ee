"""How people misread a tape: for one reading, what it might have been, in words and with a prior share.

The shares are practice (source ``slip-prior``): nobody has published how often a foot is dropped at a pool. They only
weigh explanations that fit the geometry about equally well.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

from stringline.lengths import FOOT, INCH, Length, Unit, format_amount, format_length

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
    words: str
    share: float


def misreadings(length: Length) -> tuple[Misreading, ...]:
    """List the usual misreadings of one length in the notation that it was written in.

    Explanations of the same amount are merged, keeping the likeliest one's words; the shares add up to what is
    left beside ``OTHER_SHARE``, ``NEIGHBOUR_SHARE`` and ``SWAP_SHARE``.
    """
    made = _imperial(length) if length.notation in _IMPERIAL else _metric(length)
    merged: list[list[float | str]] = []
    for true_m, words, share in sorted(made, key=lambda t: (t[0], -t[2])):
        if true_m <= 0.0 or abs(true_m - length.m) < SAME_M:
            continue
        if merged and abs(true_m - float(merged[-1][0])) < SAME_M:
            last = merged[-1]
            if share > float(last[3]):
                last[1], last[3] = words, share
            last[2] = float(last[2]) + share
        else:
            merged.append([true_m, words, share, share])
    total = sum(float(row[2]) for row in merged)
    room = 1.0 - OTHER_SHARE - NEIGHBOUR_SHARE - SWAP_SHARE
    return tuple(
        Misreading(float(t), length.m - float(t), str(words), room * float(share) / total)
        for t, words, share, _ in merged
    )


def other_density(delta_m: float) -> float:
    """Prior density per metre of a slip that is no usual misreading: even in log |Δ|, flat below the least."""
    size = max(abs(delta_m), OTHER_LEAST_M)
    if size > OTHER_MOST_M:
        return 0.0
    return 1.0 / (2.0 * size * (1.0 + math.log(OTHER_MOST_M / OTHER_LEAST_M)))


def amount_words(delta_m: float, notation: str) -> str:
    """Say an amount that is no usual misreading, to the mark of a ruler: ``about 11 3/8" too many``."""
    many = "too many" if delta_m > 0 else "too few"
    return f"about {write(abs(delta_m), notation)} {many}, which is no usual misreading"


def write(length_m: float, notation: str) -> str:
    """Write a length in the notation that a reading was written in."""
    if notation == "in":
        return format_amount(length_m, Unit.FT_IN)
    if notation == "cm":
        return f"{100 * length_m:.1f} cm"
    return format_length(length_m, Unit(notation))


def snap(length_m: float, notation: str) -> float:
    """Round a length to the nearest mark of the ruler that the notation implies: 1/16 in, 0.01 ft or 1 mm."""
    mark = {"ft-in": INCH / 16, "in": INCH / 16, "ft": FOOT / 100}.get(notation, 1e-3)
    return round(length_m / mark) * mark


_Made = tuple[float, str, float]


def _too(count: int, one: str, several: str, sign: int) -> str:
    what = one if count == 1 else f"{count} {several}"
    return f"{what} too {'many' if sign > 0 else 'few'}"


def _whole(length: Length, table: dict[int, float], unit_m: float, one: str, several: str) -> Iterator[_Made]:
    for count, share in table.items():
        for sign in (1, -1):
            yield length.m - sign * count * unit_m, _too(count, one, several, sign), share


def _imperial(length: Length) -> Iterator[_Made]:
    yield from _whole(length, _IMPERIAL_FEET, FOOT, "a whole foot", "feet")
    yield length.m - FOOT, "a whole foot too many, as when the tape is started at its 1 ft mark", _STARTED_FOOT
    if length.notation == "ft":
        yield from _number(length)
        feet, tenths = divmod(round(length.m / FOOT * 10, 6), 10)
        if 0 < tenths < 10 and abs(tenths - round(tenths)) < 1e-6:
            true = (feet + tenths / 12) * FOOT
            yield true, f"feet and inches written as decimal feet: {feet:g}' {tenths:g}\" meant", _DECIMAL_FEET
        return
    yield from _whole(length, _IMPERIAL_INCHES, INCH, "a whole inch", "inches")
    yield length.m - INCH, "a whole inch too many, as when the tape is started at its 1 in mark", _STARTED_INCH
    sixteenths = round(length.m / INCH * 16)
    inches, part = divmod(sixteenths, 16)
    yield from _fractions(inches, part)
    left = length.m - sixteenths * INCH / 16  # nothing for a ruler's reading
    if length.notation == "in":
        for other, words, share in _digits(str(inches)):
            yield (int(other) + part / 16) * INCH + left, f'{words}: {inches}" written, {other}" meant', share
        return
    feet, inch = divmod(inches, 12)
    for other, words, share in _digits(str(feet)):
        true = (12 * int(other) + inch + part / 16) * INCH + left
        yield true, f"{words}: {feet}' written, {other}' meant", share
    for other, words, share in _digits(str(inch)):
        if int(other) < 12:
            true = (12 * feet + int(other) + part / 16) * INCH + left
            yield true, f'{words}: {inch}" written, {other}" meant', share
    if part == 0 and 0 < inch < 10:
        yield (feet + inch / 10) * FOOT, f"decimal feet written as feet and inches: {feet}.{inch} ft meant", 4.0


def _fractions(inches: int, part: int) -> Iterator[_Made]:
    """Eighths taken for sixteenths and the other way round, and a mark miscounted."""
    if part == 0:
        return
    whole_m = inches * INCH
    named = _fraction_text(part)
    for true, share in ((2 * part, 1.0), (part / 2, 1.0), (part + 2, 0.3), (part - 2, 0.3), (part + 4, 0.3),
                        (part - 4, 0.3), (part + 8, 0.4), (part - 8, 0.4), (16 - part, 0.3)):  # fmt: skip
        if 0 < true < 16 and true == int(true) and int(true) != part:
            words = f"eighth or sixteenth misnamed: {named} written, {_fraction_text(int(true))} meant"
            yield whole_m + true * INCH / 16, words, _FRACTION * share


def _metric(length: Length) -> Iterator[_Made]:
    yield from _whole(length, _METRES, 1.0, "a whole metre", "metres")
    yield from _whole(length, _DECIMETRES, 0.1, "100 mm", "× 100 mm")
    yield length.m - 0.1, "100 mm too many, as when the tape is started at its 100 mm mark", _STARTED_DECIMETRE
    yield from _whole(length, _CENTIMETRES, 0.01, "a whole centimetre", "centimetres")
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
    for other, words, share in _digits(text):
        yield length.m * float(other) / value, f"{words}: {text} written, {other} meant", share


def _digits(text: str) -> Iterator[tuple[str, str, float]]:
    """Every number that swapping two neighbouring digits, or mistaking one, makes of ``text``."""
    places = [i for i, c in enumerate(text) if c.isdigit()]
    for i, j in itertools.pairwise(places):
        if text[i] != text[j]:
            changed = list(text)
            changed[i], changed[j] = text[j], text[i]
            yield "".join(changed), "digits swapped", _SWAPPED_DIGITS
    for i in places:
        for a, b in _LOOK_ALIKE:
            if text[i] in (a, b):
                yield text[:i] + (b if text[i] == a else a) + text[i + 1 :], "digit misread", _LOOKED_ALIKE


def _fraction_text(sixteenths: int) -> str:
    over = 16
    while sixteenths % 2 == 0:
        sixteenths //= 2
        over //= 2
    return f"{sixteenths}/{over}"
