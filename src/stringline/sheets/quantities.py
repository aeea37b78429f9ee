"""Values as a person reads them: lengths in the job's unit, other kinds in units that a crew knows.

What needs no word comes as text; what may need one (*under*, *about even*) comes as a code for a voice to say.
"""

from __future__ import annotations

import datetime
import math
from fractions import Fraction

from stringline.finding import Code, finding
from stringline.lengths import FINEST_M, FOOT, INCH, INCH_M, Unit, format_amount, format_inches, format_length
from stringline.limits import GUARD
from stringline.worked import Kind

MINUS = "\u2212"
PLUS_MINUS = "\u00b1"

# What one SI unit is in the customary unit printed beside it, for jobs in feet: factor, name, decimals.
_CUSTOMARY: dict[Kind, tuple[float, str, int]] = {
    Kind.AREA: (FOOT**-2, "ft²", 1),
    Kind.VOLUME: (FOOT**-3, "ft³", 1),
    Kind.FORCE: (0.2248089430997105, "lbf", 0),
    Kind.TORQUE: (0.7375621492772656, "lbf·ft", 1),
    Kind.STIFFNESS: (0.06852176585679176, "lbf/ft", 2),
    Kind.MASS: (2.2046226218487757, "lb", 1),
    Kind.SPEED: (60 / FOOT, "ft/min", 1),
}
_METRIC: dict[Kind, tuple[float, str, int]] = {
    Kind.AREA: (1.0, "m²", 2),
    Kind.VOLUME: (1.0, "m³", 3),
    Kind.FORCE: (1.0, "N", 0),
    Kind.TORQUE: (1.0, "N·m", 1),
    Kind.STIFFNESS: (1.0, "N/m", 1),
    Kind.MASS: (1.0, "kg", 1),
    Kind.SPEED: (60.0, "m/min", 1),
    Kind.ANGLE: (180.0 / math.pi, "°", 3),
    Kind.PROBABILITY: (100.0, "%", 1),
    Kind.RATIO: (1.0, "", 3),
    Kind.TIME: (1.0, "s", 0),
    Kind.POWER: (1.0, "W", 0),
    Kind.CURRENT: (1.0, "A", 1),
    Kind.VOLTAGE: (1.0, "V", 1),
    Kind.TURNS: (1.0, "turns", 2),
}

# What a small length is divided by, its name, and its decimals.
_SMALL: dict[Unit, tuple[float, str, int]] = {
    Unit.FT_IN: (INCH, "in", 2),
    Unit.FT: (FOOT, "ft", 3),
    Unit.M: (0.001, "mm", 1),
    Unit.MM: (0.001, "mm", 1),
}

_IN_MM_M = 0.1
_AS_GAUGED_M = 0.002


def length(m: float, unit: Unit) -> str:
    """A length in the job's unit, with a true minus sign."""
    text = format_length(m, unit)
    return MINUS + text[1:] if text.startswith("-") else text


