"""Tracks of one job: factory ends, last pieces, joints clear of pins and of each other; against brute force."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from makers import FOOT, INCH, make_job, make_layout, make_system
from stringline.cutting.pieces import cut_list
from stringline.cutting.sticks import sticks_of
from stringline.finding import code_of
from stringline.lengths import Unit
from stringline.nesting.runs import TracksPlan, open_sticks, plan_tracks
from stringline.nesting.variants import RunRules, StickRun, nearest_joints, variants
from stringline.sheets.voice import Voice

LOOSE = RunRules(min_last=10, kerf=1)
SAY = Voice(Unit.FT_IN).say


def check_sound(plan: TracksPlan, sticks: tuple[int, ...], rules: RunRules) -> None:
    """What must hold of any plan, whatever was best."""
    for r in plan.runs:
        v = r.variant
        assert sum(v.wholes) + v.last == r.run.length
        assert all(w in sticks for w in v.wholes)
        assert v.last == 0 or v.last >= rules.min_last or r.short
        assert (r.last_from is None) == (v.last == 0)
        assert all(abs(p - j) >= rules.clear for p in r.pins for j in v.joints)
    for o in plan.opened:
        assert 1 <= len(o.pieces) <= (1 if o.from_rack else 2)
        assert sum(n for _, n in o.pieces) + rules.kerf * (len(o.pieces) - 1) <= o.stick


def test_whole_sticks_stand_from_the_pulley_and_the_last_piece_has_its_factory_end_at_the_joint() -> None:
    piece = cut_list(make_job(), make_system(), make_layout()).piece("track-left")
    starts = [s.start_m for s in piece.segments]
    assert starts == sorted(starts)
    assert starts[0] == 0.0
    assert not piece.segments[0].whole
    assert all(s.whole for s in piece.segments[1:])
    assert piece.segments[-1].start_m + piece.segments[-1].length_m == pytest.approx(piece.figure.value, abs=1e-7)
    joints = [m.at_m for m in piece.marks if m.kind == "joint"]
    assert joints == pytest.approx(starts[1:], abs=1e-7)
    ends = {m.kind: m.at_m for m in piece.marks if m.kind in ("cut-end", "factory-end")}
    assert ends["cut-end"] == 0.0
    assert ends["factory-end"] == pytest.approx(piece.figure.value, abs=1e-7)


@pytest.mark.parametrize("channel_ft", [30.0, 31.5, 33.5, 35.8, 38.0, 40.25, 44.0])
def test_a_card_sends_an_offcut_to_the_rack_where_the_drawing_of_its_stick_does(channel_ft: float) -> None:
    job, system, layout = make_job(), make_system(), make_layout(channel_m=channel_ft * FOOT)
    said = [
        step.get("left_m")
        for piece in cut_list(job, system, layout).pieces
        for step in piece.steps
        if code_of(step) == "cards.last-offcut" and not isinstance(step, str)
    ]
    assert sorted(said) == sorted(sticks_of(job, system, layout, None).back_m)


def test_left_and_right_joints_are_staggered_where_the_sticks_allow_it() -> None:
    cuts = cut_list(make_job(), make_system(), make_layout())
    left, right = ([m.at_m for m in cuts.piece(f"track-{s}").marks if m.kind == "joint"] for s in ("left", "right"))
    assert min(abs(a - b) for a in left for b in right) >= 2 * FOOT - 1e-6
    assert not any("Left and right joints" in SAY(n) for n in cuts.notes)


def test_one_stick_length_cannot_stagger_and_says_so() -> None:
    cuts = cut_list(make_job(), make_system(stick_lengths_m=(18 * FOOT,)), make_layout())
    assert any("Left and right joints" in SAY(n) for n in cuts.notes)


def test_a_last_piece_that_would_be_too_short_is_avoided_with_another_mix() -> None:
    # 40' 1" from 20' sticks alone would leave 1" over
    cuts = cut_list(make_job(), make_system(stick_lengths_m=(20 * FOOT, 12 * FOOT)), make_layout())
    for side in ("left", "right"):
        assert cuts.piece(f"last-{side}").figure.value >= 3 * FOOT
    only = cut_list(make_job(), make_system(stick_lengths_m=(20 * FOOT,)), make_layout())
    assert any("under the catalogue's" in SAY(n) for n in only.notes)
    assert only.piece("last-left").figure.value == pytest.approx(1 * INCH, abs=1e-7)


def test_a_pin_gives_way_where_no_mix_keeps_a_joint_clear_of_it() -> None:
    run = StickRun("a", 250, (147, 200))
    plan = plan_tracks(run, StickRun("b", 250, ()), (100,), RunRules(min_last=10, kerf=1, clear=5))
    left = plan.run("a")
    assert left.variant.joints == (150, 50)
    assert left.moved == (0,)
    assert left.pins == (145, 200)


def test_joints_avoid_pins_before_pins_avoid_joints() -> None:
    run = StickRun("a", 250, (148,))
    plan = plan_tracks(run, StickRun("b", 250, ()), (100, 90), RunRules(min_last=10, kerf=1, clear=5))
    assert plan.run("a").moved == ()
    assert plan.run("a").pins == (148,)


def test_two_last_pieces_share_a_stick_only_with_a_kerf_between_them() -> None:
    assert len(open_sticks((("a", 50), ("b", 49)), (100,), 1)) == 1
    assert len(open_sticks((("a", 50), ("b", 50)), (100,), 1)) == 2
    assert len(open_sticks((("a", 100),), (100,), 1)) == 1


def test_the_rack_is_used_before_a_stick_is_opened_and_each_piece_once() -> None:
    both = open_sticks((("a", 40), ("b", 40)), (100,), 1, rack=(45,))
    assert sorted(o.from_rack for o in both) in ([False], [False, True])
    assert sum(o.stick for o in both if not o.from_rack) == 100
    assert sum(o.stick for o in open_sticks((("a", 40), ("b", 40)), (100,), 1, rack=(45, 45)) if not o.from_rack) == 0


def test_no_stick_and_no_length_are_refused() -> None:
    with pytest.raises(ValueError, match="stick"):
        plan_tracks(StickRun("a", 10), StickRun("b", 10), (), LOOSE)
    with pytest.raises(ValueError, match="length"):
        plan_tracks(StickRun("a", 0), StickRun("b", 10), (5,), LOOSE)


def brute(left: StickRun, right: StickRun, sticks: tuple[int, ...], rules: RunRules) -> tuple[int, int] | None:
    """Least length opened with every rule kept, and fewest sticks at that; None where no way keeps them all."""
    best: tuple[int, int] | None = None
    ways: list[list[tuple[tuple[int, ...], int, tuple[int, ...]]]] = []
    for run in (left, right):
        mine = []
        for n in range(6):
            for wholes in product(sticks, repeat=n):
                last = run.length - sum(wholes)
                if last < 0 or last > max(sticks) or 0 < last < rules.min_last:
                    continue
                joints = tuple(run.length - sum(wholes[: i + 1]) for i in range(n))
                joints = tuple(j for j in joints if j > 0)
                if all(abs(p - j) >= rules.clear for p in run.pins for j in joints):
                    mine.append((wholes, last, joints))
        ways.append(mine)
    for (wa, la, ja), (wb, lb, jb) in product(*ways):
        if any(abs(x - y) < rules.stagger for x in ja for y in jb):
            continue
        lasts = [x for x in (la, lb) if x]
        opens: list[tuple[int, ...]] = [
            t for t in product(sticks, repeat=len(lasts)) if all(s >= x for s, x in zip(t, lasts, strict=True))
        ]
        if len(lasts) == 2:
            opens += [(s,) for s in sticks if s >= sum(lasts) + rules.kerf]
        for t in opens:
            score = (sum(wa) + sum(wb) + sum(t), len(wa) + len(wb) + len(t))
            best = score if best is None else min(best, score)
    return best


@given(
    lengths=st.tuples(st.integers(60, 300), st.integers(60, 300)),
    sticks=st.lists(st.integers(50, 110), min_size=1, max_size=3, unique=True),
    pins=st.lists(st.integers(5, 300), max_size=4),
    stagger=st.integers(0, 20),
)
@settings(max_examples=150, deadline=None, derandomize=True)
def test_one_job_is_never_beaten_by_brute_force(
    lengths: tuple[int, int], sticks: list[int], pins: list[int], stagger: int
) -> None:
    rules = RunRules(min_last=20, kerf=2, clear=3, stagger=stagger)
    runs = [StickRun(k, n, tuple(p for p in sorted(pins) if p < n)) for k, n in zip("ab", lengths, strict=True)]
    kinds = tuple(sorted(sticks, reverse=True))
    plan = plan_tracks(runs[0], runs[1], kinds, rules)
    expected = brute(runs[0], runs[1], kinds, rules)
    if expected is None:
        assert plan.staggered is False or any(r.moved or r.short for r in plan.runs)
    else:
        assert (plan.bought, plan.sticks) == expected
        check_sound(plan, kinds, rules)


def test_variants_are_all_different_and_all_reach_the_run() -> None:
    found = variants(StickRun("a", 250), (100, 60), 10)
    assert len(set(found)) == len(found)
    assert {v.last for v in found} == {10, 30, 50, 70, 90}
    assert nearest_joints((10, 50), (45, 90)) == 5
    assert nearest_joints((), (45,)) is None


def test_a_long_run_of_short_sticks_is_bounded_and_an_absurd_one_refused() -> None:
    long = plan_tracks(
        StickRun("a", 3000), StickRun("b", 3010), (200, 170, 130), RunRules(min_last=60, kerf=2, stagger=5)
    )
    assert all(60 <= r.variant.last <= 200 or r.variant.last == 0 for r in long.runs)
    assert all(sum(r.variant.wholes) + r.variant.last == r.run.length for r in long.runs)
    with pytest.raises(ValueError, match="run-too-long"):
        plan_tracks(StickRun("a", 3000), StickRun("b", 10), (20,), LOOSE)
