"""Blind test, small: crooked covers made by a second machine that shares no formula with the diagnosis.

The full two thousand are run by bench/bench_diagnosis.py; here the bounds leave room for the smaller sample.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from blind import Score, blind, covers, thinned
from makers import make_layout
from stringline.mechanics.machine import machine_of
from stringline.system.read import load_system

COVERS = 60


@pytest.fixture(scope="module")
def both() -> tuple[list[Score], list[Score]]:
    """Scores on full sheets, and on the same covers with poor sheets."""
    system = load_system("invented-18")
    machine = machine_of(system, make_layout())
    made = covers(machine, system.motor, COVERS, 2024)
    rng = np.random.default_rng(3)
    return blind(machine, system.motor, made), blind(machine, system.motor, [thinned(c, rng) for c in made])


@pytest.fixture(scope="module")
def scores(both: tuple[list[Score], list[Score]]) -> list[Score]:
    return both[0]


def at_least(share: float, n: int) -> float:
    """Lowest share that a sample of n shows in 999 of 1000 cases where the true share is the one wanted."""
    return share - 3.09 * math.sqrt(share * (1 - share) / n)


def test_right_main_cause_comes_first(scores: list[Score]) -> None:
    assert len(scores) == COVERS
    assert np.mean([s.right for s in scores]) >= at_least(0.90, COVERS)


def test_amounts_lie_within_two_sigma(scores: list[Score]) -> None:
    covered = [s.covered for s in scores if s.covered is not None]
    assert np.mean(covered) >= at_least(0.93, len(covered))


def test_never_wrongly_certain(scores: list[Score]) -> None:
    """A sure answer is right; where it is not sure, the true cause is nearly always among those it names."""
    sure = [s for s in scores if s.sure]
    assert sum(not s.right for s in sure) <= 2
    open_ = [s for s in scores if not s.sure]
    assert sum(not s.told for s in open_) <= max(1, len(open_) // 4)


def test_two_causes_are_among_them(scores: list[Score]) -> None:
    assert sum(len(s.truth.causes) == 2 for s in scores) > COVERS // 6
    assert len({s.truth.causes[0][0] for s in scores}) >= 6


def test_poor_sheets_are_said_to_be_poor(both: tuple[list[Score], list[Score]]) -> None:
    """With few readings it is less often sure, and what it then promises still comes true."""
    full, poor = both
    assert sum(s.sure for s in poor) < sum(s.sure for s in full)
    promised = float(np.mean([s.probability_main for s in poor]))
    came_true = float(np.mean([s.right for s in poor]))
    assert came_true > promised - 3.09 * math.sqrt(promised * (1 - promised) / len(poor)) - 0.05