def down(m: float, unit: Unit) -> str:
    """A length written down to what a tape in that unit reads, never up: nothing is said to be longer than it is."""
    step = FINEST_M[unit]
    return format_length(Fraction(m + 1e-7) // step * step, unit)


def small(m: float, unit: Unit, *, sign: bool = False) -> str:
    """A small length such as a residual or a σ as a decimal: inches, feet or millimetres as the job reads."""
    factor, name, places = _SMALL[unit]
    return f"{decimal(m / factor, places, sign=sign)} {name}"


def tolerance(m: float, unit: Unit) -> Code:
    """A small positive length that must not read as nought: *under* the last decimal where it would."""
    text = small(m, unit)
    if m > 0.0 and float(text.split()[0]) == 0.0:
        _, name, places = _SMALL[unit]
        return finding("common.under", amount=f"{10.0**-places:.{places}f} {name}")
    return as_it_is(text)


def tiny(m: float, unit: Unit) -> str:
    """A length as :func:`length` writes it, or as a decimal where that would read as nought."""
    return length(m, unit) if abs(m) >= 0.0016 or m == 0.0 else small(m, unit)


def drill(m: float, unit: Unit) -> str:
    """A drill's size, as a drill is marked: to a 64th of an inch, or a tenth of a millimetre."""
    if unit in (Unit.FT_IN, Unit.FT):
        return format_inches(m, step=INCH_M / 64)
    return format_length(m, Unit.MM, step=Fraction(1, 10_000))


def setting(m: float, unit: Unit) -> str:
    """An amount above nought that somebody takes up or grinds off: to 1/8 in or 1 mm, below 2 mm as a gauge reads."""
    metric = unit in (Unit.M, Unit.MM)
    if m < _AS_GAUGED_M:
        return f"{decimal(m * 1000.0, 2)} mm" if metric else f"{decimal(m / INCH, 4)} in"
    return format_amount(m, unit, step=None if metric else INCH / 8)


def as_read(text: str, unit: Unit) -> str:
    """A reading as it was written down; a bare number with the unit that it counts in."""
    bare = text.replace(".", "", 1).isdecimal() and text.strip("0.") != ""
    return f"{text} {unit.value}" if bare else text


def chance(p: float) -> Code:
    """A chance in whole percent; certainty is never claimed."""
    if p > 0.99 or p < 0.01:
        return finding("common.over" if p > 0.99 else "common.under", amount="99 %" if p > 0.99 else "1 %")
    return as_it_is(f"{100.0 * p:.0f} %")


def percent(share: float) -> str:
    """A share in whole percent."""
    return f"{decimal(100.0 * share, 0)} %"


def odds(value: float) -> Code:
    """Odds as a person says them: ``25 to 1``, ``about even``, ``1 to 3``; none that is worked out is beyond 1000."""
    if 0.8 < value < 1.25:
        return "common.odds.even"
    if value >= 1000.0 or value < 0.001:
        return "common.odds.over" if value > 1.0 else "common.odds.under"
    if value < 1.0:
        return finding("common.odds.against", odds=f"{1.0 / value:.3g}")
    return finding("common.odds.for", odds=f"{value:.0f}" if value >= 10.0 else f"{value:.1f}")


def as_it_is(text: str) -> Code:
    """A text that needs no word of ours."""
    return finding("common.as-written", text=text)


def date(value: str | datetime.date) -> str:
    """A day as the books write it: the year first, so that nobody takes the month for the day."""
    return value if isinstance(value, str) else value.isoformat()


def roughly(m: float, unit: Unit) -> str:
    """A length that is known only from a sketch: to 3 inches, a quarter of a foot or 0.1 m."""
    if unit in (Unit.FT_IN, Unit.FT):
        return length(round(m / (3 * INCH)) * 3 * INCH, unit)
    return f"{decimal(m, 1)} m" if unit is Unit.M else f"{decimal(round(m * 10) * 100, 0)} mm"


def decimal(value: float, places: int, *, sign: bool = False) -> str:
    """A decimal with a true minus sign; never a negative zero."""
    text = f"{value:.{places}f}"
    if float(text) == 0.0:
        return text.lstrip("-")
    if text.startswith("-"):
        return MINUS + text[1:]
    return f"+{text}" if sign else text


def amount(value: float, kind: Kind, unit: Unit) -> Code:
    """A value held in the SI unit of its kind, as the sheet prints it."""
    if kind is Kind.LENGTH:
        # In a job in metres a few millimetres read as such: 6.2 mm against 6.4 mm, not 0.006 m against 0.006 m.
        return as_it_is(small(value, unit) if unit is Unit.M and abs(value) < _IN_MM_M else length(value, unit))
    if kind is Kind.COUNT:
        return as_it_is(decimal(value, 0))
    if kind is Kind.PROBABILITY and not 0.0005 <= value < 0.9995:
        # None that is worked out is certain or impossible.
        high = value > 0.5
        return finding("common.over" if high else "common.under", amount="99.9 %" if high else "0.1 %")
    factor, name, places = _scale(kind, unit)
    if kind is Kind.RATIO and abs(value) >= 10.0:
        places = 1
    return _with_unit(decimal(value * factor, places), name)


def spread(sigma: float | None, kind: Kind, unit: Unit, *, times: float = GUARD) -> Code:
    """``± 2σ`` in words, or an empty text where no σ is known."""
    if sigma is None:
        return "common.nothing"
    if kind is Kind.LENGTH:
        return finding("common.plus-minus", amount=tolerance(times * sigma, unit))
    if kind is Kind.COUNT:
        return finding("common.plus-minus", amount=as_it_is(decimal(times * sigma, 1)))
    factor, name, places = _scale(kind, unit)
    text = decimal(times * sigma * factor, places)
    if sigma > 0.0 and float(text) == 0.0:
        return finding(
            "common.plus-minus", amount=finding("common.under", amount=_with_unit(f"{10.0**-places:.{places}f}", name))
        )
    return finding("common.plus-minus", amount=_with_unit(text, name))


def _with_unit(number: str, name: str) -> Code:
    if name == "turns":
        return finding("common.turns", turns=number)
    return as_it_is(number + name if name == "°" else f"{number} {name}".rstrip())


def _scale(kind: Kind, unit: Unit) -> tuple[float, str, int]:
    if unit in (Unit.FT_IN, Unit.FT) and kind in _CUSTOMARY:
        return _CUSTOMARY[kind]
    return _METRIC[kind]
