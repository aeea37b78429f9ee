"""What is refused, and with which names: loose points, mirror images, points on one line, contradictions."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spoken import right, wrong
from stringline.faults import Fault, Faults
from stringline.finding import code_of, within
from stringline.job.model import SurveyInput
from stringline.job.readings import Offset
from stringline.lengths import Length
from stringline.survey.approximate.mirror import cut_off
from stringline.survey.approximate.rigidity import check_rigidity
from stringline.survey.build import build_network
from stringline.survey.run import survey
from taped import make, tape, taped

XY = {
    "A": (0.0, 0.0),
    "B": (5.0, 0.0),
    "1": (0.3, 8.0),
    "2": (5.0, 8.4),
    "3": (2.5, 9.5),
    "4": (2.2, 12.0),
    "5": (4.0, 13.0),
}
BRACED = [("A", "B"), ("A", "1"), ("B", "1"), ("A", "2"), ("B", "2"), ("1", "2")]


def refused(spec: SurveyInput) -> tuple[Fault, ...]:
    with pytest.raises(Faults) as caught:
        survey(spec)
    return caught.value.faults


def on(lines: list[tuple[str, str]]) -> SurveyInput:
    return SurveyInput(taped(XY, lines), baseline=("A", "B"))


def asked_for(fault: Fault) -> list[tuple[str, str]]:
    """The tapes that a fault asks for."""
    assert code_of(fault.right) == "survey.tape-line"
    return [(f.get("a"), f.get("b")) for f in within(fault.right) if f.code == "survey.line"]


def fixed_by(spec: SurveyInput, fault: Fault) -> SurveyInput:
    """The survey with the tapes that the fault asks for."""
    return replace(spec, tapes=spec.tapes + taped(XY, asked_for(fault), first_line=90))


def test_a_point_on_one_line_is_loose_and_what_is_asked_for_holds_it() -> None:
    spec = on([*BRACED, ("1", "3")])
    (fault,) = refused(spec)
    assert fault.code == "loose-point"
    assert fault.line == 16  # the tape 1–3 stands there
    assert "3 hangs on 1–3 alone" in wrong(fault)
    check_rigidity(build_network(fixed_by(spec, fault)))


def test_everything_loose_is_reported_at_once() -> None:
    spec = on([*BRACED, ("1", "3"), ("4", "5")])
    faults = refused(spec)
    assert [f.code for f in faults] == ["loose-point", "loose-point"]
    assert "3 hangs" in wrong(faults[0])
    assert "4 and 5 can move together" in wrong(faults[1])
    assert [f.line for f in faults] == [16, 17]
    for fault in faults:
        spec = fixed_by(spec, fault)
    check_rigidity(build_network(spec))


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10**6), taken=st.integers(1, 6))
def test_the_readings_asked_for_always_hold_what_was_loose(seed: int, taken: int) -> None:
    rng = np.random.default_rng(seed)
    made = make(rng, 6, 2, 0)
    left = [made.spec.tapes[int(k)] for k in rng.permutation(len(made.spec.tapes))[taken:]]
    spec = replace(made.spec, tapes=tuple(left), baseline=(left[0].a, left[0].b))
    try:
        net = build_network(spec)
        check_rigidity(net)
    except Faults as faults:
        asked = [pair for f in faults.faults for pair in asked_for(f)]
        assert len(asked) == len(set(asked)) >= 1
        more = tuple(tape(a, b, 5.0) for a, b in asked)
        check_rigidity(build_network(replace(spec, tapes=spec.tapes + more)))


def test_a_struck_tape_is_named_where_it_left_a_point_loose() -> None:
    spec = on([*BRACED, ("1", "3"), ("2", "3")])
    tapes = (*spec.tapes[:-1], replace(spec.tapes[-1], struck="read in the rain"))
    (fault,) = refused(replace(spec, tapes=tapes))
    assert "2–3 is struck" in wrong(fault)


def test_a_point_whose_only_tape_is_struck_does_not_vanish() -> None:
    spec = on([*BRACED, ("1", "3")])
    tapes = (*spec.tapes[:-1], replace(spec.tapes[-1], struck="wrong mark"))
    (fault,) = refused(replace(spec, tapes=tapes))
    assert fault.code == "no-reading"
    assert fault.line == 16


def test_names_that_no_reading_reaches() -> None:
    faults = refused(replace(on(BRACED), behind=("8",), sketch={"9": (0.0, 0.0)}))
    assert [f.code for f in faults] == ["no-reading", "no-reading"]
    assert {f.where for f in faults} == {"survey.behind", "survey.sketch"}


def test_a_mirror_image_names_point_line_and_the_tape_that_settles_it() -> None:
    (fault,) = refused(on([*BRACED, ("1", "3"), ("2", "3")]))
    assert fault.code == "mirror"
    assert "turned over about the line 1–2" in wrong(fault)
    assert right(fault).startswith("tape 3–")
    assert "sketch" in right(fault)
    assert fault.line == 16


def test_two_mirror_images_are_two_faults() -> None:
    xy = {**XY, "6": (2.6, 7.0)}
    lines = [*BRACED, ("1", "3"), ("2", "3"), ("1", "6"), ("2", "6")]
    faults = refused(SurveyInput(taped(xy, lines), baseline=("A", "B")))
    assert [f.code for f in faults] == ["mirror", "mirror"]
    assert [f.line for f in faults] == [16, 18]


def test_the_tape_that_settles_a_mirror_image_does() -> None:
    lines = [*BRACED, ("1", "3"), ("2", "3")]
    (fault,) = refused(on(lines))
    pair = right(fault).removeprefix("tape ").split(" ")[0].split("–")
    found = survey(on([*lines, (pair[0], pair[1])]))
    assert found.at("3") == pytest.approx(XY["3"], abs=1e-6)


def test_a_part_of_several_points_can_be_a_mirror_image() -> None:
    lines = [*BRACED, ("1", "4"), ("2", "4"), ("1", "5"), ("2", "5"), ("4", "5")]
    (fault,) = refused(on(lines))
    assert fault.code == "mirror"
    assert wrong(fault).startswith("4 and 5 fit")


def test_parts_cut_off_by_two_points() -> None:
    net = build_network(on([*BRACED, ("1", "3"), ("2", "3"), ("1", "4"), ("3", "4")]))
    i = net.index
    found = {(frozenset(pair), frozenset(part)) for pair, part in cut_off(net)}
    assert (frozenset((i["1"], i["2"])), frozenset((i["3"], i["4"]))) in found
    assert (frozenset((i["1"], i["3"])), frozenset((i["4"],))) in found
    assert (frozenset((i["A"], i["B"])), frozenset(i[n] for n in "1234")) in found


@pytest.mark.parametrize("short", [0.0, 0.004, 0.01])
def test_a_point_on_the_baseline_taped_along_it_is_refused(short: float) -> None:
    spec = SurveyInput((tape("A", "B", 5.0, line=3), tape("A", "P", 2.0, line=4), tape("B", "P", 3.0 - short, line=5)))
    (fault,) = refused(replace(spec, baseline=("A", "B")))
    assert fault.code == "in-line"
    assert fault.line == 4
    assert "P lies on one line with A and B" in wrong(fault)


def test_a_point_near_the_baseline_is_held_but_noted() -> None:
    xy = {"A": (0.0, 0.0), "B": (5.0, 0.0), "P": (2.0, 0.15)}
    found = survey(SurveyInput(taped(xy, [("A", "B"), ("A", "P"), ("B", "P")]), baseline=("A", "B")))
    assert found.at("P") == pytest.approx((2.0, 0.15), abs=1e-6)
    assert [f.get("point") for n in found.notes for f in within(n) if f.code == "survey.weak"] == ["P"]


def test_three_tapes_that_make_no_triangle() -> None:
    tapes = (tape("A", "B", 5.0, line=3), tape("A", "P", 2.0, line=4), tape("B", "P", 1.0, line=5))
    (fault,) = refused(SurveyInput(tapes, baseline=("A", "B")))
    assert fault.code == "triangle"
    assert "A–P and B–P together are" in wrong(fault)
    assert fault.line == 3


def test_one_known_point_leaves_the_survey_turning() -> None:
    (fault,) = refused(SurveyInput(taped(XY, BRACED), known={"A": (0.0, 0.0)}))
    assert fault.code == "one-control"


def test_wrong_values_are_reported_together() -> None:
    zero = Length(0.0, "0", "m")
    spec = SurveyInput(
        (tape("A", "B", 5.0), tape("A", "A", 1.0, line=4), replace(tape("A", "1", 1.0, line=5), length=zero)),
        tape_class="IV",
        baseline=("A", "B"),
        offsets=(Offset("A", "B", zero, zero, "A", line=6),),
    )
    assert {f.code for f in refused(spec)} == {"tape-class", "same-point", "not-positive"}


def test_no_reading_at_all() -> None:
    (fault,) = refused(SurveyInput((), baseline=("A", "B")))
    assert fault.code == "no-reading"
