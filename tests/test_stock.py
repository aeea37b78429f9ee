"""Cutting stock against brute force, with kerf, several stock lengths and limits; and what is refused."""

from __future__ import annotations

import random
from collections import Counter
from itertools import product

import pytest

from stringline.nesting.knapsack import Knapsack, full_patterns
from stringline.nesting.stock import Stick, StockPiece, StockPlan, cut_stock
from stringline.nesting.stock_model import StockShortError


def brute(items: list[int], stock: dict[int, int | None], kerf: int) -> tuple[int, int] | None:
    """Least material, then fewest sticks, over every way to part the items and every stick for each part."""
    longest = max(stock)
    best: tuple[int, int] | None = None

    def price(bins: list[list[int]]) -> None:
        nonlocal best
        need = [sum(b) + kerf * (len(b) - 1) for b in bins]
        for chosen in product(*[[s for s in stock if s >= n] for n in need]):
            used = Counter(chosen)
            if all(limit is None or used[s] <= limit for s, limit in stock.items()):
                score = (sum(chosen), len(chosen))
                best = score if best is None else min(best, score)

    def place(i: int, bins: list[list[int]]) -> None:
        if i == len(items):
            price(bins)
            return
        for b in bins:
            if sum(b) + kerf * len(b) + items[i] <= longest:
                b.append(items[i])
                place(i + 1, bins)
                b.pop()
        place(i + 1, [*bins, [items[i]]])

    place(0, [])
    return best


def check_sound(plan: StockPlan, pieces: list[StockPiece], sticks: list[Stick], kerf: int) -> None:
    made: Counter[tuple[str, int]] = Counter()
    used: Counter[str] = Counter()
    for p in plan.patterns:
        n = sum(c for _, _, c in p.pieces)
        full = sum(size * c for _, size, c in p.pieces)
        assert full + kerf * (n - 1) <= p.length
        assert p.left == max(0, p.length - full - kerf * n)
        used[p.stick] += p.times
        for name, size, c in p.pieces:
            made[(name, size)] += c * p.times
    wanted: Counter[tuple[str, int]] = Counter()
    for piece in pieces:
        wanted[(piece.name, piece.length)] += piece.count
    assert made == +wanted
    for s in sticks:
        assert s.count is None or used[s.name] <= s.count
    assert plan.material == sum(p.times * p.length for p in plan.patterns)
    assert plan.waste == plan.material - sum(p.length * p.count for p in pieces)
    assert plan.sticks_used == used.total()
    assert plan.material >= plan.material_bound


def test_small_cases_are_never_beaten_by_brute_force() -> None:
    rng = random.Random(2)
    short = 0
    for _ in range(250):
        lengths = rng.sample(range(20, 60), rng.randint(1, 3))
        sticks = [Stick(f"s{n}", n, rng.choice([None, None, 1, 2, 3])) for n in lengths]
        kerf = rng.choice([0, 1, 3])
        items = [rng.randint(4, max(lengths)) for _ in range(rng.randint(1, 6))]
        pieces = [StockPiece(f"p{i}", n, 1) for i, n in enumerate(items)]
        expected = brute(items, {s.length: s.count for s in sticks}, kerf)
        if expected is None:
            short += 1
            with pytest.raises(StockShortError):
                cut_stock(pieces, sticks, kerf)
            continue
        plan = cut_stock(pieces, sticks, kerf)
        assert (plan.material, plan.sticks_used) == expected
        assert plan.proven
        check_sound(plan, pieces, sticks, kerf)
    assert 10 < short < 150


def test_a_larger_mixed_case_is_sound_and_close_to_its_bound() -> None:
    rng = random.Random(7)
    pieces = [StockPiece(f"p{i}", rng.randint(300, 2900), rng.randint(1, 4)) for i in range(60)]
    sticks = [Stick("long", 6000), Stick("middle", 5000, 12), Stick("short", 3600)]
    plan = cut_stock(pieces, sticks, 3, seconds=4.0)
    check_sound(plan, pieces, sticks, 3)
    assert plan.material <= plan.material_bound * 1.015


