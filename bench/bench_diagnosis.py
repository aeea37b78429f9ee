"""Blind test of the diagnosis: two thousand crooked covers made by a second machine, read with tape noise.

The second machine (tests/crooked.py) follows rope and hem as material, without a linearisation or a closed form. Run
with a number for fewer covers: ``python bench/bench_diagnosis.py 300``.
"""

from __future__ import annotations

import math
import sys
import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

import itertools

from blind import Score, covers, score
from makers import make_layout
from stringline.lengths import Unit
from stringline.mechanics.machine import machine_of
from stringline.running import diagnose
from stringline.system.read import load_system

COVERS = 2000
SEED = 4001
BATCH = 250
EDGES = (0.0, 0.5, 0.7, 0.8, 0.9, 0.95, 0.99, 1.0000001)


@dataclass(frozen=True)
class Bin:
    """One bar of the reliability diagram: what was promised, what came true, of how many."""

    low: float
    high: float
    promised: float
    came_true: float
    sigma: float
    count: int


def scores(n: int = COVERS, seed: int = SEED) -> list[Score]:
    """Diagnose n covers blind, on the invented catalogue and an invented layout of 18 ft by 40 ft."""
    system = load_system("invented-18")
    machine = machine_of(system, make_layout())
    out: list[Score] = []
    for start in range(0, n, BATCH):
        batch = covers(machine, system.motor, min(BATCH, n - start), seed + start)
        out += [score(c, diagnose(machine, system.motor, c.run, unit=Unit.M)) for c in batch]
    return out


def reliability_data(found: list[Score]) -> list[Bin]:
    """Probability given to the first cause against how often it was the true main one, for the reliability diagram."""
    p = np.array([s.probability_main for s in found])
    right = np.array([s.right for s in found], dtype=float)
    bars = []
    for low, high in itertools.pairwise(EDGES):
        here = (p >= low) & (p < high)
        n = int(here.sum())
        if n:
            share = float(right[here].mean())
            # Agresti–Coull keeps a bar where all or none came true from claiming certainty.
            safe = (right[here].sum() + 2.0) / (n + 4.0)
            bars.append(
                Bin(low, min(high, 1.0), float(p[here].mean()), share, math.sqrt(safe * (1 - safe) / (n + 4)), n)
            )
    return bars


def main(n: int = COVERS) -> None:
    began = time.process_time()
    found = scores(n)
    took = time.process_time() - began
    right = np.array([s.right for s in found])
    sure = np.array([s.sure for s in found])
    covered = np.array([s.covered for s in found if s.covered is not None])
    told = [s.told for s in found if not s.sure]
    print(f"{len(found)} crooked covers, {took / len(found) * 1e3:.0f} ms of processor each, with their making")
    print(f"right main cause first: {right.mean():.1%} (wanted 90 %)")
    print(f"amount within 2 sigma:  {covered.mean():.1%} (wanted 93 %)")
    print(f"sure: {sure.mean():.1%}; wrong though sure: {int((sure & ~right).sum())}")
    if told:
        print(f"not sure: {len(told)}; the true cause among those named: {np.mean(told):.1%}")
    by = Counter((s.truth.causes[0][0], s.right) for s in found)
    for key in sorted({k for k, _ in by}):
        n_key = by[key, True] + by[key, False]
        mine = [s.covered for s in found if s.truth.causes[0][0] == key and s.covered is not None]
        print(f"  {key:14s} {n_key:5d}  right {by[key, True] / n_key:6.1%}  amount {np.mean(mine):6.1%}")
    for b in reliability_data(found):
        print(f"  promised {b.promised:.3f}  came true {b.came_true:.3f} ± {b.sigma:.3f}  ({b.count})")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else COVERS)
