"""Tracks of 200 jobs cut together, against first fit and a plain CP-SAT model.

800 runs read to a sixteenth of an inch, three stick lengths, a rack of 100 offcuts, pins and staggered joints. First
fit keeps the minimum last piece and the factory-end rule but not the stagger; CP-SAT is given the same time and not
asked for the stagger either, so both peers have the easier problem.
"""

from __future__ import annotations

import os
import random
import time
from bisect import bisect_left, insort

from stringline.nesting.fleet import FleetPlan, plan_fleet
from stringline.nesting.fleet_model import Fleet, make_fleet
from stringline.nesting.stock import Stick, StockPiece, cut_stock
from stringline.nesting.variants import RunRules, StickRun

FOOT, INCH = 192, 16  # sixteenths of an inch
STICKS = (20 * FOOT, 16 * FOOT, 12 * FOOT)
RULES = RunRules(min_last=3 * FOOT, kerf=2, clear=3 * INCH, stagger=2 * FOOT)
SECONDS = float(os.environ.get("BENCH_SECONDS", "60"))


def invented(jobs: int = 200, seed: int = 1) -> tuple[list[StickRun], list[tuple[str, str]], list[int]]:
    """Four runs a job (two pools, left and right), and half as many offcuts on the rack as there are jobs."""
    rng = random.Random(seed)
    runs, pairs = [], []
    for j in range(jobs):
        for pool in range(2):
            length = rng.uniform(24, 52) * FOOT
            for side in "lr":
                n = round(length + rng.gauss(0, INCH / 4))
                first, last = 7 * INCH, n - 6 * INCH
                gaps = -(-(last - first) // (4 * FOOT))
                pins = tuple(first + (last - first) * i // gaps for i in range(gaps + 1))
                runs.append(StickRun(f"{j}.{pool}{side}", n, pins))
            pairs.append((f"{j}.{pool}l", f"{j}.{pool}r"))
    return runs, pairs, [round(rng.uniform(3, 19) * FOOT) for _ in range(jobs // 2)]


def first_fit(runs: list[StickRun], rack: list[int]) -> tuple[int, int]:
    """Longest sticks first in every run, then last pieces longest first: rack, an open stick's other end, a new stick.

    Returns the length bought and the length taken off the rack.
    """
    bought = taken = 0
    lasts = []
    for run in runs:
        rest = run.length
        for s in STICKS:
            while rest - s >= RULES.min_last or rest == s:
                rest -= s
                bought += s
        lasts.append(rest)
    offcuts = sorted(rack)
    open_ends: list[int] = []
    for last in sorted((n for n in lasts if n), reverse=True):
        at = bisect_left(offcuts, last)
        if at < len(offcuts):
            taken += offcuts.pop(at)
            continue
        at = bisect_left(open_ends, last)
        if at < len(open_ends):
            open_ends.pop(at)
            continue
        stick = min(s for s in STICKS if s >= last)
        bought += stick
        insort(open_ends, stick - last - RULES.kerf)
    return bought, taken


def cp_sat(fleet: Fleet, rack: list[int], seconds: float) -> tuple[int | None, int]:
    """A plain model: each run takes one last piece, each last piece one bin, a stick two pieces and a rack piece one.

    Returns the best length bought (None where nothing was found in time) and the bound.
    """
    from ortools.sat.python import cp_model  # type: ignore[import-not-found,unused-ignore]

    begun = time.perf_counter()
    model = cp_model.CpModel()
    n = len(fleet.run)
    bins = int(0.65 * len(fleet.runs))
    kind = [[model.new_bool_var("") for _ in STICKS] for _ in range(bins)]
    in_bin = [[model.new_bool_var("") for _ in range(bins)] for _ in range(n)]
    on_rack = {(i, o): model.new_bool_var("") for i in range(n) for o, r in enumerate(rack) if 0 < fleet.last[i] <= r}
    takes = [model.new_bool_var("") for _ in range(n)]
    by_run: dict[int, list[int]] = {}
    for i in range(n):
        by_run.setdefault(int(fleet.run[i]), []).append(i)
        places = [*in_bin[i], *(v for (k, _), v in on_rack.items() if k == i)] if n < 500 else in_bin[i]
        if fleet.last[i]:
            model.add(
                sum(places) + sum(on_rack[i, o] for o in range(len(rack)) if (i, o) in on_rack and n >= 500) == takes[i]
            )
    for items in by_run.values():
        model.add_exactly_one(takes[i] for i in items)
    for o in range(len(rack)):
        model.add_at_most_one(v for (_, k), v in on_rack.items() if k == o)
    for b in range(bins):
        model.add_at_most_one(kind[b])
        room = sum((s + RULES.kerf) * k for s, k in zip(STICKS, kind[b], strict=True))
        model.add(sum(int(fleet.last[i] + RULES.kerf) * in_bin[i][b] for i in range(n)) <= room)
        model.add(sum(in_bin[i][b] for i in range(n)) <= 2)
    model.minimize(
        sum(int(fleet.whole[i]) * takes[i] for i in range(n))
        + sum(s * k for row in kind for s, k in zip(STICKS, row, strict=True))
    )
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = max(1.0, seconds - (time.perf_counter() - begun))
    solver.parameters.num_workers = 2
    status = solver.solve(model)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return (round(solver.objective_value) if found else None), round(solver.best_objective_bound)


def ours(runs: list[StickRun], pairs: list[tuple[str, str]], rack: list[int]) -> FleetPlan:
    begun = time.perf_counter()
    plan = plan_fleet(runs, pairs, STICKS, RULES, rack, seconds=SECONDS)
    print(
        f"  ours            bought {plan.bought / FOOT:9.1f} ft   gap {plan.gap:.4%}"
        f"{' proven best' if plan.proven else ''}   {time.perf_counter() - begun:.1f} s   (target gap 0.5 % in 60 s)"
    )
    return plan


def compare(jobs: int) -> None:
    runs, pairs, rack = invented(jobs)
    length = sum(r.length for r in runs)
    print(f"{jobs} jobs, {len(runs)} runs, {len(rack)} offcuts on the rack, {length / FOOT:.1f} ft of track")
    plan = ours(runs, pairs, rack)
    waste = plan.bought + sum(rack[o] for o in plan.rack_used) - length
    bought, taken = first_fit(runs, rack)
    other = bought + taken - length
    print(
        f"  first fit       bought {bought / FOOT:9.1f} ft   waste {other / FOOT:.1f} ft against {waste / FOOT:.1f} ft"
    )
    print(f"  ratio of waste, first fit / ours   {other / max(1, waste):.1f}")
    print(f"  first fit buys {(bought - plan.bound) / plan.bound:.2%} above the bound, ours {plan.gap:.4%}")
    try:
        found, bound = cp_sat(make_fleet(runs, pairs, STICKS, RULES), rack, SECONDS)
    except ImportError:
        print("  CP-SAT          not installed here: `make bench` installs it")
        return
    if found is None:
        print(f"  CP-SAT          no plan in {SECONDS:.0f} s")
    else:
        print(f"  CP-SAT          bought {found / FOOT:9.1f} ft   gap {(found - bound) / found:.4%} in {SECONDS:.0f} s")


def plain() -> None:
    """Plain cutting, 60 different pieces: our plan against first fit decreasing."""
    rng = random.Random(5)
    pieces = [StockPiece(str(i), rng.randint(300, 2900), rng.randint(5, 40)) for i in range(60)]
    begun = time.perf_counter()
    plan = cut_stock(pieces, [Stick("s", 6000)], 3, seconds=20.0)
    took = time.perf_counter() - begun
    rooms: list[int] = []
    for size in sorted((p.length + 3 for p in pieces for _ in range(p.count)), reverse=True):
        at = bisect_left(rooms, size)
        room = rooms.pop(at) if at < len(rooms) else 6003
        insort(rooms, room - size)
    print(f"plain stock: {plan.sticks_used} sticks, bound {plan.bound}, {took:.1f} s; best fit decreasing {len(rooms)}")


def main() -> None:
    plain()
    compare(12)
    compare(200)


if __name__ == "__main__":
    main()
