"""Small parts: each count against the same count done by hand."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from makers import FOOT, make_job, make_layout, make_system
from stringline.cutting.pieces import cut_list, parts
from stringline.system.model import System
from stringline.worked import Kind


def counts(system: System) -> dict[str, float]:
    job, layout = make_job(), make_layout()
    found = parts(job, system, layout, cut_list(job, system, layout))
    assert all(line.count.kind is Kind.COUNT and line.count.rule for line in found.lines)
    return {line.key: line.count.value for line in found.lines}


def test_counts_follow_their_rules() -> None:
    found = counts(make_system())
    # 40' channel, 6" from either end: 39' at no more than 2' is 20 gaps, 21 pins a side
    assert found["pin"] == 42
    joints = found["splice"]
    assert joints == sum(
        m.kind == "joint"
        for p in cut_list(make_job(), make_system(), make_layout()).pieces
        if p.key.startswith("track")
        for m in p.marks
    )
    assert found["screw"] == 4 * joints + 2
    # 39' 10 1/2" in 4' wedges: 9 whole and a cut one a side
    assert found["wedge"] == 20
    # 39' 11 1/2" from 10' and 8' strip: four of 10' waste least
    assert found["filler"] == 8


def test_spaced_wedges_are_all_whole() -> None:
    system = make_system()
    spaced = replace(system, hardware=replace(system.hardware, wedge_spacing_m=6 * FOOT))
    # first at the far end, then every 6' while a whole one still ends 1 1/2" short of 40': 0, 6, 12 … 30
    assert counts(spaced)["wedge"] == 2 * 6


@pytest.mark.parametrize("spacing", [1 * FOOT, 3 * FOOT, 100 * FOOT])
def test_pins_are_never_further_apart_than_the_catalogue_says(spacing: float) -> None:
    job, system, layout = make_job(), make_system(pin_spacing_m=spacing, joint_clear_m=0.0), make_layout()
    pins = [m.at_m for m in cut_list(job, system, layout).piece("track-left").marks if m.kind == "pin"]
    assert all(b - a <= spacing + 1e-6 for a, b in pairwise(pins))
