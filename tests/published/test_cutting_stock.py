"""Cutting stock: published instances at their proven optimum."""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

import pytest

from stringline.as_json.write import stock_json
from stringline.job.lists import read_stock
from stringline.nesting.listed import cut_listed
from stringline.nesting.stock import Stick, StockPiece, cut_stock

DATA = Path(__file__).parents[1] / "data" / "falkenauer_u120.csv"


def test_seventy_three_sticks() -> None:
    """Source: the standard worked example of the cutting-stock problem, 13 widths from rolls of 5600 — verified.

    Published 73 rolls; ours 73, proven, exactly.
    """
    listed = {
        1380: 22,
        1520: 25,
        1560: 12,
        1710: 14,
        1820: 18,
        1880: 18,
        1930: 20,
        2000: 10,
        2050: 12,
        2100: 14,
        2140: 16,
        2150: 18,
        2200: 20,
    }
    pieces = [StockPiece(str(n), n, count) for n, count in listed.items()]
    plan = cut_stock(pieces, [Stick("roll", 5600)])
    assert (plan.sticks_used, plan.bound, plan.proven) == (73, 73, True)


@pytest.mark.parametrize(
    ("name", "bins"), [("u120_00", 48), ("u120_01", 49), ("u120_02", 46), ("u120_03", 49), ("u120_04", 50)]
)
def test_uniform_bin_packing(name: str, bins: int) -> None:
    """Source: Falkenauer (1996), A hybrid grouping genetic algorithm for bin packing; OR-Library binpack1 — verified.

    120 items in bins of 150: published 48, 49, 46, 49, 50 bins for u120_00 to u120_04; ours the same, proven, exactly.
    """
    items: dict[str, list[int]] = defaultdict(list)
    for line in DATA.read_text(encoding="utf-8").splitlines():
        if not line.startswith(("#", "instance")):
            instance, size = line.split(",")
            items[instance].append(int(size))
    plan = cut_stock([StockPiece(str(i), n, 1) for i, n in enumerate(items[name])], [Stick("bin", 150)])
    assert len(items[name]) == 120
    assert (plan.sticks_used, plan.bound, plan.proven) == (bins, bins, True)


def test_paper_rolls_of_a_hundred_inches() -> None:
    """Source: Chvátal, Linear Programming (1983), cutting-stock example, as quoted by the NEOS Guide — seen.

    97 of 45, 610 of 36, 395 of 31, 211 of 14 from rolls of 100: the linear programme gives 452.25, so 453 rolls; ours
    453, proven, exactly.
    """
    pieces = [StockPiece(str(n), n, count) for n, count in ((45, 97), (36, 610), (31, 395), (14, 211))]
    plan = cut_stock(pieces, [Stick("roll", 100)])
    assert (plan.sticks_used, plan.bound, plan.proven) == (453, 453, True)


def test_a_paper_mill_with_halves_of_an_inch() -> None:
    """Source: Xpress Mosel user guide, column-generation example (paper mill); width 94 from memory — seen.

    150 of 17, 96 of 21, 48 of 22.5, 108 of 24, 227 of 29.5: linear programme 160.95, published plan 161 rolls; ours
    161, proven, exactly. The demands are the totals of the published plan, which makes each of them exactly.
    """
    pieces = "name,length,count\na,17 in,150\nb,21 in,96\nc,22.5 in,48\nd,24 in,108\ne,29.5 in,227\n"
    lists = read_stock(pieces, "name,length,count\nroll,94 in,\n")
    found = stock_json(cut_listed(lists.pieces, lists.sticks, lists.kerf_m))
    assert (found["sticks_used"], found["bound"], found["proven"]) == (161, 161, True)