def test_a_kerf_is_spent_between_pieces_but_not_after_the_last() -> None:
    assert cut_stock([StockPiece("a", 50, 2)], [Stick("s", 101)], 1).sticks_used == 1
    assert cut_stock([StockPiece("a", 50, 2)], [Stick("s", 100)], 1).sticks_used == 2
    assert cut_stock([StockPiece("a", 100, 1)], [Stick("s", 100)], 5).sticks_used == 1


def test_material_comes_before_sticks() -> None:
    plan = cut_stock([StockPiece("a", 30, 2)], [Stick("long", 100), Stick("short", 45)])
    assert (plan.material, plan.sticks_used) == (90, 2)


def test_where_material_is_equal_fewer_sticks_win() -> None:
    plan = cut_stock([StockPiece("a", 50, 2)], [Stick("long", 100), Stick("short", 50)])
    assert (plan.material, plan.sticks_used, plan.bound, plan.proven) == (100, 1, 1, True)


@pytest.mark.parametrize(
    ("pieces", "sticks", "kerf", "words"),
    [
        ([StockPiece("a", 0, 1)], [Stick("s", 10)], 0, "length above zero"),
        ([StockPiece("a", 5, -1)], [Stick("s", 10)], 0, "count"),
        ([StockPiece("a", 5, 1)], [Stick("s", -10)], 0, "length above zero"),
        ([StockPiece("a", 5, 1)], [Stick("s", 10)], -1, "kerf"),
        ([StockPiece("a", 15, 1)], [Stick("s", 10)], 0, "longer than every stick"),
        ([StockPiece("a", 5, 1)], [Stick("s", 10, 0)], 0, "longer than every stick"),
    ],
)
def test_what_makes_no_sense_is_refused(pieces: list[StockPiece], sticks: list[Stick], kerf: int, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        cut_stock(pieces, sticks, kerf)


def test_nothing_to_cut_takes_nothing() -> None:
    plan = cut_stock([StockPiece("a", 5, 0)], [Stick("s", 10)])
    assert (plan.sticks_used, plan.proven, plan.patterns) == (0, True, ())


def test_awkward_lengths_are_coarsened_without_losing_the_proof_that_matters() -> None:
    rng = random.Random(3)
    pieces = [StockPiece(f"p{i}", rng.randint(900_001, 2_500_003), 1) for i in range(25)]
    sticks = [Stick("s", 6_000_007)]
    plan = cut_stock(pieces, sticks, 3_001, seconds=10.0)
    check_sound(plan, pieces, sticks, 3_001)
    assert plan.sticks_used - plan.bound <= 1


def test_the_knapsack_is_exact_and_its_patterns_are_full() -> None:
    rng = random.Random(11)
    for _ in range(60):
        n = rng.randint(1, 5)
        sizes = [rng.randint(3, 20) for _ in range(n)]
        most = [rng.randint(1, 3) for _ in range(n)]
        values = [rng.randint(0, 30) for _ in range(n)]
        room = rng.randint(20, 60)
        every = [
            c
            for c in product(*[range(m + 1) for m in most])
            if sum(a * b for a, b in zip(c, sizes, strict=True)) <= room
        ]
        worth = {c: sum(a * b for a, b in zip(c, values, strict=True)) for c in every}
        ((best, pattern),) = Knapsack(sizes, most, [room]).patterns(values)
        assert best == max(worth.values()) == worth[pattern]
        assert Knapsack(sizes, most, [room]).best(values) == [best]
        least = best * 3 // 4
        full = {
            c
            for c in every
            if worth[c] >= least
            and not any(
                c[i] < most[i] and sum(a * b for a, b in zip(c, sizes, strict=True)) + sizes[i] <= room
                for i in range(n)
            )
        }
        assert set(full_patterns(sizes, most, room, values, least, 10_000) or ()) == full
