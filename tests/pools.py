"""Invented pools, taped with noise, for tests that need many of them."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from stringline.geometry import Array
from stringline.job.model import SurveyInput
from stringline.job.readings import Tape
from stringline.lengths import Unit, format_length, parse
from stringline.survey.adjust.network import Network
from stringline.survey.adjust.tape import tape_sigma
from stringline.survey.build import build_network


@dataclass(frozen=True)
class Pool:
    """A taped pool and the truth behind it, ``xy`` (n, 2) in the order of ``names`` (A and B first)."""

    names: tuple[str, ...]
    xy: Array
    spec: SurveyInput

    def network(self) -> Network:
        return build_network(self.spec)

    def start(self, net: Network) -> Array:
        """True coordinates in the network's order: a start that no slip can spoil."""
        return np.array([self.xy[self.names.index(name)] for name in net.names])

    def slipped(self, *slips: tuple[int, float]) -> Pool:
        """Add metres to readings, each given as (number of the tape, amount), and write them down afresh."""
        tapes = list(self.spec.tapes)
        for k, amount in slips:
            old = tapes[k]
            unit = Unit.FT_IN if old.length.notation == "ft-in" else Unit.M
            tapes[k] = replace(old, length=parse(format_length(old.length.m + amount, unit), unit))
        return replace(self, spec=replace(self.spec, tapes=tuple(tapes)))


def outline(rng: np.random.Generator, points: int) -> Array:
    """Points round a pool: a rectangle, an L, or a free shape, somewhere near its baseline; metres."""
    shape = rng.integers(3)
    width, length = rng.uniform(4.0, 7.0), rng.uniform(8.0, 14.0)
    turn = np.sort(rng.uniform(0.0, 1.0, points) * 0.6 + np.arange(points)) / points
    angle = 2.0 * np.pi * turn
    if shape == 0:
        corners = np.array([[0, 0], [length, 0], [length, width], [0, width]])
    elif shape == 1:
        a, b = rng.uniform(0.4, 0.6, 2)
        corners = np.array(
            [[0, 0], [length, 0], [length, b * width], [a * length, b * width], [a * length, width], [0, width]]
        )
    else:
        r = 1.0 + 0.2 * np.cos(2 * angle + rng.uniform(0, 6.28)) + 0.1 * np.sin(3 * angle)
        return np.stack([0.5 * length * (1 + r * np.cos(angle)), 0.5 * width * (1 + r * np.sin(angle))], axis=1)
    closed = np.vstack([corners, corners[:1]])
    side = np.hypot(*np.diff(closed, axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(side)])
    at = turn * along[-1]
    return np.stack([np.interp(at, along, closed[:, 0]), np.interp(at, along, closed[:, 1])], axis=1)


def make_pool(
    rng: np.random.Generator,
    points: int = 8,
    braces: int = 2,
    unit: Unit = Unit.FT_IN,
    noise: float = 1.0,
) -> Pool:
    """Tape a random pool: A–B, every point from A and B, and about ``braces`` lines a point between points.

    ``noise`` scales the class II σ of every reading.
    """
    water = outline(rng, points)
    low = water.min(axis=0)
    span = np.ptp(water[:, 0])
    water = water - low + [rng.uniform(-0.5, 0.5), rng.uniform(1.0, 2.0)]
    base = span * rng.uniform(0.7, 1.1)
    xy = np.vstack([[0.0, 0.0], [base, 0.0], water])
    names = ("A", "B", *(str(i + 1) for i in range(points)))
    lines = [(0, 1)] + [(a, i) for i in range(2, points + 2) for a in (0, 1)]
    pairs = [(i, j) for i in range(2, points + 2) for j in range(i + 1, points + 2)]
    ring = [(2 + i, 2 + (i + 1) % points) for i in range(points)]
    first = [(min(p), max(p)) for p in ring] if braces else []
    rest = [pairs[k] for k in rng.permutation(len(pairs)) if pairs[k] not in first]
    lines += (first + rest)[: braces * points]
    tapes = []
    for i, j in lines:
        true = float(np.hypot(*(xy[j] - xy[i])))
        read = true + noise * tape_sigma(true) * rng.standard_normal()
        tapes.append(Tape(names[i], names[j], parse(format_length(read, unit), unit)))
    return Pool(names, xy, SurveyInput(tuple(tapes), baseline=("A", "B")))
