"""The tracks of many jobs cut together: least length bought, with a proven bound.

A stick gives at most two last pieces, one from each of its factory ends; a rack piece has one factory end, gives one.
What is bought is counted whole: an offcut that keeps its factory end goes back on the rack, but earns nothing here.
Rules give way only where no mix of sticks keeps to them, run by run, in this order: pins move, joints come closer than
the stagger, a last piece is under the minimum.
"""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stringline.finding import finding
from stringline.nesting.fleet_fit import improve, pick, seeds, solve
from stringline.nesting.fleet_lp import Relaxed, relax
from stringline.nesting.fleet_model import Broken, Fleet, Ints, make_fleet
from stringline.nesting.fleet_price import Way, cost, within
from stringline.nesting.runs import Opened, RunPlan, run_plan
from stringline.nesting.stock_model import Progress
from stringline.nesting.variants import RunRules, StickRun

POOL = 150_000  # ways that are listed at most to close a gap


@dataclass(frozen=True, slots=True)
class FleetPlan:
    """All runs with their sticks; lengths in grains.

    ``bound`` is proven: no plan buys less. ``rack_used`` are the numbers of the rack pieces that are taken,
    ``back_on_rack`` the lengths that return to it with a factory end.
    """

    runs: tuple[RunPlan, ...]
    opened: tuple[Opened, ...]
    bought: int
    bound: int
    sticks: tuple[tuple[int, int], ...]  # stick length, how many are bought
    rack_used: tuple[int, ...]
    back_on_rack: tuple[int, ...]
    scrap: int  # ends without a factory end, and kerf
    broken: tuple[Broken, ...]

    @property
    def proven(self) -> bool:
        """Whether nothing less can be bought."""
        return self.bought <= self.bound

    @property
    def gap(self) -> float:
        """What the plan buys beyond the bound, as a share of what it buys."""
        return (self.bought - self.bound) / self.bought if self.bought else 0.0

    def run(self, key: str) -> RunPlan:
        """The run with that key; KeyError where there is none."""
        for r in self.runs:
            if r.run.key == key:
                return r
        raise KeyError(key)


def plan_fleet(
    runs: Sequence[StickRun],
    pairs: Sequence[tuple[str, str]],
    sticks: Sequence[int],
    rules: RunRules,
    rack: Sequence[int] = (),
    *,
    seconds: float = 60.0,
    progress: Progress | None = None,
) -> FleetPlan:
    """Choose sticks, last pieces and rack pieces for all runs. ``pairs`` name the left and right runs of one pool.

    Keeps to ``seconds`` and gives the best plan found by then with its bound. Raises as :func:`make_fleet`.

    >>> runs = [StickRun(k, 140) for k in ("a", "b", "c")]
    >>> plan = plan_fleet(runs, [("a", "b")], [100], RunRules(min_last=20, kerf=2))
    >>> plan.bought, plan.proven, plan.sticks
    (500, True, ((100, 5),))
    """
    tell = progress or (lambda _: None)
    began = time.monotonic()
    fleet = make_fleet(runs, pairs, sticks, rules)
    if not fleet.runs:
        return FleetPlan((), (), 0, 0, (), (), (), 0, ())
    ends = np.array(rack, dtype=np.int64)
    first = seeds(fleet, ends)
    relaxed = relax(fleet, ends, first, began + 0.45 * seconds, tell)
    best = pick(fleet, len(rack), relaxed.ways, relaxed.use)
    tell(finding("nesting.plan-from-ways"))
    best = improve(fleet, len(rack), relaxed, best, began + 0.85 * seconds)
    best, bound = _close(fleet, ends, relaxed, best, began + seconds, tell)
    return _plan(fleet, best, bound, rules, tuple(int(r) for r in rack))


