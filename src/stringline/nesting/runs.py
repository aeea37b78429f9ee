"""The tracks of one job: which sticks, where the joints fall, what the last pieces are and which sticks they come from.

Exact over one job: every order of whole sticks on the left is held against every one on the right. What is wanted comes
in this order, each before the next: no last piece under the minimum; left and right joints staggered; no pin to move
out of a joint's way; least length opened; fewest sticks; fewest joints; the longer of the shortest last pieces.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import product

from stringline.finding import Refused, finding
from stringline.nesting.variants import RunRules, RunVariant, StickRun, nearest_joints, options_of


@dataclass(frozen=True, slots=True)
class Opened:
    """A stick or rack piece that is cut for one or two last pieces; all in grains.

    ``left_over`` is what remains with a factory end for the rack (after one piece) or without one (after two: scrap).
    """

    stick: int
    pieces: tuple[tuple[str, int], ...]
    left_over: int
    from_rack: bool = False


@dataclass(frozen=True, slots=True)
class RunPlan:
    """One run as it will be made, in grains from the housing end. ``pins`` are where they will go."""

    run: StickRun
    variant: RunVariant
    last_from: Opened | None
    pins: tuple[int, ...]
    moved: tuple[int, ...]  # indices of pins that gave way to a joint
    short: bool  # the last piece is under the minimum because nothing else was possible


@dataclass(frozen=True, slots=True)
class TracksPlan:
    """All runs of one job. ``staggered`` is None where a side has no joint."""

    runs: tuple[RunPlan, ...]
    opened: tuple[Opened, ...]
    bought: int  # length of new sticks, whole and opened
    sticks: int  # number of new sticks
    staggered: bool | None
    gap: int | None  # smallest distance between a left and a right joint

    def run(self, key: str) -> RunPlan:
        """The run with that key; KeyError where there is none."""
        for r in self.runs:
            if r.run.key == key:
                return r
        raise KeyError(key)


def plan_tracks(
    left: StickRun, right: StickRun, sticks: tuple[int, ...], rules: RunRules, rack: tuple[int, ...] = ()
) -> TracksPlan:
    """Choose sticks, orders and last pieces for a left and a right run. ``rack`` pieces have one factory end each.

    Raises Refused where there is no stick or a run has no length.

    >>> plan = plan_tracks(StickRun("l", 250), StickRun("r", 250), (100,), RunRules(min_last=20, kerf=1))
    >>> [(r.variant.wholes, r.variant.last) for r in plan.runs], plan.bought, plan.sticks
    ([((100, 100), 50), ((100, 100), 50)], 600, 6)
    """
    if not sticks or min(sticks) <= 0:
        raise Refused("nesting.no-stick")
    for run in (left, right):
        if run.length <= 0:
            raise Refused(finding("nesting.run-no-length", run=run.key))
    # Tuples of what is wanted before the sticks are opened: no pair is better than its own, so the rest is skipped.
    lefts, rights = (_ranked(options_of(r, sticks, rules)) for r in (left, right))
    best: tuple[tuple[int, ...], RunVariant, RunVariant, tuple[Opened, ...]] | None = None
    for (a_short, a_pins, a_whole), i, a in lefts:
        for (b_short, b_pins, b_whole), j, b in rights:
            whole = a_whole + b_whole
            if best is not None and (a_short + b_short, 0, a_pins + b_pins, whole) > best[0][:4]:
                break
            gap = nearest_joints(a.joints, b.joints)
            close = int(gap is not None and gap < rules.stagger)
            broken = (a_short + b_short, close, a_pins + b_pins)
            if best is not None and (*broken, whole) > best[0][:4]:
                continue
            opened = open_sticks(((left.key, a.last), (right.key, b.last)), sticks, rules.kerf, rack)
            new = [o for o in opened if not o.from_rack]
            lasts = [v.last for v in (a, b) if v.last > 0]
            score: tuple[int, ...] = (
                *broken,
                whole + sum(o.stick for o in new),
                len(a.wholes) + len(b.wholes) + len(new),
                len(a.joints) + len(b.joints),
                -min(lasts, default=0),
                i,
                j,
            )
            if best is None or score < best[0]:
                best = (score, a, b, opened)
    assert best is not None
    score, a, b, opened = best
    gap = nearest_joints(a.joints, b.joints)
    return TracksPlan(
        (run_plan(left, a, opened, rules), run_plan(right, b, opened, rules)),
        opened,
        score[3],
        score[4],
        None if gap is None else gap >= rules.stagger,
        gap,
    )


def _ranked(options: list[tuple[RunVariant, int, int]]) -> list[tuple[tuple[int, int, int], int, RunVariant]]:
    """Variants with what is wanted of them (short, pins in the way, whole sticks) and their place, least first."""
    return sorted(((short, pins, v.whole_length), n, v) for n, (v, short, pins) in enumerate(options))


def open_sticks(
    lasts: tuple[tuple[str, int], ...], sticks: tuple[int, ...], kerf: int, rack: tuple[int, ...] = ()
) -> tuple[Opened, ...]:
    """Cheapest sticks to open for one or two last pieces: off the rack first, both from one stick where that is less.

    A rack piece gives one last piece, a stick at most two, one from each of its factory ends with a saw cut between.
    Cheapest is least length of new sticks, then fewest of them, then least length taken from the rack.

    >>> [(o.stick, len(o.pieces)) for o in open_sticks((("l", 50), ("r", 49)), (100,), kerf=1)]
    [(100, 2)]
    >>> [(o.stick, o.from_rack) for o in open_sticks((("l", 50), ("r", 50)), (100,), kerf=1, rack=(55,))]
    [(100, False), (55, True)]
    """
    wanted = tuple((k, n) for k, n in lasts if n > 0)
    ways: list[tuple[Opened, ...]] = []
    singles = [_single_ways(k, n, sticks, kerf, rack) for k, n in wanted]
    if len(wanted) < 2:
        ways = [(o,) for s in singles for o in s] or [()]
    else:
        for first in singles[0]:
            for second in singles[1]:
                if first.from_rack and second.from_rack and first.stick == second.stick and rack.count(first.stick) < 2:
                    continue
                ways.append((first, second))
        total = wanted[0][1] + wanted[1][1] + kerf
        ways.extend((Opened(s, wanted, s - total),) for s in sticks if s >= total)
    return min(ways, key=_open_cost)


def _open_cost(way: tuple[Opened, ...]) -> tuple[int, int, int]:
    new = [o.stick for o in way if not o.from_rack]
    return sum(new), len(new), sum(o.stick for o in way if o.from_rack)


def _single_ways(key: str, length: int, sticks: tuple[int, ...], kerf: int, rack: tuple[int, ...]) -> list[Opened]:
    smallest = min(s for s in sticks if s >= length)
    ways = [Opened(smallest, ((key, length),), max(0, smallest - length - kerf))]
    ways += [Opened(r, ((key, length),), 0, True) for r in sorted(set(rack)) if r >= length]
    return ways


def run_plan(run: StickRun, variant: RunVariant, opened: tuple[Opened, ...], rules: RunRules) -> RunPlan:
    """One run with where its last piece comes from, and its pins moved out of the joints' way where they must.

    A pin that is nearer than ``clear`` to a joint moves to that distance, on the side where it stood.

    >>> made = run_plan(StickRun("a", 250, (148,)), RunVariant((100, 100), 50, (150, 50)), (), RunRules(10, 1, clear=5))
    >>> made.pins, made.moved
    ((145,), (0,))
    """
    pins = list(run.pins)
    moved: list[int] = []
    for i, p in enumerate(pins):
        near = [j for j in variant.joints if abs(p - j) < rules.clear]
        if near:
            j = min(near, key=lambda k: abs(p - k))
            pins[i] = j - rules.clear if p < j or p + rules.clear > run.length else j + rules.clear
            moved.append(i)
    source = next((o for o in opened if any(k == run.key for k, _ in o.pieces)), None)
    short = 0 < variant.last < rules.min_last
    return RunPlan(run, variant, source, tuple(pins), tuple(moved), short)


def lacking(
    ordered: Counter[int],
    left: StickRun,
    right: StickRun,
    sticks: tuple[int, ...],
    rules: RunRules,
    rack: tuple[int, ...] = (),
) -> tuple[tuple[int, ...], bool]:
    """Sticks to order on top, cheapest first, so that both runs can be made; () where what was ordered does.

    Every pair of variants and every way to open sticks is tried. The second answer says whether the joints then keep
    their stagger. ``sticks`` are the lengths that can be bought; a ``rack`` piece gives one last piece.

    >>> run = StickRun("l", 250)
    >>> lacking(Counter({100: 5}), run, run, (100,), RunRules(min_last=20, kerf=1))
    ((100,), True)
    """
    best: tuple[tuple[int, ...], tuple[int, ...], bool] | None = None
    for (a, a_short, a_pins), (b, b_short, b_pins) in product(
        options_of(left, sticks, rules), options_of(right, sticks, rules)
    ):
        gap = nearest_joints(a.joints, b.joints)
        close = gap is not None and gap < rules.stagger
        for opened in _openings([v.last for v in (a, b) if v.last > 0], sticks, rules.kerf, rack):
            need = Counter([*a.wholes, *b.wholes, *opened])
            more = tuple(sorted((need - ordered).elements(), reverse=True))
            score = (a_short + b_short, sum(more), int(close), a_pins + b_pins, len(more))
            if best is None or score < best[0]:
                best = (score, more, not close)
    assert best is not None
    return best[1], best[2]


def _openings(lasts: list[int], sticks: tuple[int, ...], kerf: int, rack: tuple[int, ...]) -> list[tuple[int, ...]]:
    """Sticks to open for the last pieces: one each, one for the two, or none where the rack holds the piece."""
    ways: list[tuple[int, ...]] = []
    for w in product(*[[s for s in sticks if s >= n] + [-r for r in set(rack) if r >= n] for n in lasts]):
        taken = Counter(-x for x in w if x < 0)
        if not taken - Counter(rack):
            ways.append(tuple(x for x in w if x > 0))
    if len(lasts) == 2:
        ways += [(s,) for s in sticks if s >= sum(lasts) + kerf]
    return ways
