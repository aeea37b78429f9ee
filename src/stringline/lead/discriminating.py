"""The reading that would best tell the likely causes apart: information expected from it, by quadrature.

The doubt is H = −Σ p·log₂ p over the causes that may be the main one. A reading y would take I = Σ∫ p(c, y)·log₂
(p(c, y)/(p(c)·p(y))) dy of it, on average over what it may show; under each set of causes y is taken as normal.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringline.geometry import Array
from stringline.lead.hypotheses import Field, Weighed
from stringline.lead.trial import CLOSING, CURRENT, OPENING
from stringline.mechanics.forces import current_a

CANDIDATES = 13
_SETS = 10
_STEP = 0.02


@dataclass(frozen=True, slots=True)
class Discriminating:
    """A reading not yet taken: what, where, and how many bits of the doubt it would settle."""

    what: int
    station_m: float
    bits: float
    doubt_bits: float


def most_discriminating(
    field: Field, weighed: Weighed, label: NDArray[np.intp], sigma: tuple[float, float]
) -> Discriminating | None:
    """The best of closing lead, opening lead and closing current at a few stations; None where there is no doubt.

    ``label`` (n,) numbers what a person would call the main cause of each set; ``sigma`` is of a lead and of a current.
    """
    top = np.argsort(-weighed.weight)[:_SETS]
    weight = weighed.weight[top] / weighed.weight[top].sum()
    names, which = np.unique(label[top], return_inverse=True)
    by_name = np.bincount(which, weights=weight)
    doubt = float(-(by_name * np.log2(np.maximum(by_name, 1e-12))).sum())
    if names.size < 2 or doubt < 0.02:
        return None
    mean, var, stations = _predicted(field, weighed, top)
    best: Discriminating | None = None
    for what in (CLOSING, OPENING, CURRENT):
        noise = sigma[1] if what == CURRENT else sigma[0]
        for j, s in enumerate(stations):
            bits = _information(mean[what, j], var[what, j] + noise**2, weight, which, names.size)
            if best is None or bits > best.bits + 1e-9:
                best = Discriminating(what, float(s), bits, doubt)
    return best


def _predicted(field: Field, weighed: Weighed, top: NDArray[np.intp]) -> tuple[Array, Array, Array]:
    """Mean and variance of each candidate reading under each set, (3, stations, n), and the stations."""
    sets, mode, cov = weighed.sets[top], weighed.mode[top].copy(), weighed.cov[top]
    c, params, n = sets.shape[1], mode.shape[1], sets.shape[0]
    mode[:, :c] = np.maximum(mode[:, :c], 0.0)
    stack = np.repeat(mode[None], params + 1, axis=0)
    for i in range(params):
        stack[i + 1, :, i] += _STEP
    flat = stack.reshape(-1, params)
    which = np.tile(sets, (params + 1, 1))
    run = field.sheet.runs(field.deviations(which, flat[:, :c], flat[:, c:]))[-1]
    k = run.station_m.size
    pick = np.unique(np.linspace(0, k - 1, CANDIDATES).round().astype(int))
    current = current_a(field.sheet.motor, run.closing_torque_nm)
    out = np.stack([run.closing_m[pick], run.opening_m[pick], current[pick]])
    out = out.reshape(3, pick.size, params + 1, n)
    mean = out[:, :, 0]
    slope = (out[:, :, 1:] - mean[:, :, None]) / _STEP
    # The first c columns of an empty place in a set move nothing, so their variance counts for nothing.
    var = np.einsum("wjpn,npq,wjqn->wjn", slope, cov, slope)
    return mean, np.maximum(var, 0.0), run.station_m[pick]


def _information(mean: Array, var: Array, weight: Array, which: NDArray[np.intp], names: int) -> float:
    """Bits that one reading, whose law is a mixture of Gaussians, tells of the name of the cause."""
    sd = np.sqrt(var)
    x = np.linspace((mean - 5 * sd).min(), (mean + 5 * sd).max(), 401)
    each = (
        weight[:, None]
        * np.exp(-0.5 * np.square((x - mean[:, None]) / sd[:, None]))
        / (sd[:, None] * np.sqrt(2 * np.pi))
    )
    joint = np.zeros((names, x.size))
    np.add.at(joint, which, each)
    total = joint.sum(axis=0)
    prior = joint.sum(axis=1, keepdims=True) * (x[1] - x[0])
    part = np.where(joint > 1e-300, joint * np.log2(np.maximum(joint, 1e-300) / np.maximum(prior * total, 1e-300)), 0.0)
    return float(max(0.0, part.sum() * (x[1] - x[0])))