def _close(
    fleet: Fleet, rack: Ints, relaxed: Relaxed, best: tuple[Way, ...], deadline: float, tell: Progress
) -> tuple[tuple[Way, ...], int]:
    """Solve over every way that a better plan could hold: with all of them at hand the answer is exact."""
    bought = sum(cost(fleet, w) for w in best)
    slack = bought - 1 - relaxed.bound
    left = deadline - time.monotonic()
    if slack < 0 or left <= 0 or len(fleet.run) > 4000:
        return best, min(bought, relaxed.bound)
    ways = within(fleet, rack, relaxed.gain, relaxed.rack_worth, slack, POOL, deadline - 0.5 * left)
    if ways is None:
        return best, relaxed.bound
    tell(finding("nesting.closing-over-ways", n=len(ways)))
    found, finished = solve(fleet, len(rack), ways, bought - 1, deadline - 0.05 * left)
    if found is not None:
        best, bought = found, sum(cost(fleet, w) for w in found)
    return best, bought if finished else relaxed.bound


def _plan(fleet: Fleet, ways: tuple[Way, ...], bound: int, rules: RunRules, rack: tuple[int, ...]) -> FleetPlan:
    """Write the chosen ways out run by run; everything is counted again in whole numbers, for a solver is not trusted.

    Raises AssertionError where the ways do not make every run exactly once or cannot be cut.
    """
    opened = _opened(fleet, ways, rack)
    used = tuple(sorted(w.rack for w in ways if w.rack >= 0))
    if len(set(used)) != len(used):
        raise AssertionError("a rack piece is used twice")
    plans = _run_plans(fleet, ways, opened, rules)
    sources = tuple(dict.fromkeys(opened.values()))
    sticks = Counter(w for p in plans for w in p.variant.wholes)
    sticks.update(o.stick for o in sources if not o.from_rack)
    bought = sum(n * c for n, c in sticks.items())
    if bought != sum(cost(fleet, w) for w in ways):
        raise AssertionError("the sticks do not add up to what is bought")
    back = tuple(sorted(o.left_over for o in sources if not o.from_rack and len(o.pieces) == 1 and o.left_over > 0))
    return FleetPlan(
        plans,
        sources,
        bought,
        min(bound, bought),
        tuple(sorted(sticks.items(), reverse=True)),
        used,
        back,
        bought + sum(rack[r] for r in used) - fleet.length - sum(back),
        fleet.broken,
    )


def _opened(fleet: Fleet, ways: tuple[Way, ...], rack: tuple[int, ...]) -> dict[int, Opened]:
    """For each item that has a last piece the stick or rack piece that it is cut from."""
    opened: dict[int, Opened] = {}
    for way in ways:
        pieces = tuple((fleet.runs[int(fleet.run[i])].key, int(fleet.last[i])) for i in way.items)
        total = sum(n for _, n in pieces) + fleet.kerf * (len(pieces) - 1)
        if way.rack >= 0:
            source = Opened(rack[way.rack], pieces, 0, True)
        elif way.stick:
            left = way.stick - total - (fleet.kerf if len(pieces) == 1 else 0)
            source = Opened(way.stick, pieces, max(0, left))
        elif total:
            raise AssertionError("a last piece has no stick")
        else:
            continue
        if total > source.stick:
            raise AssertionError("a last piece is longer than what it is cut from")
        opened.update(dict.fromkeys(way.items, source))
    return opened


def _run_plans(fleet: Fleet, ways: tuple[Way, ...], opened: dict[int, Opened], rules: RunRules) -> tuple[RunPlan, ...]:
    """Each run with the variant that its item and its partner's were chosen for."""
    item_of = {int(fleet.run[i]): i for w in ways for i in w.items}
    if len(item_of) != len(fleet.runs) or sum(len(w.items) for w in ways) != len(fleet.runs):
        raise AssertionError("a run is not covered exactly once")
    plans: list[RunPlan] = []
    for r, run in enumerate(fleet.runs):
        mate = fleet.partner.get(r)
        i, j = item_of[r], None if mate is None else item_of[mate]
        if j is None or mate is None or r < mate:
            variant = fleet.made[(i, j)][0]
        else:
            variant = fleet.made[(j, i)][1]
        plans.append(run_plan(run, variant, (opened[i],) if i in opened else (), rules))
    return tuple(plans)
