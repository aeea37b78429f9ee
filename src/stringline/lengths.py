"""Lengths as people write them: the only place that knows feet, inches, fractions and metric text.

Reading is exact (fractions inside) and refuses what could mean two things, saying which. Writing is to the nearest
1/16 in, 1 mm or 0.005 ft unless asked otherwise.
"""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from stringline.finding import Code, Finding, Refused, finding, nested

INCH_M = Fraction(254, 10_000)
FOOT_M = 12 * INCH_M
INCH, FOOT = float(INCH_M), float(FOOT_M)  # the same, m, where nothing has to be exact
LONGEST_M = 100_000  # no tape on a job is this long; beyond it a unit must be wrong
FARTHEST_M = 100_000_000  # a control point's coordinate may count from far away (state plane, UTM, geocentric)

FINEST_M = {"ft-in": INCH_M / 16, "ft": FOOT_M / 200, "m": Fraction(1, 1000), "mm": Fraction(1, 1000)}
"""What a length is written to in each unit, m."""

_METRIC = {"m": Fraction(1), "cm": Fraction(1, 100), "mm": Fraction(1, 1000)}
_RULER = (2, 4, 8, 16, 32, 64)


class Unit(StrEnum):
    """What bare numbers mean and how results read."""

    FT_IN = "ft-in"
    FT = "ft"
    M = "m"
    MM = "mm"

    @property
    def in_feet(self) -> bool:
        """Whether it is one of feet rather than of metres."""
        return self in (Unit.FT_IN, Unit.FT)


class LengthError(Refused):
    """A length that cannot be read: what is wrong with it and what would be right, both without a full stop."""

    def __init__(self, wrong: Code, right: Code) -> None:
        self.wrong = wrong
        self.right = right
        super().__init__(finding("faults.short", wrong=nested(wrong), right=nested(right)))


@dataclass(frozen=True, slots=True)
class Length:
    """A length read from text: metres, the text as written, and the notation it was written in.

    ``notation`` is one of ``ft-in``, ``ft``, ``in``, ``m``, ``cm``, ``mm``; slip hypotheses (a foot too many, digits
    swapped) are made in it. ``exact_m`` is the value without rounding. What was written, as numbers: ``feet`` and
    ``inches`` are the whole feet and whole inches (None where the notation has none), ``numerator``/``denominator``
    the ruler's fraction of an inch (0/1 where there was none), ``decimal`` the digits of a decimal number with a point
    (the inches in ``ft-in`` and ``in``, the whole in every other notation), None where there was no decimal point.
    """

    m: float
    text: str
    notation: str
    exact_m: Fraction | None = None
    feet: int | None = None
    inches: int | None = None
    numerator: int = 0
    denominator: int = 1
    decimal: str | None = None
    negative: bool = False


