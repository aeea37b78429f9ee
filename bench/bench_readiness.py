"""Order probabilities held against what was built: pools taped, ordered for, and built with scatter, over and over.

The pools and their building are those of tests/built_pools.py: every reading is drawn anew, the widths come by a route
of their own, and catalogues that take up little make orders fail often enough to be counted. What stands in each bin
of the diagram is the average promise and the share that fitted, with the 95 % band that chance alone allows.

``python bench/bench_readiness.py`` builds 100,000; a number behind it builds so many pools a hundred times each;
``--write`` puts the result into docs/readiness.json for the docs. Among the other benchmarks it builds 10,000.
"""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from built_pools import BINS, ordered_and_built
from stringline.geometry import Array
from stringline.ordering.fit_probability import Scatter, fit_probability
from stringline.system.takes_up import TakesUp

ROOT = Path(__file__).resolve().parent.parent
POOLS, QUICK, EACH, SEED = 1000, 100, 100, 77
PLAIN, TIGHT = (
    Scatter(0.002, 0.002, 0.005, 0.003, 0.008, 0.004, 0.008, 0.0015, 0.0015),
    TakesUp(0.019, 0.02, 0.015, 0.02),
)


def bins(promised: Array, fits: Array) -> list[dict[str, Any]]:
    """Of each bin: what was promised on average, the share that fitted, the half width of the 95 % band, how many."""
    found = []
    for low, high in BINS:
        inside = (promised > low) & (promised <= high)
        n = int(inside.sum())
        if n == 0:
            continue
        mean = float(promised[inside].mean())
        band = 1.96 * float(np.sqrt(mean * (1.0 - mean) / n))
        share = float(fits[inside].mean())
        found.append({"low": low, "high": high, "promised": mean, "fitted": share, "band": band, "count": n})
    return found


def drawn(scatter: Scatter, room: TakesUp, n: int, seed: int) -> float:
    """The joint probability by drawing everything ``n`` times: the plain way, as a peer."""
    rng = np.random.default_rng(seed)
    run = rng.normal(0, np.hypot(scatter.survey_gauge_m, scatter.built_gauge_m), n)
    places = run + rng.normal(0, scatter.form_m, (3, n))
    good = (np.abs(places - rng.normal(0, scatter.cover_width_m, n)) <= room.cover_width_m).all(axis=0)
    good &= np.abs(places.min(axis=0) - rng.normal(0, scatter.edge_m, n)) <= room.leading_edge_m
    good &= np.abs(places[0] - rng.normal(0, scatter.drum_m, n)) <= room.drum_m
    long = rng.normal(0, np.sqrt(scatter.survey_length_m**2 + scatter.built_length_m**2 + scatter.cover_length_m**2), n)
    return float(np.mean(good & (np.abs(long) <= room.cover_length_m)))


def main(pools: int = QUICK, write: bool = False) -> None:
    fit_probability(PLAIN, TIGHT)  # what is imported on first use is not what is compared
    began = time.perf_counter()
    exact = fit_probability(PLAIN, TIGHT).all
    ours = time.perf_counter() - began
    began = time.perf_counter()
    peer = drawn(PLAIN, TIGHT, 1_000_000, 1)
    theirs = time.perf_counter() - began
    print(
        f"one probability: {ours * 1e3:.1f} ms, a million draws in numpy {theirs * 1e3:.0f} ms: {theirs / ours:.0f} x;"
    )
    print(f"  {exact:.5f} against {peer:.5f} ± {np.sqrt(peer * (1 - peer) / 1e6):.5f}")
    promised, fits = ordered_and_built(SEED, pools, EACH)
    found = bins(promised, fits)
    print(f"{len(promised)} pools taped, ordered for and built:")
    for b in found:
        inside = "inside" if abs(b["fitted"] - b["promised"]) <= b["band"] else "OUTSIDE"
        print(f"  promised {b['promised']:.4f}  fitted {b['fitted']:.4f}  ± {b['band']:.4f} {inside} ({b['count']})")
    if write:
        out = {"pools": pools, "each": EACH, "seed": SEED, "bins": found}
        (ROOT / "docs" / "readiness.json").write_text(json.dumps(out, indent=2) + "\n", encoding="utf-8")


if __name__ == "__main__":
    counts = [a for a in sys.argv[1:] if a.isdigit()]
    main(int(counts[0]) if counts else POOLS, "--write" in sys.argv)
