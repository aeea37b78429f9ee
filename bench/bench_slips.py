"""Slip search and next-tape advice on a 40-point survey, against solving again for every hypothesis.

The peer does what the search spares: for each explanation of each reading it changes that reading and adjusts the whole
network again, once with ``scipy.optimize.least_squares`` and once with our own adjustment. Its time is measured on a
stated number of hypotheses and multiplied up to all of them.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from scipy.optimize import least_squares

from stringline.geometry import Array
from stringline.job.readings import Tape
from stringline.survey.adjust.least_squares import adjust
from stringline.survey.adjust.network import Network
from stringline.survey.adjust.observe import linearise, predict
from stringline.survey.design.candidates import candidates
from stringline.survey.design.next_tape import advise
from stringline.survey.slips.misreadings import misreadings
from stringline.survey.slips.search import find_suspects

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))
from pools import make_pool

SAMPLED = 12
TARGET_MS, TARGET_RATIO = 50.0, 50.0


def seconds(run: Callable[[], object], times: int = 7) -> float:
    """Median time of a call, s."""
    took = []
    for _ in range(times):
        begun = time.perf_counter()
        run()
        took.append(time.perf_counter() - begun)
    return float(np.median(took))


def solve_again(net: Network, value: Array, start: Array) -> Array:
    """Solve the whole network with the general-purpose solver and the analytic Jacobian."""
    free = net.free
    full = start.ravel().copy()

    def unpack(x: Array) -> Array:
        full[free] = x
        return full.reshape(-1, 2)

    def residual(x: Array) -> Array:
        return np.asarray((predict(net, unpack(x)) - value) / net.sigma)

    def jacobian(x: Array) -> Array:
        return np.asarray(linearise(net, unpack(x))[1][:, free] / net.sigma[:, None])

    return np.asarray(least_squares(residual, full[free], jac=jacobian, method="lm", xtol=1e-12).x)


def main() -> None:
    """Print times and ratios."""
    pool = make_pool(np.random.default_rng(2), 38, 2)
    k = 80
    slipped = pool.slipped((30, 6 * 0.0254), (k, -0.3048))
    net = slipped.network()
    adj = adjust(net, slipped.start(net))
    suspects, _ = find_suspects(adj, net)
    tapes = [r for r in net.reading if isinstance(r, Tape)]
    hypotheses = sum(1 + len(misreadings(t.length)) for t in tapes)
    pairs = net.tapes * (net.tapes - 1) // 2
    print(
        f"{net.n} points, {net.tapes} tapes, two slips planted; named: {', '.join(f'{s.frm}–{s.to}' for s in suspects)}"
    )

    ours = seconds(lambda: find_suspects(adj, net))
    advice = seconds(lambda: advise(adj, net))
    value = net.value.copy()
    value[k] += 0.3048
    scipy_one = seconds(lambda: [solve_again(net, value, adj.xy) for _ in range(SAMPLED)], 3) / SAMPLED
    own_one = seconds(lambda: [adjust(net, adj.xy) for _ in range(SAMPLED)], 3) / SAMPLED
    total = hypotheses + pairs
    print(f"slip search: {1e3 * ours:.1f} ms (target under {TARGET_MS:.0f})")
    print(f"  {hypotheses} single explanations, {pairs} pairs of lines")
    for name, one in (("scipy least_squares", scipy_one), ("our own adjustment", own_one)):
        print(
            f"  solving again with {name}: {1e3 * one:.2f} ms each on {SAMPLED}, so {total * one:.0f} s for all: "
            f"{total * one / ours:.0f}× (singles alone {hypotheses * one / ours:.0f}×; target {TARGET_RATIO:.0f}×)"
        )
    count = len(candidates(net, adj.xy, adj.Q).i)
    print(f"next tape: {1e3 * advice:.1f} ms (target under {TARGET_MS:.0f}) over {count} candidates")
    for name, one in (("scipy least_squares", scipy_one), ("our own adjustment", own_one)):
        ratio = count * one / advice
        print(f"  solving again with {name}: {count * one:.1f} s: {ratio:.0f}× (target {TARGET_RATIO:.0f}×)")


if __name__ == "__main__":
    main()
