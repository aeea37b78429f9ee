"""Which input a result's scatter comes from: first-order variance shares from the samples themselves.

The share of input x in a result y is Var(E[y | x])/Var(y), the part of the variance that would go if x were known
(source ``variance-share``). E[y | x] is the mean over slices of x of equal chance. Shares of inputs that act by
themselves add up to 1; what is missing to 1 is inputs acting together. Slices are filled as samples come, so a million
samples need no room.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from stringline.geometry import Array

SLICES = 32


class VarianceShares:
    """Gathers results by slice of every input. Not frozen: it is filled chunk by chunk.

    >>> z = (np.arange(4096) + 0.5) / 4096
    >>> gathered = VarianceShares(2)
    >>> gathered.add(np.stack([z * SLICES, z[::-1] * 7919 % SLICES], axis=1).astype(np.intp), z)
    >>> gathered.shares().round(2)
    array([1., 0.])
    """

    def __init__(self, inputs: int, slices: int = SLICES) -> None:
        self._count = np.zeros((inputs, slices))
        self._sum = np.zeros((inputs, slices))
        self._square = 0.0
        self._shift: float | None = None

    def add(self, slice_of: NDArray[np.intp], result: Array) -> None:
        """Take in a chunk: the slice in which each input falls, (n, inputs), and the result, (n,)."""
        if self._shift is None:
            self._shift = float(result.mean())  # keeps the squares from swamping the variance
        y = result - self._shift
        slices = self._count.shape[1]
        for i in range(self._count.shape[0]):
            self._count[i] += np.bincount(slice_of[:, i], minlength=slices)
            self._sum[i] += np.bincount(slice_of[:, i], weights=y, minlength=slices)
        self._square += float(y @ y)

    def shares(self) -> Array:
        """Share of each input, (inputs,), not below nought; all nought where the result does not vary."""
        n = self._count.sum(axis=1)
        mean = self._sum.sum(axis=1) / n
        total = self._square / n - np.square(mean)
        if not np.any(total > 0.0):
            return np.zeros(self._count.shape[0])
        by_slice = np.divide(self._sum, self._count, out=np.zeros_like(self._sum), where=self._count > 0)
        between = (self._count * np.square(by_slice)).sum(axis=1) / n - np.square(mean)
        # Slices of pure noise differ too, by the within-slice variance over their size: taken off.
        used = (self._count > 0).sum(axis=1)
        noise = (total - between) * (used - 1) / np.maximum(n - used, 1.0)
        return np.asarray(np.clip((between - noise) / total, 0.0, 1.0))
