"""A voice: says findings in one person's unit and language.

What a value is written as follows from the end of its name:

=========== ==================================== =========== ===========================
``_m``      a length in the job's unit           ``_s``      a time
``_n``      a force                              ``_w``      a power
``_nm``     a torque                             ``_a``      a current
``_n_m``    a stiffness                          ``_v``      a voltage
``_m2``     an area                              ``_kg``     a mass
``_m3``     a volume                             ``_rad``    an angle, in degrees
``_m_s``    a speed                              ``_share``  a share or probability, in %
=========== ==================================== =========== ===========================

A whole number and a text are written as they are; None as nothing; a finding in its own words; a tuple with commas
between. A word behind a colon chooses another way, and ``+`` before it asks for a sign:

=============== ======================================================================================
``small``       a decimal of inches or millimetres
``tolerance``   the same, never nought
``amount``      inches or millimetres as cut
``setting``     an amount that somebody takes up, to 1/8 in or 1 mm
``drill``       as a drill is marked
``down``        a length, rounded down
``tiny``        a length, or a decimal where that would be nought
``roughly``     a length to a quarter of a foot
``degrees``     an angle to a tenth of a degree
``percent``     a share in whole percent
``chance``      the same, certainty never claimed
``odds``        25 to 1
``date``        the year first
``spread``      ± 2σ of the value's kind
``read``        a reading as it was written
``.2``          two decimals
``plain``       a number with no more digits than it has
``and`` ``or``  a list with that word before its last
``;`` and blank a list with semicolons, or nothing but a blank between
``lines``       a list, one below the other
``sentences``   a list, each with a capital and a full stop
``@group``      the words of code ``group.value``
``cap`` ``low`` with its first letter a capital or not
=============== ======================================================================================
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable
from enum import Enum
from typing import Any

from stringline.finding import Code, Finding
from stringline.lengths import Unit, format_amount
from stringline.limits import GUARD
from stringline.sheets import quantities
from stringline.sheets.language import ENGLISH, Language
from stringline.sheets.words import CHAPTERS, english
from stringline.worked import Figure, Kind

_FIELD = re.compile(r"\{(\w+)(?::([^{}]*))?\}")

KINDS: dict[str, Kind] = {
    "_m": Kind.LENGTH,
    "_n": Kind.FORCE,
    "_nm": Kind.TORQUE,
    "_n_m": Kind.STIFFNESS,
    "_m2": Kind.AREA,
    "_m3": Kind.VOLUME,
    "_m_s": Kind.SPEED,
    "_s": Kind.TIME,
    "_w": Kind.POWER,
    "_a": Kind.CURRENT,
    "_v": Kind.VOLTAGE,
    "_kg": Kind.MASS,
    "_rad": Kind.ANGLE,
    "_share": Kind.PROBABILITY,
}
_BY_LENGTH = sorted(KINDS, key=len, reverse=True)


class Voice:
    """Words for one person: the unit that lengths are read in, and the language."""

    def __init__(self, unit: Unit, language: Language = ENGLISH) -> None:
        self.unit = unit
        self.language = language

    def say(self, said: Code) -> str:
        """A finding in words. Raises KeyError for a code without words, or for words that need a value it lacks.

        A text that is no code, as somebody wrote it, is said as it stands.
        """
        code, values = (said, {}) if isinstance(said, str) else (said.code, dict(said.values))
        if code.partition(".")[0] not in CHAPTERS:
            return code
        text = self.language.text(code, english(code), int(values.get("n", 1)))
        return _FIELD.sub(lambda m: self._field(m[1], values[m[1]], m[2] or ""), text)

    def cap(self, said: Code) -> str:
        """A finding in words, with a capital to begin with."""
        text = self.say(said)
        return text[:1].upper() + text[1:]

    def all(self, said: Iterable[Code]) -> list[str]:
        """Each of several findings in words."""
        return [self.say(s) for s in said]

    def sentences(self, said: Iterable[Code]) -> str:
        """Several findings as sentences one after the other."""
        return " ".join(t for t in self.all(said) if t)

    def amount(self, value: float, kind: Kind) -> str:
        """A value in the SI unit of its kind, as a sheet prints it."""
        return self.say(quantities.amount(value, kind, self.unit))

    def length(self, m: float) -> str:
        """A length in the job's unit."""
        return quantities.length(m, self.unit)

    def small(self, m: float, *, sign: bool = False) -> str:
        """A small length as a decimal."""
        return quantities.small(m, self.unit, sign=sign)

    def tolerance(self, m: float) -> str:
        """A small length above nought that must not read as nought."""
        return self.say(quantities.tolerance(m, self.unit))

    def spread(self, sigma: float | None, kind: Kind = Kind.LENGTH, *, times: float = GUARD) -> str:
        """± 2σ; empty where no σ is known."""
        return self.say(quantities.spread(sigma, kind, self.unit, times=times))

    def figure(self, figure: Figure) -> str:
        """A figure's value with its ± 2σ where that is known."""
        return f"{self.amount(figure.value, figure.kind)} {self.spread(figure.sigma, figure.kind)}".rstrip()

    def label(self, figure: Figure) -> str:
        """What a figure is called."""
        return self.say(figure.label)

    def _field(self, name: str, value: Any, spec: str) -> str:
        if value is None:
            return ""
        if isinstance(value, tuple):
            return self._joined([self._field(name, v, "" if spec in _JOINS else spec) for v in value], spec)
        if spec in ("cap", "low"):
            plain = self._field(name, value, "")
            return (plain[:1].upper() if spec == "cap" else plain[:1].lower()) + plain[1:]
        if spec.startswith("@"):
            return self.say(f"{spec[1:]}.{value.value if isinstance(value, Enum) else value}")
        if isinstance(value, Finding):
            return self.say(value)
        if isinstance(value, Figure):
            return self.figure(value)
        if spec:
            return self._as_asked(name, value, spec)
        if isinstance(value, float):
            kind = kind_of(name)
            if kind is None:
                raise KeyError(f"the value '{name}' is a number whose name does not end in a unit")
            return self.length(value) if kind is Kind.LENGTH else self.amount(value, kind)
        return str(value.value if isinstance(value, Enum) else value)

    def _joined(self, parts: list[str], spec: str) -> str:
        if spec == "lines":
            return "\n".join(parts)
        if spec in ("and", "or") and len(parts) > 1:
            return self.say(Finding(f"common.{spec}", (("first", ", ".join(parts[:-1])), ("last", parts[-1]))))
        if spec == "sentences":
            return " ".join(f"{p[:1].upper()}{p[1:]}." for p in parts)
        return {";": "; ", " ": " ", "|": " | "}.get(spec, ", ").join(parts)

    def _as_asked(self, name: str, value: Any, spec: str) -> str:
        signed, spec = spec.startswith("+"), spec.removeprefix("+")
        if spec.startswith("."):
            return quantities.decimal(value, int(spec[1:]), sign=signed)
        if spec == "small":
            return self.small(value, sign=signed)
        if spec == "amount" and signed:
            mark = "+" if value > 0 else quantities.MINUS if value < 0 else ""
            return mark + format_amount(abs(value), self.unit)
        if spec == "spread":
            return self.spread(value, kind_of(name) or Kind.RATIO)
        made = _WAYS[spec](value, self.unit)
        return self.say(made) if isinstance(made, Finding) or spec == "odds" else made


_JOINS = ("and", "or", "lines", ";", " ", "|", "sentences")
_WAYS: dict[str, Callable[[Any, Unit], Code]] = {
    "length": quantities.length,
    "tolerance": quantities.tolerance,
    "tiny": quantities.tiny,
    "roughly": quantities.roughly,
    "read": quantities.as_read,
    "amount": format_amount,
    "drill": quantities.drill,
    "down": quantities.down,
    "setting": quantities.setting,
    "plain": lambda v, _: f"{v:g}",
    "percent": lambda p, _: quantities.percent(p),
    "degrees": lambda rad, _: f"{quantities.decimal(math.degrees(rad), 1)}°",
    "chance": lambda p, _: quantities.chance(p),
    "odds": lambda o, _: quantities.odds(o),
    "date": lambda d, _: quantities.date(d),
}


def kind_of(name: str) -> Kind | None:
    """The kind of value that a name's ending says; None where it says none.

    >>> kind_of("gauge_m").value, kind_of("pull_n_m").value, kind_of("count")
    ('length', 'stiffness', None)
    """
    ending = next((e for e in _BY_LENGTH if name.endswith(e) or name == e[1:]), None)
    return None if ending is None else KINDS[ending]