def parse(value: str | int | float, unit: Unit | None, *, signed: bool = False) -> Length:
    """Read a length; ``unit`` says what a bare number means (None: nothing, so only 0 may be bare).

    Raises LengthError for everything that is wrong or could mean two things. Negative only with ``signed``.
    """
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise LengthError(finding("lengths.no-length", text=repr(value)), _example(unit))
    if isinstance(value, float) and not math.isfinite(value):
        raise LengthError(finding("lengths.no-length", text=str(value)), _example(unit))
    if isinstance(value, int) and abs(value) > 10**12:
        raise LengthError("lengths.too-big", _example(unit))
    text = value.strip() if isinstance(value, str) else _plain_number(value)
    if not text:
        raise LengthError("lengths.empty", _example(unit))
    if len(text) > 60:
        raise LengthError("lengths.too-many-signs", _example(unit))
    body = _normalise(text)
    negative = body.startswith("-")
    body = body[1:].lstrip() if body[:1] in ("-", "+") else body
    found = _read(body, text, unit)
    assert found.exact_m is not None
    bound = FARTHEST_M if signed else LONGEST_M
    if abs(found.exact_m) > bound:
        raise LengthError(finding("lengths.too-long", text=text, km=bound // 1000), "lengths.check-unit")
    if not negative or found.exact_m == 0:
        return found
    if not signed:
        raise LengthError(finding("lengths.negative", text=text), "lengths.leave-minus-out")
    return _signed(found)


def metres(m: float) -> Length:
    """A length that was worked out and not read, as if written in metres with all its digits.

    >>> metres(0.1).text, metres(-2.5e-3).m
    ('0.1 m', -0.0025)
    """
    return parse(f"{Decimal(repr(float(m))):f} m", None, signed=True)


def format_length(m: float | Fraction, unit: Unit, *, step: float | Fraction | None = None) -> str:
    """Write metres in ``unit``, as ``12' 3 1/2"``, ``12.295 ft``, ``3.747 m`` or ``3747 mm``.

    ``step`` is what to round to, in metres: None for 1/16 in, 0.005 ft or 1 mm. In feet and inches it must be a
    ruler's fraction of an inch, else ValueError; a value that is not finite also raises ValueError.
    """
    x = _exact(m)
    if unit is Unit.FT_IN:
        sixteenths, per_inch = _in_steps(x, step)
        feet, rest = divmod(abs(sixteenths), 12 * per_inch)
        sign = "-" if sixteenths < 0 else ""
        if feet == 0:
            return f"{sign}{_inch_text(rest, per_inch)}"
        # After feet the whole inches are always there: 18' 5/16" is one glance away from 18' 5 1/16".
        whole = "0 " if 0 < rest < per_inch else ""
        return f"{sign}{feet}' {whole}{_inch_text(rest, per_inch)}"
    if unit is Unit.FT:
        return f"{_decimal(x / FOOT_M, Fraction(1, 200) if step is None else _exact(step) / FOOT_M)} ft"
    mm = Fraction(1) if step is None else _exact(step) * 1000
    if unit is Unit.MM:
        return f"{_decimal(x * 1000, mm)} mm"
    return f"{_decimal(x, mm / 1000)} m"


def format_inches(m: float | Fraction, *, step: float | Fraction | None = None) -> str:
    """Write a small amount in inches alone, however many: ``18 1/4"``. ``step`` as in :func:`format_length`."""
    steps, per_inch = _in_steps(_exact(m), step)
    return f"{'-' if steps < 0 else ''}{_inch_text(abs(steps), per_inch)}"


def format_amount(m: float | Fraction, unit: Unit, *, step: float | Fraction | None = None) -> str:
    """Write a small amount, such as a residual, in inches, or in a metric job in millimetres."""
    if unit in (Unit.FT_IN, Unit.FT):
        return format_inches(m, step=step)
    return format_length(m, Unit.MM, step=step)


# --- reading ---------------------------------------------------------------------------------------------------------

_SINGLE = dict.fromkeys(map(ord, "′’‘‛ʹʼ´`"), "'")
_DOUBLE = dict.fromkeys(map(ord, "″”“„‟ʺ〃"), '"')
_DASH = dict.fromkeys(map(ord, "−–—‐‑‒"), "-")
_MARKS = _SINGLE | _DOUBLE | _DASH | {ord("⁄"): "/", ord("∕"): "/"}

_N = r"(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)"
_FRACTION = r"[0-9]+ ?/ ?[0-9]+"
_INCHES = rf"(?:(?P<inch>{_N})(?:[ -]+(?P<part>{_FRACTION}))?|(?P<only>{_FRACTION}))"
_FT = r"(?:'|ft\.?|foot|feet)"
_IN = r"(?:\"|in\.?|inch|inches)"
_FEET_INCHES = re.compile(rf"(?P<feet>{_N}) ?{_FT}(?: ?-? ?{_INCHES} ?{_IN}?)?")
_INCHES_ONLY = re.compile(rf"{_INCHES} ?{_IN}")
_DASHED = re.compile(rf"(?P<feet>[0-9]+) ?- ?(?P<inch>{_N})(?:[ -]+(?P<part>{_FRACTION}))?(?P<mark> ?{_IN})?")
_METRIC_TEXT = re.compile(
    rf"(?P<number>{_N}) ?(?P<unit>mm|cm|m|millimet(?:er|re)s?|centimet(?:er|re)s?|met(?:er|re)s?)\.?"
)
_BARE = re.compile(_N)
_BARE_FRACTION = re.compile(rf"(?:(?P<whole>[0-9]+)[ -]+)?(?P<part>{_FRACTION})")
_FEET_FRACTION = re.compile(rf"(?:(?P<whole>[0-9]+)[ -]+)?(?P<part>{_FRACTION}) ?{_FT}.*")
_NO_FOOT_MARK = re.compile(rf"(?P<feet>[0-9]+) +{_INCHES} ?{_IN}?")


def _normalise(text: str) -> str:
    """One spelling of marks, dashes, spaces and fraction glyphs; lower case."""
    out: list[str] = []
    for ch in text.translate(_MARKS):
        spelt = unicodedata.normalize("NFKC", ch) if ord(ch) > 127 else ch
        out.append(f" {spelt.replace('⁄', '/')} " if "⁄" in spelt else " " if spelt.isspace() else spelt)
    body = re.sub(r" +", " ", "".join(out)).strip().casefold().replace("''", '"')
    return re.sub(r" ([\"'])", r"\1", re.sub(r"^([-+]) ", r"\1", body))


def _read(body: str, text: str, unit: Unit | None) -> Length:
    if m := _METRIC_TEXT.fullmatch(body):
        return _metric(m["number"], _METRIC_WORDS[m["unit"][:2]], text)
    if m := _FEET_INCHES.fullmatch(body):
        return _imperial(m["feet"], m["inch"], m["part"] or m["only"], text)
    if m := _INCHES_ONLY.fullmatch(body):
        return _imperial(None, m["inch"], m["part"] or m["only"], text)
    if m := _DASHED.fullmatch(body):
        if m["part"] is None and m["mark"] is None and unit not in (Unit.FT_IN, Unit.FT):
            values = {"feet": m["feet"], "inches": m["inch"]}
            raise LengthError(finding("lengths.range", text=text, **values), finding("lengths.no-range", **values))
        return _imperial(m["feet"], m["inch"], m["part"], text)
    if _BARE.fullmatch(body):
        return _bare(body, text, unit)
    raise _unreadable(body, text, unit)


_METRIC_WORDS = {"m": "m", "me": "m", "cm": "cm", "ce": "cm", "mm": "mm", "mi": "mm"}


def _imperial(feet: str | None, inch: str | None, part: str | None, text: str) -> Length:
    foot = None if feet is None else _number(feet, text)
    whole = Fraction(0) if inch is None else _number(inch, text)
    fraction, numerator, denominator = _ruler(part, whole, foot, text)
    if foot is not None and inch is None and part is None:
        if foot.denominator == 1 and feet is not None and feet.isdigit():
            return Length(float(foot * FOOT_M), text, "ft-in", foot * FOOT_M, int(foot), 0)
        return Length(float(foot * FOOT_M), text, "ft", foot * FOOT_M, int(foot), decimal=_point(feet))
    decimal = _point(inch)
    if foot is not None and _point(feet) is not None:
        both = format_length(foot * FOOT_M + (whole + fraction) * INCH_M, Unit.FT_IN, step=INCH_M / 64)
        raise LengthError(finding("lengths.decimal-feet", text=text), finding("lengths.one-such-as", meant=both))
    if decimal is not None and part is not None:
        raise LengthError(finding("lengths.decimal-inches", text=text), "lengths.one-or-other")
    inches = whole + fraction
    if foot is not None and inches >= 12:
        carried = format_length(foot * FOOT_M + inches * INCH_M, Unit.FT_IN, step=INCH_M / 64)
        raise LengthError(
            finding("lengths.inches-past-foot", text=text, inches=_mixed(inches)),
            finding("lengths.if-meant-else-look", meant=carried),
        )
    exact = (foot or 0) * FOOT_M + inches * INCH_M
    notation = "in" if foot is None else "ft-in"
    return Length(
        float(exact),
        text,
        notation,
        exact,
        None if foot is None else int(foot),
        int(whole),
        numerator,
        denominator,
        decimal,
    )


def _ruler(part: str | None, whole: Fraction, foot: Fraction | None, text: str) -> tuple[Fraction, int, int]:
    """The fraction of an inch as value, numerator, denominator; refuses one that no ruler has."""
    if part is None:
        return Fraction(0), 0, 1
    numerator, denominator = (int(p) for p in part.split("/"))
    if denominator == 0:
        raise LengthError(finding("lengths.divides-by-nothing", text=text), "lengths.ruler-fraction")
    if denominator not in _RULER:
        near = round(Fraction(numerator, denominator) * 16)
        raise LengthError(
            finding("lengths.no-ruler-has", text=text, part=f"{numerator}/{denominator}"),
            finding("lengths.nearest-16th", nearest=_mixed(Fraction(near, 16))),
        )
    if numerator == 0:
        raise LengthError(
            finding("lengths.fraction-of-nothing", text=text, part=f"0/{denominator}"), "lengths.leave-out"
        )
    if numerator >= denominator:
        whole_m = (foot or 0) * FOOT_M + (whole + Fraction(numerator, denominator)) * INCH_M
        meant = format_length(whole_m, Unit.FT_IN, step=INCH_M / 64) if foot is not None else format_inches(whole_m)
        raise LengthError(
            finding("lengths.fraction-past-inch", text=text, part=f"{numerator}/{denominator}"),
            finding("lengths.if-meant-else-look", meant=meant),
        )
    return Fraction(numerator, denominator), numerator, denominator


def _metric(number: str, unit: str, text: str) -> Length:
    exact = _number(number, text) * _METRIC[unit]
    return Length(float(exact), text, unit, exact, decimal=_point(number))


def _bare(number: str, text: str, unit: Unit | None) -> Length:
    value = _number(number, text)
    if unit is Unit.FT:
        return Length(float(value * FOOT_M), text, "ft", value * FOOT_M, int(value), decimal=_point(number))
    if unit is not None and unit is not Unit.FT_IN:
        return _metric(number, str(unit), text)
    if value == 0:
        return Length(0.0, text, "ft-in", Fraction(0), 0, 0)
    if unit is None:
        raise LengthError(finding("lengths.no-unit", text=text), finding("lengths.with-unit", text=text))
    raise LengthError(finding("lengths.feet-or-inches", text=text), finding("lengths.with-mark", text=text))


def _number(digits: str, text: str) -> Fraction:
    """A decimal number; a comma is a decimal mark unless it could be one between thousands."""
    if "," in digits:
        head, tail = digits.split(",")
        if len(tail) == 3 and head not in ("", "0"):
            wrong = finding("lengths.comma", text=text, whole=f"{head}{tail}", decimal=f"{head}.{tail}")
            raise LengthError(wrong, "lengths.no-comma")
        digits = f"{head}.{tail}"
    return Fraction(f"0{digits}")


def _point(digits: str | None) -> str | None:
    """The digits with a point where the number was a decimal one, else None."""
    if digits is None or digits.isdigit():
        return None
    return digits.replace(",", ".")


def _unreadable(body: str, text: str, unit: Unit | None) -> LengthError:
    """The most helpful refusal for text that no form fits."""

    def wrong(code: str) -> Finding:
        return finding(code, text=text)

    if m := _BARE_FRACTION.fullmatch(body):
        if m["whole"] is None:
            return LengthError(wrong("lengths.part-of-what"), finding("lengths.for-inches", text=text))
        return LengthError(
            wrong("lengths.inches-or-feet-and-part"),
            finding("lengths.for-inches-or-feet", whole=m["whole"], part=m["part"]),
        )
    if m := _FEET_FRACTION.fullmatch(body):
        return LengthError(wrong("lengths.part-of-foot"), "lengths.feet-and-inches")
    if _METRIC_TEXT.search(body) and re.search(_IN + "|" + _FT, body):
        return LengthError(wrong("lengths.mixed"), "lengths.one-of-them")
    if len(re.findall(r"[.,]", body)) > 1:
        return LengthError(wrong("lengths.two-points"), "lengths.one-point")
    if m := _NO_FOOT_MARK.fullmatch(body):
        part = m["part"] or m["only"]
        meant = " ".join(p for p in (f"{m['feet']}'", m["inch"] or "0", part) if p) + '"'
        return LengthError(wrong("lengths.which-is-feet"), finding("lengths.if-meant", meant=meant))
    if re.search(r"[0-9]e[-+]?[0-9]", body):
        return LengthError(wrong("lengths.power-of-ten"), "lengths.in-full")
    return LengthError(wrong("lengths.unreadable"), _example(unit))


def _example(unit: Unit | None) -> str:
    return "lengths.write-with-unit" if unit is None else _EXAMPLES[unit]


_EXAMPLES = {
    Unit.FT_IN: "lengths.write-ft-in",
    Unit.FT: "lengths.write-ft",
    Unit.M: "lengths.write-m",
    Unit.MM: "lengths.write-mm",
}


def _plain_number(value: int | float) -> str:
    """A number's digits without a power of ten."""
    text = repr(value)
    return f"{value:.12f}".rstrip("0").rstrip(".") if "e" in text else text


def _signed(found: Length) -> Length:
    assert found.exact_m is not None
    return Length(
        -found.m,
        found.text,
        found.notation,
        -found.exact_m,
        found.feet,
        found.inches,
        found.numerator,
        found.denominator,
        found.decimal,
        True,
    )


# --- writing ---------------------------------------------------------------------------------------------------------


def _exact(x: float | Fraction) -> Fraction:
    if isinstance(x, float) and not math.isfinite(x):
        raise ValueError("a length to be written must be finite")
    return Fraction(x)


def _nearest(x: Fraction) -> int:
    """The nearest whole number, halves away from zero."""
    whole = math.floor(abs(x) + Fraction(1, 2))
    return whole if x >= 0 else -whole


def _in_steps(x: Fraction, step: float | Fraction | None) -> tuple[int, int]:
    """Value as a whole number of steps, and the steps in an inch."""
    part = Fraction(1, 16) if step is None else (_exact(step) / INCH_M).limit_denominator(128)
    if part.numerator != 1 or part.denominator not in (1, *_RULER):
        raise ValueError("feet and inches are written to a ruler's fraction of an inch: 1, 1/2, 1/4 … 1/64")
    return _nearest(x / INCH_M / part), part.denominator


def _inch_text(steps: int, per_inch: int) -> str:
    return f'{_mixed(Fraction(steps, per_inch))}"'


def _mixed(x: Fraction) -> str:
    """``6 1/2``, ``6``, ``1/2`` or ``0``; a fraction no ruler has as a decimal."""
    whole, rest = divmod(x, 1)
    if rest == 0:
        return str(whole)
    if rest.denominator not in _RULER:
        return f"{float(x):g}"
    part = f"{rest.numerator}/{rest.denominator}"
    return part if whole == 0 else f"{whole} {part}"


def _decimal(x: Fraction, step: Fraction) -> str:
    """Value rounded to ``step``, with as many digits as the step needs."""
    if step <= 0:
        raise ValueError("the step to round to must be more than 0")
    rounded = _nearest(x / step) * step
    digits = 0
    while digits < 9 and abs(step * 10**digits - _nearest(step * 10**digits)) > Fraction(1, 10**6) * step * 10**digits:
        digits += 1
    return f"{_nearest(rounded * 10**digits) / 10**digits:.{digits}f}"
