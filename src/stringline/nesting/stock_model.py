"""The cutting problem in the solver's words: kinds of piece, kinds of stick, and what a plan costs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import reduce
from math import gcd

from stringline.finding import Finding, Refused

Progress = Callable[[Finding], None]
"""Told now and then what is under way."""

Used = Counter[tuple[int, tuple[int, ...]]]  # (kind of stick, how many of each length): how often


class StockShortError(Refused):
    """The sticks that are listed cannot give all the pieces."""

    def __init__(self) -> None:
        super().__init__("nesting.sticks-short")


class OutOfTimeError(Refused):
    """No plan at all was found in the time allowed."""

    def __init__(self) -> None:
        super().__init__("nesting.out-of-time")


@dataclass(frozen=True, slots=True)
class Problem:
    """Lengths wanted (longest first) with demands, stock lengths (shortest first) with limits, and a cost a stick."""

    lengths: tuple[int, ...]
    demand: tuple[int, ...]
    stock: tuple[int, ...]
    limits: tuple[int | None, ...]
    kerf: int
    costs: tuple[int, ...]

    @property
    def sizes(self) -> tuple[int, ...]:
        """Lengths with their kerf."""
        return tuple(n + self.kerf for n in self.lengths)

    @property
    def capacities(self) -> tuple[int, ...]:
        """Stock lengths with the kerf that a last piece does not need."""
        return tuple(n + self.kerf for n in self.stock)

    @property
    def unit(self) -> int:
        """Greatest common divisor of the stock lengths: material comes in whole multiples of it."""
        return reduce(gcd, self.stock)

    def cost(self, used: Used) -> int:
        """What a plan costs."""
        return sum(self.costs[kind] * n for (kind, _), n in used.items())

    def fewest(self, material: int) -> int:
        """Fewest sticks that can add up to so much material."""
        return -(-material // max(self.stock))

    def pieces(self) -> int:
        """Length of all pieces together."""
        return sum(n * d for n, d in zip(self.lengths, self.demand, strict=True))


@dataclass(frozen=True, slots=True)
class Solution:
    """A plan that covers the demand exactly, with its proven bounds."""

    used: Used
    material_bound: int
    sticks_bound: int


def make_problem(lengths: Mapping[int, int], stock: Mapping[int, int | None], kerf: int) -> Problem:
    """Order the lengths; a stick costs its length in units. A stick that holds no piece is left out.

    ``lengths`` gives the demand by length, ``stock`` the limit by stick length (None: no end).

    >>> problem = make_problem({30: 4, 50: 2}, {120: None, 20: 5, 100: 3}, kerf=1)
    >>> problem.lengths, problem.stock, problem.costs, problem.unit
    ((50, 30), (100, 120), (5, 6), 20)
    """
    shortest = min(lengths)
    wanted = tuple(sorted(lengths, reverse=True))
    kinds = tuple(sorted(s for s in stock if s >= shortest))
    demand = tuple(lengths[n] for n in wanted)
    unit = reduce(gcd, kinds)
    return Problem(wanted, demand, kinds, tuple(stock[s] for s in kinds), kerf, tuple(s // unit for s in kinds))
