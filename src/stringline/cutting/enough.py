"""Whether the sticks that were ordered still make the tracks that were built."""

from __future__ import annotations

from collections import Counter
from itertools import product

from stringline.cutting.variants import Run, RunRules, Variant, nearest_joints, options_of


def lacking(
    ordered: Counter[int], left: Run, right: Run, sticks: tuple[int, ...], rules: RunRules
) -> tuple[tuple[int, ...], bool]:
    """Sticks to order on top, cheapest first, so that both runs can be made; () where what was ordered does.

    The second answer says whether the joints then keep their stagger. Sticks are those of the catalogue.
    """
    best: tuple[tuple[int, ...], tuple[int, ...], bool] | None = None
    for (a, a_short, a_pins), (b, b_short, b_pins) in product(
        options_of(left, sticks, rules), options_of(right, sticks, rules)
    ):
        gap = nearest_joints(a.joints, b.joints)
        close = gap is not None and gap < rules.stagger
        for opened in _openings(a, b, sticks, rules.kerf):
            need = Counter([*a.wholes, *b.wholes, *opened])
            more = tuple(sorted((need - ordered).elements(), reverse=True))
            score = (a_short + b_short, sum(more), int(close), a_pins + b_pins, len(more))
            if best is None or score < best[0]:
                best = (score, more, not close)
    assert best is not None
    return best[1], best[2]


def _openings(a: Variant, b: Variant, sticks: tuple[int, ...], kerf: int) -> list[tuple[int, ...]]:
    """Ways to get both last pieces: a stick each, or one stick for the two."""
    lasts = [v.last for v in (a, b) if v.last > 0]
    ways = [tuple(w) for w in product(*[[s for s in sticks if s >= n] for n in lasts])]
    if len(lasts) == 2:
        ways += [(s,) for s in sticks if s >= sum(lasts) + kerf]
    return ways
