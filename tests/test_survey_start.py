"""Starting coordinates from nothing but readings: mirror images, chains, sketches, and readings badly wrong."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from spoken import refused, wrong
from stringline.faults import Faults
from stringline.finding import finding
from stringline.geometry import Array
from stringline.job.model import SurveyInput
from stringline.job.readings import Coordinate, Offset
from stringline.lengths import Length, metres
from stringline.survey.adjust.least_squares import adjust
from stringline.survey.adjust.network import Network
from stringline.survey.adjust.observe import predict
from stringline.survey.approximate.mirror import settle_mirrors
from stringline.survey.approximate.rigidity import check_rigidity
from stringline.survey.approximate.start import find_start
from stringline.survey.build import build_network
from stringline.survey.run import adjusted, survey
from taped import Made, make, tape, taped

GROSS = (0.15, 0.3048, 1.0, 3.048)
SQUARE = {"A": (0.0, 0.0), "B": (5.0, 0.0), "1": (0.0, 8.0), "2": (5.0, 8.0)}
BRACED = [("A", "B"), ("A", "1"), ("B", "1"), ("A", "2"), ("B", "2"), ("1", "2")]


def started(net: Network) -> Array:
    check_rigidity(net)
    start, _ = settle_mirrors(net, find_start(net))
    return start.xy


def weakest(made: Made) -> float:
    """Smallest redundancy number of a survey, at the truth."""
    net = made.network()
    return float(adjust(net, made.true_for(net)).r.min())


def test_one_gross_slip_in_two_hundred_and_fifty_networks_leads_no_start_astray() -> None:
    """Networks whose readings all have r ≥ 0.2; right means within 6 σ of the truth at every point."""
    sound = tried = seed = 0
    while tried < 250:
        seed += 1
        rng = np.random.default_rng([31, seed])
        size = float(rng.choice(GROSS) * rng.choice([-1.0, 1.0]))
        made = make(rng, int(rng.integers(3, 7)), 4, int(rng.integers(2, 6)), slip=size)
        if weakest(made) < 0.2:
            continue
        tried += 1
        net = made.network()
        true = made.true_for(net)
        off = np.hypot(*(find_start(net).xy - true).T)
        loose = np.ones(net.m, dtype=bool)
        loose[int(np.argmax(np.abs(predict(net, true) - net.value)))] = False
        sound += bool((off <= 6.0 * adjust(net, true, use=loose).ellipses[:, 0] + 1e-9).all())
    assert sound >= 0.99 * tried, sound


def test_clean_networks_start_right() -> None:
    """Or are refused because a point stands nearly on one line with all that holds it, and so has two places."""
    refused = 0
    for seed in range(100):
        rng = np.random.default_rng([32, seed])
        made = make(rng, int(rng.integers(3, 12)), 3, int(rng.integers(1, 6)))
        net = made.network()
        limit = 6.0 * adjust(net, made.true_for(net)).ellipses[:, 0]
        try:
            off = np.hypot(*(started(net) - made.true_for(net)).T)
        except Faults as faults:
            refused += 1 if {f.code for f in faults.faults} == {"mirror"} else 100
        else:
            assert (off <= limit + 1e-9).all(), seed
    assert refused <= 2


def test_forty_points_start_right() -> None:
    for slip in (0.0, 0.3048):
        made = make(np.random.default_rng(33), 38, 4, 10, slip=slip)
        net = made.network()
        assert started(net) == pytest.approx(made.true_for(net), abs=0.05)


def test_a_chain_leads_away_from_the_baseline() -> None:
    xy = dict(SQUARE)
    lines = list(BRACED)
    before = ("1", "2")
    for k in range(3, 9, 2):
        one, two = str(k), str(k + 1)
        xy[one], xy[two] = (0.5 * k, 6.0 + 2.0 * k), (0.5 * k + 4.0, 6.5 + 2.0 * k)
        lines += [(before[0], one), (before[1], one), (before[0], two), (before[1], two), (one, two)]
        before = (one, two)
    net = build_network(SurveyInput(taped(xy, lines), baseline=("A", "B")))
    true = np.array([xy[n] for n in net.names])
    with pytest.raises(Faults):  # each rung could be turned over about the one before
        started(net)
    lines += [("A", "3"), ("1", "5"), ("3", "7")]
    net = build_network(SurveyInput(taped(xy, lines), baseline=("A", "B")))
    true = np.array([xy[n] for n in net.names])
    assert started(net) == pytest.approx(true, abs=1e-6)


def test_two_bodies_tied_by_lines_that_meet_no_point_twice() -> None:
    xy = {"A": (0.0, 0.0), "B": (4.0, 0.0), "1": (2.0, 3.0), "5": (1.0, 6.0), "6": (4.0, 7.0), "7": (2.0, 9.0)}
    bars = [("A", "B"), ("A", "1"), ("B", "1"), ("5", "6"), ("6", "7"), ("5", "7"), ("A", "5"), ("B", "6"), ("1", "7")]
    with refused("just as well in another place"):
        survey(SurveyInput(taped(xy, bars), baseline=("A", "B")))
    found = survey(SurveyInput(taped(xy, [*bars, ("A", "7"), ("B", "5")]), baseline=("A", "B")))
    for name, at in xy.items():
        assert found.at(name) == pytest.approx(at, abs=1e-6)


def test_a_baseline_that_nobody_taped() -> None:
    found = survey(SurveyInput(taped(SQUARE, BRACED[1:]), baseline=("A", "B")))
    assert found.at("2") == pytest.approx((5.0, 8.0), abs=1e-6)


def test_points_lie_left_of_the_baseline_unless_behind() -> None:
    xy = {**SQUARE, "5": (2.0, -3.0)}
    tapes = taped(xy, [*BRACED, ("A", "5"), ("B", "5")])
    left = survey(SurveyInput(tapes, baseline=("A", "B")))
    assert left.at("5") == pytest.approx((2.0, 3.0), abs=1e-6)
    behind = survey(SurveyInput(tapes, baseline=("A", "B"), behind=("5",)))
    assert behind.at("5") == pytest.approx((2.0, -3.0), abs=1e-6)


def test_readings_beat_a_side_forgotten_and_say_so() -> None:
    xy = {**SQUARE, "5": (2.0, -3.0)}
    tapes = taped(xy, [*BRACED, ("A", "5"), ("B", "5"), ("1", "5"), ("2", "5")])
    found = survey(SurveyInput(tapes, baseline=("A", "B")))
    assert found.at("5") == pytest.approx((2.0, -3.0), abs=1e-6)
    assert finding("survey.stands-behind", point="5", a="A", b="B") in found.notes


HUNG = {**SQUARE, "3": (2.5, 9.5)}
HANGING = [*BRACED, ("1", "3"), ("2", "3")]


def test_a_sketch_of_any_scale_and_turn_decides_a_mirror_image() -> None:
    for x, y, above in ((2.5, 9.5, True), (2.5, 6.5, False)):
        xy = {**SQUARE, "3": (x, y)}
        for turn in (0.0, 2.0):
            for scale in (1.0, 40.0):
                c, s = scale * np.cos(turn), scale * np.sin(turn)
                rough = {"1": (0.3, 7.0), "2": (4.0, 8.5), "3": (2.0, 11.0 if above else 5.0), "A": (0.5, 0.0)}
                sketch = {k: (7 + c * a - s * b, s * a + c * b) for k, (a, b) in rough.items()}
                spec = SurveyInput(taped(xy, HANGING), baseline=("A", "B"), sketch=sketch)
                assert survey(spec).at("3") == pytest.approx((x, y), abs=1e-6)


def test_a_sketch_decides_instead_of_behind() -> None:
    xy = {**SQUARE, "5": (2.0, -3.0)}
    tapes = taped(xy, [*BRACED, ("A", "5"), ("B", "5")])
    sketch = {"A": (0.0, 0.0), "B": (1.0, 0.1), "5": (0.4, -0.5)}
    found = survey(SurveyInput(tapes, baseline=("A", "B"), sketch=sketch))
    assert found.at("5") == pytest.approx((2.0, -3.0), abs=1e-6)


def test_control_with_a_sketch() -> None:
    known = {"K": (100.0, 50.0), "L": (106.0, 50.0)}
    xy = {**known, "P": (102.0, 46.0), "Q": (105.0, 45.0)}
    lines = [("K", "P"), ("L", "P"), ("K", "Q"), ("L", "Q"), ("P", "Q")]
    with refused("P and Q"):
        survey(SurveyInput(taped(xy, lines), known=known))
    found = survey(SurveyInput(taped(xy, lines), known=known, sketch=xy))
    assert found.at("Q") == pytest.approx((105.0, 45.0), abs=1e-6)
    assert [p.fixed for p in found.points] == [True, True, False, False]


def test_a_stringline_offset_needs_no_side() -> None:
    def length(m: float) -> Length:
        return Length(m, f"{m} m", "m")

    offsets = (Offset("A", "B", length(2.0), length(-1.5), "7"), Offset("1", "2", length(3.0), length(2.0), "8"))
    found = survey(SurveyInput(taped(SQUARE, BRACED), baseline=("A", "B"), offsets=offsets))
    assert found.at("7") == pytest.approx((2.0, -1.5), abs=1e-6)
    assert found.at("8") == pytest.approx((3.0, 10.0), abs=1e-6)


def test_observed_coordinates_carry_the_frame() -> None:
    seen = {"1": (20.0, 31.0), "2": (24.0, 34.0), "P": (20.0, 36.0)}
    coordinates = tuple(Coordinate(n, metres(seen[n][0]), metres(seen[n][1]), 0.003) for n in ("1", "2"))
    lines = [("1", "2"), ("1", "P"), ("2", "P")]
    spec = SurveyInput(taped(seen, lines), sketch={"1": (0, 0), "2": (4, 3), "P": (0, 5)}, coordinates=coordinates)
    found = survey(spec)
    assert found.at("P") == pytest.approx((20.0, 36.0), abs=1e-6)
    assert not any(p.fixed for p in found.points)
    assert found.freedom == 1


@pytest.mark.parametrize("slip", [*GROSS, 9.0, -4.0])
def test_a_gross_slip_ends_in_a_suspect_or_a_fault_that_names_it(slip: float) -> None:
    xy = {**SQUARE, "3": (2.5, 9.5)}
    tapes = list(taped(xy, [*BRACED, ("A", "3"), ("B", "3"), ("1", "3"), ("2", "3")]))
    bad = tapes[8]
    tapes[8] = tape(bad.a, bad.b, abs(bad.length.m + slip), line=bad.line)
    assert named(SurveyInput(tuple(tapes), baseline=("A", "B"))) == {"1", "3"}


def named(spec: SurveyInput) -> set[str]:
    """Ends of the line that a survey blames, be it as a suspect or in a fault."""
    try:
        found = survey(spec)
    except Faults as faults:
        return set(wrong(faults.faults[0]).split()[0].split("–"))
    return {found.suspects[0].frm, found.suspects[0].to} if found.suspects else set()


def test_a_grossly_misread_survey_never_crashes() -> None:
    for seed in range(40):
        rng = np.random.default_rng([34, seed])
        made = make(rng, int(rng.integers(2, 6)), 3, int(rng.integers(0, 3)))
        wild = tuple(
            tape(t.a, t.b, t.length.m * float(rng.uniform(0.2, 3.0)) if rng.random() < 0.4 else t.length.m)
            for t in made.spec.tapes
        )
        net = build_network(replace(made.spec, tapes=wild))
        try:
            start, _ = settle_mirrors(net, find_start(net))
            found = adjusted(net, start)
        except Faults:
            continue
        assert np.isfinite(found.xy).all()
        assert np.isfinite(found.Q).all()


def right_angle(a: str, b: str, off: float, point: str) -> Offset:
    return Offset(a, b, None, Length(off, f"{off} m", "m"), point)


def test_a_right_angle_offset_and_a_tape_leave_two_places() -> None:
    xy = {**SQUARE, "7": (3.5, 2.0)}
    tapes = taped(xy, [*BRACED, ("1", "7")])
    with refused("7 fits the readings just as well in another place"):
        survey(SurveyInput(tapes, baseline=("A", "B"), offsets=(right_angle("A", "B", 2.0, "7"),)))
    found = survey(
        SurveyInput(
            taped(xy, [*BRACED, ("1", "7"), ("2", "7")]),
            baseline=("A", "B"),
            offsets=(right_angle("A", "B", 2.0, "7"),),
        ),
    )
    assert found.at("7") == pytest.approx((3.5, 2.0), abs=1e-6)
    assert found.freedom == 2


def test_a_gross_offset_is_outvoted() -> None:
    xy = {**SQUARE, "7": (3.5, 2.0)}
    tapes = taped(xy, [*BRACED, ("A", "7"), ("B", "7"), ("1", "7"), ("2", "7")])
    net = build_network(SurveyInput(tapes, baseline=("A", "B"), offsets=(right_angle("A", "B", 3.0, "7"),)))
    start = find_start(net)
    assert start.xy[net.index["7"]] == pytest.approx((3.5, 2.0), abs=0.01)
    assert start.outlying.tolist() == [False] * 10 + [True]


@pytest.mark.parametrize("seed", range(8))
def test_two_bodies_of_many_points_find_each_other(seed: int) -> None:
    """Each braced in itself, tied by four or five lines: no point of the second can be placed from the first alone."""
    rng = np.random.default_rng([35, seed])
    size = int(rng.integers(4, 8))
    one = {"A": (0.0, 0.0), "B": (5.0, 0.0), "1": (1.0, 6.0), "2": (4.0, 7.0)}
    two = {f"q{i}": (float(rng.uniform(0.0, 6.0)), float(rng.uniform(8.0, 15.0))) for i in range(size)}
    q = list(two)
    lines = [(a, b) for a in one for b in one if a < b]
    lines += [(q[j], q[k]) for k in range(1, size) for j in range(max(0, k - 3), k)]
    lines += [(list(one)[t % 4], q[t % size]) for t in range(int(rng.integers(4, 6)))]
    found = survey(SurveyInput(taped({**one, **two}, lines), baseline=("A", "B")))
    for name, at in {**one, **two}.items():
        assert found.at(name) == pytest.approx(at, abs=1e-6)
