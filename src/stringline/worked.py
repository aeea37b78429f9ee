"""A number that can be checked: its value, what it is made of, how sure it is, and who says so."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from stringline.finding import Code, code_of
from stringline.sources import require


class Kind(StrEnum):
    """What a value measures; the SI unit it is held in stands behind the name."""

    LENGTH = "length"  # m
    ANGLE = "angle"  # rad
    AREA = "area"  # m²
    VOLUME = "volume"  # m³
    COUNT = "count"  # 1, whole
    RATIO = "ratio"  # 1
    PROBABILITY = "probability"  # 1
    FORCE = "force"  # N
    TORQUE = "torque"  # N·m
    STIFFNESS = "stiffness"  # N/m
    MASS = "mass"  # kg
    TIME = "time"  # s
    SPEED = "speed"  # m/s
    POWER = "power"  # W
    CURRENT = "current"  # A
    VOLTAGE = "voltage"  # V
    TURNS = "turns"  # revolutions


class Origin(StrEnum):
    """Where a number comes from."""

    MEASURED = "measured"
    CHOSEN = "chosen"
    CATALOGUE = "catalogue"
    PRACTICE = "practice"
    DERIVED = "derived"


@dataclass(frozen=True, slots=True)
class Term:
    """One signed, labelled contribution to a figure, in the figure's own SI unit.

    ``source`` is a key of :mod:`stringline.sources`; an unknown key raises KeyError. ``kind`` is None where it is the
    figure's own; an input to a rule may be of another.
    """

    label: Code
    value: float
    origin: Origin
    source: str | None = None
    sigma: float | None = None
    kind: Kind | None = None

    def __post_init__(self) -> None:
        if self.source is not None:
            require(self.source)
        if not math.isfinite(self.value):
            raise ValueError(f"term '{self.label}' is not a finite number")


@dataclass(frozen=True, slots=True)
class Figure:
    """A value with its kind, its σ where known, and its working.

    Without a ``rule`` the terms add up to the value, and a mismatch raises ValueError. With a ``rule`` the terms are
    the inputs to the formula that the rule states in words a person could follow on paper.
    """

    label: Code
    value: float
    kind: Kind
    origin: Origin
    terms: tuple[Term, ...] = ()
    sigma: float | None = None
    source: str | None = None
    rule: Code | None = None

    def __post_init__(self) -> None:
        if self.source is not None:
            require(self.source)
        if not math.isfinite(self.value):
            raise ValueError(f"figure '{self.label}' is not a finite number")
        if self.terms and self.rule is None:
            total = math.fsum(t.value for t in self.terms)
            if abs(total - self.value) > 1e-9 * max(1.0, abs(self.value)):
                raise ValueError(f"figure '{self.label}': its terms add to {total!r}, not {self.value!r}")

    @property
    def key(self) -> str:
        """The code of its label: it stands in one file of the engineering, the one that works the figure out."""
        return code_of(self.label)

    @classmethod
    def sum(
        cls,
        label: Code,
        terms: Iterable[Term],
        *,
        kind: Kind = Kind.LENGTH,
        sigma: float | None = None,
        source: str | None = None,
    ) -> Figure:
        """Add the terms up. σ is their root sum of squares unless given (give it where terms are correlated)."""
        parts = tuple(terms)
        if sigma is None:
            known = [t.sigma for t in parts if t.sigma is not None]
            sigma = math.sqrt(math.fsum(s * s for s in known)) if known else None
        value = math.fsum(t.value for t in parts)
        return cls(label, value, kind, Origin.DERIVED, parts, sigma, source)

    @classmethod
    def single(
        cls,
        label: Code,
        value: float,
        origin: Origin,
        *,
        kind: Kind = Kind.LENGTH,
        sigma: float | None = None,
        source: str | None = None,
    ) -> Figure:
        """Take a number straight from a tape, a catalogue, a choice or practice."""
        return cls(label, value, kind, origin, (), sigma, source)

    @classmethod
    def by_rule(
        cls,
        label: Code,
        value: float,
        rule: Code,
        inputs: Iterable[Term],
        *,
        kind: Kind = Kind.LENGTH,
        sigma: float | None = None,
        source: str | None = None,
    ) -> Figure:
        """Record a value computed by a formula that is not a plain sum, with the formula in words and its inputs."""
        return cls(label, value, kind, Origin.DERIVED, tuple(inputs), sigma, source, rule)

    def term(self, label: Code | None = None, *, times: float = 1.0) -> Term:
        """Use this figure as a term of another one, scaled by ``times`` (−1 to take it away)."""
        sigma = None if self.sigma is None else abs(times) * self.sigma
        return Term(label or self.label, times * self.value, self.origin, self.source, sigma)
