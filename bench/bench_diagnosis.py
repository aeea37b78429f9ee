"""Blind test of the diagnosis: two thousand crooked covers made by a second machine, read with tape noise.

The second machine (tests/crooked.py) follows rope and hem as material, without a linearisation or a closed form. Each
cover is diagnosed from a full sheet (six stations both ways and the current) and again from a poor one (two or three
readings), for a diagnosis is honest only if what it promises comes true when it has little to go by.

``python bench/bench_diagnosis.py`` runs all of them, a number behind it fewer; ``--write`` puts the result into
docs/reliability.json for the docs. Among the other benchmarks it runs four hundred.
"""

from __future__ import annotations

import itertools
import json
import math
import sys
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from blind import Score, blind, covers, thinned
from makers import make_layout
from stringline.mechanics.machine import machine_of
from stringline.system.read import load_system

ROOT = Path(__file__).resolve().parent.parent
COVERS = 2000
QUICK = 400  # with the other benchmarks
SEED = 4001
BATCH = 250
EDGES = (0.0, 0.5, 0.65, 0.8, 0.9, 0.97, 0.99, 1.0000001)


@dataclass(frozen=True)
class Bin:
    """One point of the reliability diagram: what was promised, what came true, of how many."""

    low: float
    high: float
    promised: float
    came_true: float
    sigma: float
    count: int


def scores(n: int = COVERS, seed: int = SEED) -> tuple[list[Score], list[Score]]:
    """Diagnose n covers blind from full and from poor sheets, on the invented catalogue, 18 ft by 40 ft."""
    system = load_system("invented-18")
    machine = machine_of(system, make_layout())
    full: list[Score] = []
    poor: list[Score] = []
    for start in range(0, n, BATCH):
        made = covers(machine, system.motor, min(BATCH, n - start), seed + start)
        rng = np.random.default_rng(seed + start)
        full += blind(machine, system.motor, made)
        poor += blind(machine, system.motor, [thinned(c, rng) for c in made])
    return full, poor


def reliability_data(found: Sequence[Score]) -> list[Bin]:
    """Chance given to the first cause of being the main one, against how often it was, for the reliability diagram."""
    p = np.array([s.probability_main for s in found])
    right = np.array([s.right for s in found], dtype=float)
    points = []
    for low, high in itertools.pairwise(EDGES):
        here = (p >= low) & (p < high)
        n = int(here.sum())
        if n:
            share = float(right[here].mean())
            # Agresti–Coull keeps a point where all or none came true from claiming certainty.
            safe = (right[here].sum() + 2.0) / (n + 4.0)
            sigma = float(math.sqrt(safe * (1 - safe) / (n + 4)))
            points.append(Bin(low, min(high, 1.0), float(p[here].mean()), share, sigma, n))
    return points


def summary(found: Sequence[Score]) -> dict[str, Any]:
    """The figures that the docs state."""
    sure = [s for s in found if s.sure]
    open_ = [s for s in found if not s.sure]
    covered = [s.covered for s in found if s.covered is not None]
    return {
        "covers": len(found),
        "right_first": float(np.mean([s.right for s in found])),
        "promised": float(np.mean([s.probability_main for s in found])),
        "amount_within_two_sigma": float(np.mean(covered)),
        "sure": len(sure) / len(found),
        "right_when_sure": float(np.mean([s.right for s in sure])) if sure else None,
        "named_when_not_sure": float(np.mean([s.told for s in open_])) if open_ else None,
        "points": [asdict(b) for b in reliability_data(found)],
    }


def main(n: int = QUICK, write: bool = False) -> None:
    began = time.process_time()
    full, poor = scores(n)
    took = time.process_time() - began
    print(f"{n} crooked covers, two sheets each: {took / n * 1e3:.0f} ms of processor a cover, with its making")
    for name, found in (("full sheets", full), ("poor sheets", poor)):
        got = summary(found)
        print(f"{name}: right main cause first {got['right_first']:.1%}, promised {got['promised']:.1%};", end=" ")
        print(f"amount within 2 sigma {got['amount_within_two_sigma']:.1%}")
        print(f"  sure of {got['sure']:.1%}, of which right {got['right_when_sure'] or 0:.1%};", end=" ")
        print(f"else the true cause is named in {got['named_when_not_sure'] or 0:.1%}")
        for b in reliability_data(found):
            print(f"  promised {b.promised:.3f}  came true {b.came_true:.3f} ± {b.sigma:.3f}  ({b.count})")
    print("wanted of full sheets: right first 90 %, amount 93 %")
    by = Counter((s.truth.causes[0][0], s.right) for s in full)
    for key in sorted({k for k, _ in by}):
        count = by[key, True] + by[key, False]
        mine = [s.covered for s in full if s.truth.causes[0][0] == key and s.covered is not None]
        print(f"  {key:14s} {count:5d}  right {by[key, True] / count:6.1%}  amount {np.mean(mine):6.1%}")
    if write:
        path = ROOT / "docs" / "reliability.json"
        record = json.loads(path.read_text(encoding="utf-8"))
        record |= {"full": summary(full), "poor": summary(poor)}
        path.write_text(json.dumps(record, indent=2) + "\n", encoding="utf-8")


if __name__ == "__main__":
    counts = [a for a in sys.argv[1:] if a.isdigit()]
    main(int(counts[0]) if counts else COVERS, "--write" in sys.argv)
