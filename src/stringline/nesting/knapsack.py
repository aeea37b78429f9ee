"""The fullest or most valuable way to cut one stick: exact, in whole numbers.

Sizes carry their kerf already: a piece takes its length and one kerf, a stick holds its length and one kerf (after the
last piece no cut is needed where nothing is left).
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from functools import reduce
from math import gcd, inf

import numpy as np
from numpy.typing import NDArray

FINEST = 60_000  # cells of the table along the stick; beyond it sizes are coarsened


class Knapsack:
    """Bounded knapsack over a table, for several capacities C at once: max Σ vᵢ·nᵢ with Σ sᵢ·nᵢ ≤ C and 0 ≤ nᵢ ≤ mᵢ.

    Sizes and capacities are whole numbers above 0; a size of 0 or less raises ValueError. Sizes are divided by their
    greatest common divisor first. Where the table would still be longer than ``FINEST`` they are coarsened: rounded up
    for patterns (what is found does fit), rounded down for ``best`` (nothing better exists).
    """

    def __init__(self, sizes: Sequence[int], most: Sequence[int], capacities: Sequence[int]) -> None:
        if any(s <= 0 for s in sizes):
            raise ValueError("a piece needs a length above zero")
        unit = reduce(gcd, sizes)
        self.sizes = [s // unit for s in sizes]
        self.capacities = [c // unit for c in capacities]
        self.most = [min(m, max(self.capacities) // s) for m, s in zip(most, self.sizes, strict=True)]
        longest = max(self.capacities)
        step = -(-longest // FINEST)
        self.exact = step == 1
        self._up = [-(-s // step) for s in self.sizes]
        self._down = [s // step for s in self.sizes]
        self._cells = [c // step for c in self.capacities]

    def patterns(self, values: Sequence[int]) -> list[tuple[int, tuple[int, ...]]]:
        """For each capacity a most valuable pattern: its value and how many of each piece.

        >>> Knapsack(sizes=[3, 5], most=[9, 9], capacities=[11]).patterns(values=[3, 6])
        [(12, (2, 1))]
        """
        table, taken, parts = self._fill(values, self._up)
        out = []
        for cell in self._cells:
            counts = [0] * len(self.sizes)
            at = cell
            for k in range(len(parts) - 1, -1, -1):
                i, n = parts[k]
                if taken[k][at]:
                    counts[i] += n
                    at -= n * self._up[i]
            out.append((int(table[cell]), tuple(counts)))
        return out

    def best(self, values: Sequence[int]) -> list[int]:
        """For each capacity the value that no pattern exceeds."""
        table, _, _ = self._fill(values, self._down)
        return [int(table[c]) for c in self._cells]

    def _fill(
        self, values: Sequence[int], sizes: Sequence[int]
    ) -> tuple[NDArray[np.int64], list[NDArray[np.bool_]], list[tuple[int, int]]]:
        width = max(self._cells) + 1
        table = np.zeros(width, dtype=np.int64)
        taken: list[NDArray[np.bool_]] = []
        parts: list[tuple[int, int]] = []
        for i, v in enumerate(values):
            if v <= 0:
                continue
            for n in _split(self.most[i]):
                w = n * sizes[i]
                if w >= width:
                    continue
                take = np.zeros(width, dtype=np.bool_)
                with_it = table[: width - w] + n * v
                np.greater(with_it, table[w:], out=take[w:])
                table[w:] = np.maximum(table[w:], with_it)
                taken.append(take)
                parts.append((i, n))
        return table, taken, parts


def _split(most: int) -> list[int]:
    """Batches whose subsets give every count from 0 to ``most``."""
    out = []
    n = 1
    while most > 0:
        out.append(min(n, most))
        most -= out[-1]
        n *= 2
    return out


def full_patterns(
    sizes: Sequence[int],
    most: Sequence[int],
    capacity: int,
    values: Sequence[int],
    least: int,
    limit: int,
    deadline: float = inf,
) -> list[tuple[int, ...]] | None:
    """Every pattern worth at least ``least`` to which no further piece can be added; None past a limit or the time.

    Depth first by value per length; a branch ends where even filling the rest at the best rate falls short.
    ``deadline`` is of time.monotonic.

    >>> full_patterns(sizes=[3, 5], most=[9, 9], capacity=11, values=[3, 6], least=9, limit=100)
    [(0, 2), (2, 1), (3, 0)]
    """
    order = sorted(range(len(sizes)), key=lambda i: (-values[i] / sizes[i], -sizes[i]))
    size = [sizes[i] for i in order]
    value = [values[i] for i in order]
    top = [most[i] for i in order]
    n = len(order)
    found: list[tuple[int, ...]] = []
    counts = [0] * n
    work = 0

    def visit(k: int, room: int, worth: int) -> bool:
        nonlocal work
        work += 1
        if work > 8 * limit or (work % 1024 == 0 and time.monotonic() > deadline):
            return False
        if k == n:
            if worth >= least and all(counts[j] >= top[j] or size[j] > room for j in range(n)):
                pattern = [0] * n
                for j, c in enumerate(counts):
                    pattern[order[j]] = c
                found.append(tuple(pattern))
            return len(found) <= limit
        if (worth - least) * size[k] + room * value[k] < 0:
            return True
        for c in range(min(top[k], room // size[k]), -1, -1):
            counts[k] = c
            if not visit(k + 1, room - c * size[k], worth + c * value[k]):
                return False
        counts[k] = 0
        return True

    return found if visit(0, capacity, 0) else None
