"""A million machines × 60 stations, against the same march over a root solver on a stated subset.

Both march closing, opening and closing again, with every input scattered. The peer solves each state's balance with
``scipy.optimize.brentq``, the quickest root solver there is for it, one machine at a time; the leads must agree to a
micrometre. The peer's time for a million is extrapolated from its subset.
"""

from __future__ import annotations

import resource
import time

import numpy as np

from stringline.geometry import Array
from stringline.lead.tolerances import Bounds, spread, usual
from stringline.mechanics import reel
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.machine import Machine, twist_share
from stringline.mechanics.travel import lead_run

SAMPLES = 1_000_000
STATIONS = 60
SUBSET = 20


def main(samples: int = SAMPLES) -> None:
    machine = _machine()
    tols = usual(machine)
    bounds = Bounds(0.076, 0.03, 150.0)
    rng = np.random.default_rng(1)
    z = rng.standard_normal((len(tols), SUBSET))
    drawn = {t.field: np.maximum(t.low, t.mean + t.sigma * row) for t, row in zip(tols, z, strict=True)}
    slow, before = _one_by_one(machine, drawn)
    quick = lead_run(machine, Deviations(**drawn), STATIONS)
    off = max(
        max(np.abs(a - quick.closing_m[:, i]).max(), np.abs(b + quick.opening_m[:, i]).max())
        for i, (a, b) in enumerate(slow)
    )
    assert off < 1e-6, off
    began, wall = time.process_time(), time.perf_counter()
    got = spread(machine, tols, bounds, rng=rng, samples=samples, stations=STATIONS)
    took, wall = time.process_time() - began, time.perf_counter() - wall
    # The peer once more: on a busy machine the hour matters, and neither should have the better half of it.
    each = (before + _one_by_one(machine, drawn)[1]) / 2
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        f"{samples:,} machines x {STATIONS} stations, both ways: {took:.1f} s of processor, {wall:.1f} s by the clock"
    )
    print(f"highest memory of the process: {memory:.0f} MB (chunks of 8192)")
    print(f"root solver, {SUBSET} machines: {each * 1e3:.1f} ms each, so {each * samples:,.0f} s for as many")
    print(f"leads agree to {off:.1e} m; ratio {each * samples / took:,.0f} (target 1,000)")
    print(f"P(lead over 3 in) {got.p_over:.4f}, P(bind) {got.p_bind:.6f}")


def _one_by_one(machine: Machine, drawn: dict[str, Array]) -> tuple[list[tuple[Array, Array]], float]:
    """The subset's leads by the peer, and its processor time for one machine, seconds."""
    began = time.process_time()
    found = [_one(machine, {k: float(v[i]) for k, v in drawn.items()}) for i in range(SUBSET)]
    return found, (time.process_time() - began) / SUBSET


def _machine() -> Machine:
    """The invented catalogue on an invented layout of 18 ft by 40 ft."""
    import sys
    from pathlib import Path

    sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))
    from makers import make_layout
    from stringline.mechanics.machine import machine_of
    from stringline.system.read import load_system

    return machine_of(load_system("invented-18"), make_layout())


def _one(m: Machine, d: dict[str, float]) -> tuple[Array, Array]:
    """March one machine, every state's balance by brentq; x_drive − x_idle closing and opening."""
    s = m.stations(STATIONS)
    shapes = _reel_shapes(m, d, s)
    turned = np.asarray(m.drum_turns(s))
    hem = d["square_m"] - np.pi * d["hem_drive_m"] * (turned**2 - turned[-1] ** 2)
    taken, _ = _close(m, d, s, shapes, hem)
    paid, back = _open(m, d, s, taken, hem)
    _, shut = _close(m, d, s, shapes, paid)
    return shut, back


def _reel_shapes(m: Machine, d: dict[str, float], s: Array) -> Array:
    n = np.asarray(m.reel_turns(s))
    e, sign = abs(d["early_turns"]), np.sign(d["early_turns"])
    own = reel.length_at(m.laid, n) - reel.length_at(m.laid, m.dead_turns)
    more = reel.length_at(m.laid, n + e) - reel.length_at(m.laid, m.dead_turns + e)
    layer = (np.asarray(m.reel_radius_m(s)) - m.laid.layer_radius_m[0]) / m.laid.diameter_m + 0.5
    grow = np.concatenate([[0.0], np.cumsum(np.diff(n) * (layer[1:] + layer[:-1]) / 2)]) * 2 * np.pi
    wound = 2 * np.pi * (n - m.dead_turns) * d["reel_radius_m"]
    return np.asarray(sign * (more - own) + wound + grow * d["rope_diameter_m"])


