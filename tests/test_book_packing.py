"""Which cut cards share a sheet, and how tall each is taken to be."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from book_makers import full
from stringline.book.pages_packing import GAP_MM, laid_out, packed, step_columns
from stringline.cutting.result import CutList
from stringline.sheets.cards import cut_cards
from stringline.sheets.model import Item
from stringline.sheets.voice import Voice

BOUNDED = settings(max_examples=60, deadline=None, derandomize=True, phases=(Phase.explicit, Phase.generate))


def sheets_of(order: list[int], heights: list[float], first: float, sheet: float) -> int:
    """Sheets that a typesetter takes who sets one after the other and never looks back."""
    count, room = 1, first
    for k in order:
        if heights[k] + GAP_MM > room and room != sheet + GAP_MM:
            count, room = count + 1, sheet + GAP_MM
        room -= heights[k] + GAP_MM
    return count


@given(st.lists(st.floats(20.0, 250.0), max_size=20), st.floats(0.0, 230.0))
@BOUNDED
def test_packing_places_each_once_and_never_takes_more_sheets_than_the_list_as_it_is(
    heights: list[float], first: float
) -> None:
    order = packed(heights, first, 234.0)
    assert sorted(order) == list(range(len(heights)))
    assert sheets_of(order, heights, first, 234.0) <= sheets_of(list(range(len(heights))), heights, first, 234.0)


def test_halves_pair_and_the_order_is_kept_where_it_costs_nothing() -> None:
    assert packed([110.0, 110.0, 110.0, 110.0], 0.0, 234.0) == [0, 1, 2, 3]
    assert packed([150.0, 110.0, 70.0, 110.0], 0.0, 234.0) == [0, 2, 1, 3]
    assert packed([150.0, 60.0], 80.0, 234.0) == [1, 0]


@given(st.lists(st.text("abc ", min_size=1, max_size=90), max_size=12))
@BOUNDED
def test_steps_keep_their_order_over_the_columns(steps: list[str]) -> None:
    columns = step_columns([Item(s) for s in steps])
    assert [s.text for column in columns for s in column] == steps
    assert len(columns) <= 2
    assert all(columns)


def test_more_words_never_make_a_card_lower() -> None:
    plan = full()
    assert isinstance(plan.cuts, CutList)
    card = cut_cards(plan, plan.cuts, Voice(plan.job.unit))[0]
    height = laid_out(card, 20.0, 180.0)[0]
    assert laid_out(replace(card, cautions=(*card.cautions, Item("One more."))), 20.0, 180.0)[0] > height
    longer = (*card.steps, Item("And one more step " * 6))
    assert laid_out(replace(card, steps=longer), 20.0, 180.0)[0] >= height
    assert laid_out(card, 25.0, 180.0)[0] == height + 5.0
