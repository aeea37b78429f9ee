"""Tracks of many jobs with the factory-end rule: against brute force, and sound at size with a small proven gap."""

from __future__ import annotations

import random
from itertools import product

import pytest

from stringline.finding import Finding, code_of
from stringline.lengths import Unit
from stringline.nesting.fleet import FleetPlan, plan_fleet
from stringline.nesting.runs import plan_tracks
from stringline.nesting.variants import RunRules, StickRun
from stringline.sheets.voice import Voice

Way = tuple[int, int, tuple[int, ...]]  # whole sticks' length, last piece, joints


def ways_of(run: StickRun, sticks: list[int], rules: RunRules) -> list[Way]:
    """Every order of whole sticks that keeps the rules for one run, the slow and obvious way."""
    found: list[Way] = []
    for n in range(run.length // min(sticks) + 1):
        for wholes in product(sticks, repeat=n):
            last = run.length - sum(wholes)
            if last < 0 or last > max(sticks) or 0 < last < rules.min_last:
                continue
            joints = tuple(j for j in (run.length - sum(wholes[: i + 1]) for i in range(n)) if j > 0)
            if all(abs(p - j) >= rules.clear for p in run.pins for j in joints):
                found.append((sum(wholes), last, joints))
    return found


def cheapest(lasts: list[int], sticks: list[int], kerf: int, rack: list[int]) -> int:
    """Least length to open for these last pieces, trying everything."""
    if not lasts:
        return 0
    first, rest = lasts[0], lasts[1:]
    if first == 0:
        return cheapest(rest, sticks, kerf, rack)
    best = min(s for s in sticks if s >= first) + cheapest(rest, sticks, kerf, rack)
    for o in set(rack):
        if o >= first:
            less = list(rack)
            less.remove(o)
            best = min(best, cheapest(rest, sticks, kerf, less))
    for i, other in enumerate(rest):
        if other > 0:
            for s in sticks:
                if s >= first + other + kerf:
                    best = min(best, s + cheapest(rest[:i] + rest[i + 1 :], sticks, kerf, rack))
    return best


def brute(
    runs: list[StickRun], pairs: list[tuple[int, int]], sticks: list[int], rules: RunRules, rack: list[int]
) -> int | None:
    best: int | None = None
    known: dict[tuple[int, ...], int] = {}
    for chosen in product(*[ways_of(r, sticks, rules) for r in runs]):
        if any(abs(x - y) < rules.stagger for a, b in pairs for x in chosen[a][2] for y in chosen[b][2]):
            continue
        whole = sum(c[0] for c in chosen)
        if best is not None and whole >= best:
            continue
        lasts = tuple(sorted(c[1] for c in chosen))
        if lasts not in known:
            known[lasts] = cheapest(list(lasts), sticks, rules.kerf, rack)
        total = whole + known[lasts]
        best = total if best is None else min(best, total)
    return best


def check_sound(
    plan: FleetPlan, pairs: list[tuple[str, str]], sticks: list[int], rules: RunRules, rack: list[int]
) -> None:
    pieces = {k: n for o in plan.opened for k, n in o.pieces}
    assert sum(len(o.pieces) for o in plan.opened) == len(pieces)
    for r in plan.runs:
        v = r.variant
        assert sum(v.wholes) + v.last == r.run.length
        assert pieces.get(r.run.key, 0) == v.last
        assert all(w in sticks for w in v.wholes)
    for o in plan.opened:
        assert sum(n for _, n in o.pieces) + rules.kerf * (len(o.pieces) - 1) <= o.stick
        assert len(o.pieces) <= (1 if o.from_rack else 2)
        assert o.from_rack or o.stick in sticks
    assert sorted(o.stick for o in plan.opened if o.from_rack) == sorted(rack[i] for i in plan.rack_used)
    assert plan.bought == sum(n * c for n, c in plan.sticks)
    assert plan.bound <= plan.bought
    given_way = {k for b in plan.broken for k in b.keys}
    for r in plan.runs:
        if r.run.key not in given_way:
            assert not r.moved
            assert r.variant.last == 0 or r.variant.last >= rules.min_last
            assert all(abs(p - j) >= rules.clear for p in r.run.pins for j in r.variant.joints)
    for a, b in pairs:
        if a not in given_way:
            assert all(
                abs(x - y) >= rules.stagger for x in plan.run(a).variant.joints for y in plan.run(b).variant.joints
            )


def test_five_hundred_small_cases_are_never_beaten_by_brute_force() -> None:
    rng = random.Random(41)
    possible = 0
    for case in range(500):
        sticks = rng.sample(range(40, 90), rng.randint(1, 3))
        rules = RunRules(rng.randint(8, 25), rng.randint(0, 3), rng.choice([0, 2, 4]), rng.choice([0, 5, 15]))
        runs, pairs = [], []
        for g in range(rng.randint(1, 2)):
            length = rng.randint(50, 200)
            for side in "lr" if rng.random() < 0.7 else "l":
                n = length + rng.randint(-3, 3)
                pins = tuple(sorted(rng.sample(range(5, n), rng.randint(0, 3))))
                runs.append(StickRun(f"{g}{side}", n, pins))
            if len(runs) >= 2 and runs[-2].key[0] == runs[-1].key[0]:
                pairs.append((len(runs) - 2, len(runs) - 1))
        rack = [rng.randint(10, 70) for _ in range(rng.randint(0, 2))]
        named = [(runs[a].key, runs[b].key) for a, b in pairs]
        plan = plan_fleet(runs, named, sticks, rules, rack, seconds=20.0)
        expected = brute(runs, pairs, sticks, rules, rack)
        check_sound(plan, named, sticks, rules, rack)
        if expected is None:
            assert plan.broken, f"case {case}"
            continue
        possible += 1
        assert not plan.broken, f"case {case}"
        assert plan.bought == expected, f"case {case}"
        assert plan.proven, f"case {case}"
    assert possible > 250


def invented_jobs(jobs: int, seed: int) -> tuple[list[StickRun], list[tuple[str, str]], list[int], RunRules, list[int]]:
    """Runs read to a sixteenth of an inch, pins every four feet; lengths in sixteenths."""
    rng = random.Random(seed)
    foot, inch = 192, 16
    runs, pairs = [], []
    for j in range(jobs):
        length = rng.uniform(24, 52) * foot
        for side in "lr":
            n = round(length + rng.gauss(0, inch / 4))
            first, last = 7 * inch, n - 6 * inch
            gaps = -(-(last - first) // (4 * foot))
            runs.append(StickRun(f"{j}{side}", n, tuple(first + (last - first) * i // gaps for i in range(gaps + 1))))
        pairs.append((f"{j}l", f"{j}r"))
    rack = [round(rng.uniform(3, 19) * foot) for _ in range(jobs // 2)]
    return runs, pairs, [20 * foot, 16 * foot, 12 * foot], RunRules(3 * foot, 2, 3 * inch, 2 * foot), rack


def test_many_jobs_are_sound_and_proven_within_half_a_percent() -> None:
    runs, pairs, sticks, rules, rack = invented_jobs(40, 3)
    told: list[Finding] = []
    plan = plan_fleet(runs, pairs, sticks, rules, rack, seconds=12.0, progress=told.append)
    check_sound(plan, pairs, sticks, rules, rack)
    assert plan.gap <= 0.005
    assert told
    assert all(code_of(t) not in Voice(Unit.M).say(t) for t in told)
    alone = sum(plan_tracks(runs[2 * j], runs[2 * j + 1], tuple(sticks), rules).bought for j in range(len(pairs)))
    assert plan.bought < alone


def test_a_stick_gives_two_last_pieces_and_an_offcut_one() -> None:
    runs = [StickRun(k, 140) for k in "abc"]
    plan = plan_fleet(runs, [], [100], RunRules(10, 2), [])
    assert plan.bought == 300 + 200  # 40 + 40 from one stick, the third from another
    plan = plan_fleet(runs, [], [100], RunRules(10, 2), [85])
    assert plan.bought == 300 + 100  # the rack's 85 would hold two, but has one factory end
    assert plan.rack_used == (0,)


def test_what_returns_to_the_rack_keeps_its_factory_end() -> None:
    plan = plan_fleet([StickRun("a", 140)], [], [100], RunRules(10, 2))
    assert plan.back_on_rack == (58,)
    assert plan.scrap == 2


def test_nothing_to_make_and_nonsense() -> None:
    assert plan_fleet([], [], [100], RunRules(10, 2)).bought == 0
    for runs, pairs, sticks in (
        ([StickRun("a", 0)], [], [100]),
        ([StickRun("a", 10), StickRun("a", 20)], [], [100]),
        ([StickRun("a", 10)], [("a", "b")], [100]),
        ([StickRun("a", 10)], [], []),
    ):
        with pytest.raises(ValueError):
            plan_fleet(runs, pairs, sticks, RunRules(1, 0))