def _drags(m: Machine, d: dict[str, float], at: float) -> tuple[float, float, float, float]:
    end, per = float(np.asarray(m.drag.end_n)) * d["drag_scale"], float(np.asarray(m.drag.per_m)) * d["drag_scale"]
    a, b = (per + d["drag_drive_n_m"]) * at, (per + d["drag_idle_n_m"]) * at
    return end + d["drag_drive_n"] + a, end + d["drag_idle_n"] + b, a, b


def _close(m: Machine, d: dict[str, float], s: Array, shapes: Array, hem: Array) -> tuple[Array, Array]:
    from scipy.optimize import brentq

    pull = m.guide / m.pulley_efficiency * m.jam_closing
    strain = pull / m.rope_ea_n
    plain = m.jam_closing * m.rope_give_m_n(s, 1 / m.pulley_efficiency)
    twist = twist_share(m, m.reel_radius_m(s)) * pull
    soft = m.hem_free_m(s) / m.hem_ea_n
    shared = m.drum_brake_nm * m.guide / np.asarray(m.drum_radius_m(s)) * d["brake_scale"]
    a, b = 1 + d["stretch_drive"], 1 + d["stretch_idle"]
    at, before = d["start_m"], 0.0
    taken, lead = np.empty(s.size), np.empty(s.size)
    for j in range(s.size):
        half = (s[j] - s[j - 1]) / 2 if j else 0.0
        at += (shapes[j] - shapes[j - 1] if j else 0.0) - half * before
        fd, fi, along_d, along_i = _drags(m, d, s[j])
        cd, ci = (plain[j] + half * strain) * a, (plain[j] + half * strain) * b + twist[j]
        q_all, h, hem_j = float(shared[j]), float(soft[j]), float(hem[j])

        def ropes(
            q: float,
            cd: float = cd,
            ci: float = ci,
            fd: float = fd,
            fi: float = fi,
            q_all: float = q_all,
            at: float = at,
        ) -> float:
            return at - cd * (fd + (q_all + q) / 2) + ci * (fi + (q_all - q) / 2)

        def gap(q: float, h: float = h, hem_j: float = hem_j, own: float = float(along_d - along_i)) -> float:
            return ropes(q) - hem_j - h * own / 2 - h * q

        q = -q_all if gap(-q_all) <= 0 else q_all if gap(q_all) >= 0 else float(brentq(gap, -q_all, q_all, xtol=1e-9))
        lead[j] = ropes(q)
        before = strain * (a * (fd + (q_all + q) / 2) - b * (fi + (q_all - q) / 2))
        at -= half * before
        taken[j] = at
    return taken, lead


def _open(m: Machine, d: dict[str, float], s: Array, taken: Array, hem: Array) -> tuple[Array, Array]:
    from scipy.optimize import brentq

    plain = m.rope_give_m_n(s, m.pulley_efficiency)
    twist = twist_share(m, m.drum_radius_m(s)) * m.guide
    soft = m.hem_free_m(s) / m.hem_ea_n
    strain = m.guide / m.hem_ea_n
    shared = m.reel_brake_nm * m.guide / (m.pulley_efficiency * np.asarray(m.reel_radius_m(s))) * d["brake_scale"]
    a, b = 1 + d["stretch_drive"], 1 + d["stretch_idle"]
    at, before = float(hem[-1]), 0.0
    paid, lead = np.empty(s.size), np.empty(s.size)
    for j in range(s.size - 1, -1, -1):
        last = j == s.size - 1
        half = 0.0 if last else (s[j + 1] - s[j]) / 2
        at += half * before + (0.0 if last else hem[j] - hem[j + 1])
        fd, fi, along_d, along_i = _drags(m, d, s[j])
        whole, spread_h = soft[j] + half * strain, soft[j] / 2
        own = whole * fd - spread_h * along_d - (whole + twist[j]) * fi + spread_h * along_i
        hd, hi = m.jam_opening * whole, m.jam_opening * (whole + twist[j])
        q_all, cd, ci, there = float(shared[j]), plain[j] * a, plain[j] * b, float(taken[j])

        def hems(
            q: float, hd: float = hd, hi: float = hi, own: float = own, q_all: float = q_all, at: float = at
        ) -> float:
            return at + own + hd * (q_all + q) / 2 - hi * (q_all - q) / 2

        def gap(q: float, cd: float = cd, ci: float = ci, q_all: float = q_all, there: float = there) -> float:
            return there - cd * (q_all + q) / 2 + ci * (q_all - q) / 2 - hems(q)

        q = -q_all if gap(-q_all) <= 0 else q_all if gap(q_all) >= 0 else float(brentq(gap, -q_all, q_all, xtol=1e-9))
        lead[j] = hems(q)
        before = strain * (m.jam_opening * q + fd - fi)
        at += half * before
        paid[j] = at
    return paid, lead


if __name__ == "__main__":
    main()
