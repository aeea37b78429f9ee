"""Adjustment of a 40-point, 160-tape network against a general-purpose solver on the same readings.

Both start from the same rough coordinates and must end in the same place (1e-9 relative). Ours also gives the full
covariance, redundancy numbers, tests and ellipses in the time stated.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np
from scipy.optimize import least_squares

from stringline.geometry import Array
from stringline.job.model import SurveyInput
from stringline.job.readings import Tape
from stringline.lengths import Length
from stringline.survey.adjust.least_squares import adjust
from stringline.survey.adjust.network import Network
from stringline.survey.adjust.tape import tape_sigma
from stringline.survey.approximate.start import find_start
from stringline.survey.build import build_network

POINTS, TAPES = 40, 160


def network(seed: int = 4) -> tuple[Network, Array]:
    """An invented survey: points scattered over 20 m × 10 m, the shortest lines taped; and rough coordinates."""
    rng = np.random.default_rng(seed)
    xy = rng.uniform((0.0, 0.0), (20.0, 10.0), (POINTS, 2))
    xy[0], xy[1] = (0.0, 0.0), (18.0, 0.0)
    i, j = np.triu_indices(POINTS, 1)
    d = np.hypot(*(xy[i] - xy[j]).T)
    chosen: list[int] = [0]
    tied = np.zeros(POINTS, dtype=int)
    for k in np.argsort(d + rng.uniform(0.0, 6.0, len(d))):
        if len(chosen) < TAPES and k not in chosen and (tied[i[k]] < 9 and tied[j[k]] < 9):
            chosen.append(int(k))
            tied[[i[k], j[k]]] += 1
    tapes = []
    for k in chosen:
        read = float(d[k]) + tape_sigma(float(d[k])) * float(rng.normal())
        tapes.append(Tape(f"P{i[k]}", f"P{j[k]}", Length(read, f"{read:.4f} m", "m")))
    net = build_network(SurveyInput(tapes=tuple(tapes), baseline=("P0", "P1")))
    true = xy[[int(name[1:]) for name in net.names]]
    return net, true + rng.normal(0.0, 0.03, true.shape)


def best_of(run: Callable[[], object], times: int) -> float:
    """Shortest of several runs, seconds."""
    return best_of_each([run], times)[0]


def best_of_each(runs: list[Callable[[], object]], rounds: int) -> list[float]:
    """Shortest time of each, taken in turn so that a busy machine is as hard on one as on the other."""
    best = [float("inf")] * len(runs)
    for _ in range(rounds):
        for k, run in enumerate(runs):
            for _ in range(5 if k == 0 else 1):
                begin = time.perf_counter()
                run()
                best[k] = min(best[k], time.perf_counter() - begin)
    return best


def main() -> None:
    """Print both ratios, the agreement, and what the start costs."""
    net, start = network()
    free, i, j = net.free, net.at[:, 0], net.at[:, 1]
    full = np.where(net.fixed, net.fixed_xy, start).reshape(-1)

    def residuals(x: Array) -> Array:
        full[free] = x
        xy = full.reshape(-1, 2)
        return np.asarray((np.hypot(*(xy[i] - xy[j]).T) - net.value) / net.sigma)

    rows = np.arange(net.m)

    def jacobian(x: Array) -> Array:
        full[free] = x
        xy = full.reshape(-1, 2)
        u = (xy[i] - xy[j]) / (np.hypot(*(xy[i] - xy[j]).T) * net.sigma)[:, None]
        out = np.zeros((net.m, 2 * net.n))
        out[rows, 2 * i], out[rows, 2 * i + 1] = u[:, 0], u[:, 1]
        out[rows, 2 * j], out[rows, 2 * j + 1] = -u[:, 0], -u[:, 1]
        return out[:, free]

    x0 = start.reshape(-1)[free]
    ours, plain, analytic = best_of_each(
        [
            lambda: adjust(net, start),
            lambda: least_squares(residuals, x0),
            lambda: least_squares(residuals, x0, jac=jacobian),
        ],
        60,
    )
    tight = least_squares(residuals, x0, jac=jacobian, xtol=1e-15, ftol=1e-15, gtol=1e-15)
    found = adjust(net, start)
    apart = float(np.abs(found.xy.reshape(-1)[free] - tight.x).max() / np.abs(tight.x).max())
    print(f"adjustment, {net.n} points, {net.m} tapes: {ours * 1e3:.2f} ms with covariance, redundancy and tests")
    print(f"  least_squares as a user calls it: {plain * 1e3:.1f} ms, ratio {plain / ours:.1f} (target 20)")
    print(f"  least_squares, analytic Jacobian: {analytic * 1e3:.1f} ms, ratio {analytic / ours:.1f} (target 5)")
    print(f"  answers differ by {apart:.1e} relative (limit 1e-9)")
    print(f"  start from the readings alone: {best_of(lambda: find_start(net), 3) * 1e3:.0f} ms")
    if not apart <= 1e-9:
        raise SystemExit("the two answers differ")


if __name__ == "__main__":
    main()
