"""Whether the sticks that were ordered still make the tracks that were built."""

from __future__ import annotations

from collections import Counter
from itertools import product

from stringline.nesting.variants import Run, RunRules, nearest_joints, options_of


def lacking(
    ordered: Counter[int],
    left: Run,
    right: Run,
    sticks: tuple[int, ...],
    rules: RunRules,
    rack: tuple[int, ...] = (),
) -> tuple[tuple[int, ...], bool]:
    """Sticks to order on top, cheapest first, so that both runs can be made; () where what was ordered does.

    The second answer says whether the joints then keep their stagger. Sticks are those of the catalogue; a ``rack``
    piece gives one last piece.
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
