"""The tracks of many jobs as one problem: what each run may have as its last piece, and which of them go together.

An *item* is one run with one length of last piece. A pair of runs (left and right of one pool) may bar some items from
going together, because their joints would fall too close; a run may bar some because a joint would sit on a pin.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringline.finding import Refused, finding
from stringline.nesting.variants import RunRules, RunVariant, StickRun, nearest_joints, options_of

Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Broken:
    """Rules that had to give way for a run or a pair, because no mix of sticks keeps to them."""

    keys: tuple[str, ...]
    short: int  # last pieces under the minimum
    close: bool  # joints nearer than the stagger
    pins: int  # pins that stand aside


@dataclass(frozen=True)
class Fleet:
    """Items in the order of their runs, sorted by last piece within a run; all lengths in grains.

    ``barred`` lists, for an item, the items of the partner run that it cannot go with. ``made`` gives the variants for
    a pair of items (the second None for a run without a partner).
    """

    runs: tuple[StickRun, ...]
    sticks: tuple[int, ...]  # longest first
    kerf: int
    run: Ints
    last: Ints
    whole: Ints  # length of the whole sticks
    barred: tuple[tuple[int, tuple[int, ...]], ...]
    made: dict[tuple[int, int | None], tuple[RunVariant, ...]]
    partner: dict[int, int]
    broken: tuple[Broken, ...]

    @property
    def length(self) -> int:
        """Length of all runs together."""
        return sum(r.length for r in self.runs)


def make_fleet(
    runs: Sequence[StickRun], pairs: Sequence[tuple[str, str]], sticks: Sequence[int], rules: RunRules
) -> Fleet:
    """List the items.

    Raises Refused for no stick or a run without length, ValueError for a key given twice or a pair that is unknown.
    """
    if not sticks or min(sticks) <= 0:
        raise Refused("nesting.no-stick")
    at = {r.key: i for i, r in enumerate(runs)}
    if len(at) != len(runs):
        raise ValueError("two runs have the same key")
    for r in runs:
        if r.length <= 0:
            raise Refused(finding("nesting.run-no-length", run=r.key))
    partner: dict[int, int] = {}
    for a, b in pairs:
        if a not in at or b not in at or a == b or at[a] in partner or at[b] in partner:
            raise ValueError(f"the pair '{a}' and '{b}' does not name two runs that have no other partner")
        partner[at[a]], partner[at[b]] = at[b], at[a]
    kinds = tuple(sorted(set(sticks), reverse=True))
    build = _Build(kinds, rules)
    for i, r in enumerate(runs):
        j = partner.get(i)
        if j is None:
            build.alone(i, r)
        elif i < j:
            build.pair(i, j, r, runs[j])
    return build.finish(tuple(runs), partner)


class _Build:
    """Collects items run by run."""

    def __init__(self, sticks: tuple[int, ...], rules: RunRules) -> None:
        self.sticks = sticks
        self.rules = rules
        self.rows: list[tuple[int, int, int]] = []  # run, last, whole
        self.made: dict[tuple[int, int | None], tuple[RunVariant, ...]] = {}
        self.barred: list[tuple[int, tuple[int, ...]]] = []
        self.broken: list[Broken] = []

    def alone(self, i: int, run: StickRun) -> None:
        options = options_of(run, self.sticks, self.rules)
        least = min((s, p) for _, s, p in options)
        best: dict[int, RunVariant] = {}
        for v, s, p in options:
            if (s, p) == least and (v.last not in best or len(v.wholes) < len(best[v.last].wholes)):
                best[v.last] = v
        for last, item in self._items(i, run, sorted(best)).items():
            self.made[(item, None)] = (best[last],)
        if any(least):
            self.broken.append(Broken((run.key,), least[0], False, least[1]))

    def pair(self, i: int, j: int, left: StickRun, right: StickRun) -> None:
        least: tuple[int, bool, int] | None = None
        best: dict[tuple[int, int], tuple[RunVariant, RunVariant]] = {}
        rights = options_of(right, self.sticks, self.rules)
        for a, a_short, a_pins in options_of(left, self.sticks, self.rules):
            for b, b_short, b_pins in rights:
                gap = nearest_joints(a.joints, b.joints)
                score = (a_short + b_short, gap is not None and gap < self.rules.stagger, a_pins + b_pins)
                if least is None or score < least:
                    least, best = score, {}
                old = best.get((a.last, b.last))
                if score == least and (old is None or _sticks(a, b) < _sticks(*old)):
                    best[(a.last, b.last)] = (a, b)
        assert least is not None
        mine = self._items(i, left, sorted({a for a, _ in best}))
        theirs = self._items(j, right, sorted({b for _, b in best}))
        for (a_last, b_last), made in best.items():
            self.made[(mine[a_last], theirs[b_last])] = made
        for a_last, item in mine.items():
            bars = tuple(other for b_last, other in theirs.items() if (a_last, b_last) not in best)
            if bars:
                self.barred.append((item, bars))
        if any(least):
            self.broken.append(Broken((left.key, right.key), least[0], bool(least[1]), least[2]))

    def _items(self, i: int, run: StickRun, lasts: Sequence[int]) -> dict[int, int]:
        first = len(self.rows)
        self.rows += [(i, last, run.length - last) for last in lasts]
        return {last: first + k for k, last in enumerate(lasts)}

    def finish(self, runs: tuple[StickRun, ...], partner: dict[int, int]) -> Fleet:
        table = np.array(self.rows, dtype=np.int64).reshape(-1, 3)
        return Fleet(
            runs,
            self.sticks,
            self.rules.kerf,
            table[:, 0],
            table[:, 1],
            table[:, 2],
            tuple(self.barred),
            self.made,
            partner,
            tuple(self.broken),
        )


def _sticks(a: RunVariant, b: RunVariant) -> int:
    return len(a.wholes) + len(b.wholes)
