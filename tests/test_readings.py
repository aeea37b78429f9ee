"""Readings of every kind: who, when and on what; an id of its own; set aside it takes no part and stays listed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from makers import FOOT, make_layout, make_system
from spoken import said, told
from stringline.faults import Fault, Faults
from stringline.form.tracks import fit_from_as_built
from stringline.job.model import Job
from stringline.job.read import read_job
from stringline.job.readings import BUILT_AT, BUILT_ONCE, AsBuilt, Marked, RunReading, in_use, set_aside
from stringline.lead.predict import predict_lead
from stringline.plan import Needs, plan
from stringline.survey.levels.falls import levelled
from stringline.survey.run import survey

MARK = '{ id = "%s", by = "JD", at = 2026-05-04T09:40:00, device = "tape 2" }'
STRUCK = '{ id = "%s", struck = "the hook slipped" }'


def text(mark: str) -> str:
    """A job in metres in which the last reading of every kind carries ``mark``, and another of its kind none."""
    behind = iter(range(100))

    def more() -> str:
        return mark % f"k{next(behind)}" if "%s" in mark else mark

    return f"""\
[job]
unit = "m"
stage = "run-in"
[survey]
baseline = ["A", "B"]
tapes = [
  ["A", "B", "6.000 m"], ["A", "1", "5.000 m"], ["B", "1", "7.810 m"], ["A", "2", "7.810 m"], ["B", "2", "5.000 m"],
  ["1", "2", "6.000 m"],
  ["1", "2", "9.000 m", {more()}],
]
offsets = [["A", "B", "3 m", "2 m", "p"], ["A", "B", "3 m", "4 m", "p", {more()}]]
coordinates = [["1", "10 m", "12 m", {{ sigma = "5 mm" }}], ["A", "10 m", "7 m", {{ sigma = "5 mm" }}],
  ["2", "90 m", "12 m", {more()[:-2]}, sigma = "5 mm" }}]]
levels = [["1", "1.500"], ["2", "1.510"], ["A", "1.505"], ["2", "2.510", {more()}]]
[as_built]
gauge = [["0.2", "5.486"], ["6", "5.487"], ["12", "9.000", {more()}]]
offsets = {{ left = [["0", "0"], ["6", "0.001"], ["12", "0.5", {more()}]], right = [["0", "0", {more()}], ["6", "0"]] }}
channel = {{ left = [["12.2"], ["10", {more()}]], right = ["12.2", {more()}] }}
diagonals = ["13.3", [["13.301"], ["1.3", {more()}]]]
housing = {{ inside = ["6.1", {more()}] }}
fascia = {{ clear = ["5.7"] }}
lid = {{ opening = "6.1" }}
[run]
leads = [["3", "0.01"], ["6", "0.02", "", 3.2, {more()}], ["9", "0.03", {more()}]]
[[run.earlier]]
leads = [["3", "0.01", "-0.01", {more()}]]
cause = "rope-length"
side = "idle"
amount = "10 mm"
"""


def readings_of(job: Job) -> list[Marked]:
    return list(job.readings)


def faults_of(source: str) -> tuple[Fault, ...]:
    try:
        read_job(source, "x")
    except Faults as faults:
        return faults.faults
    return ()


def test_every_kind_of_reading_says_who_when_and_on_what() -> None:
    readings = readings_of(read_job(text(MARK), "x"))
    marked = [r for r in readings if r.id is not None]
    assert len(marked) == 14
    assert {(r.by, r.at, r.device, r.struck) for r in marked} == {("JD", "2026-05-04T09:40:00", "tape 2", None)}
    assert len({r.id for r in marked}) == 14
    assert {type(r).__name__ for r in marked} == {"Tape", "Offset", "Coordinate", "Level", "Built", "RunReading"}
    assert {(r.id, r.by, r.at, r.device) for r in readings if r not in marked} == {(None, None, None, None)}


def test_every_kind_of_reading_can_be_set_aside() -> None:
    readings = readings_of(read_job(text(STRUCK), "x"))
    gone = set_aside(readings)
    assert len(gone) == 14
    assert {r.struck for r in gone} == {"the hook slipped"}
    assert in_use(readings) == tuple(r for r in readings if r.id is None)


def test_readings_taken_after_the_pour_as_numbers_in_metres() -> None:
    built = read_job(text(STRUCK), "x").as_built
    assert built is not None
    assert built.gauge == ((0.2, 5.486), (6.0, 5.487))
    assert (built.offsets_left, built.offsets_right) == (((0.0, 0.0), (6.0, 0.001)), ((6.0, 0.0),))
    assert (built.channel_left_m, built.channel_right_m, built.diagonals_m) == (12.2, None, (13.3, 13.301))
    assert (built.housing_inside_m, built.fascia_clear_m, built.lid_opening_m) == (None, 5.7, 6.1)
    assert {r.what for r in built.readings} == {*BUILT_AT, *BUILT_ONCE}
    every = read_job(text(MARK), "x").as_built
    assert every is not None
    assert every.channel_left_m == pytest.approx((12.2 + 10.0) / 2)  # taken again: the mean of both
    assert AsBuilt.of(**{k: getattr(every, k) for k in ("gauge", "offsets_left")}).gauge == every.gauge
    assert every.but(channel_left_m=3.0).channel_left_m == 3.0
    assert every.but(channel_left_m=3.0).diagonals_m == every.diagonals_m


def test_a_reading_set_aside_takes_no_part_and_is_listed_with_its_kind() -> None:
    job = read_job(text(STRUCK), "x")
    spec = replace(job.survey, coordinates=())
    found = survey(spec)
    without = survey(replace(spec, tapes=in_use(spec.tapes), offsets=in_use(spec.offsets), levels=in_use(spec.levels)))
    assert found.points == without.points
    assert found.at("p") == pytest.approx((3.0, 2.0), abs=0.01)
    assert [s.reason for s in found.struck] == ["the hook slipped"]
    listed = [said(n) for n in found.notes]
    assert "p at 3 m along A–B, 4 m off it set aside: the hook slipped" in listed
    assert "Rod at 2 2.510 m set aside: the hook slipped" in listed
    heights = levelled(spec, found, None)
    assert heights is not None
    assert heights.levels.heights.at("2") - heights.levels.heights.at("1") == pytest.approx(-0.010, abs=1e-9)
    assert any("Rod at 2 2.510 m set aside" in said(n) for n in heights.notes)


def test_a_coordinate_set_aside_carries_no_frame() -> None:
    job = read_job(text(STRUCK), "x")
    found = survey(job.survey)
    assert found.at("2")[0] - found.at("1")[0] == pytest.approx(6.0, abs=0.05)
    assert any("2 at 90 m, 12 m set aside" in said(n) for n in found.notes)
    gone = tuple(replace(c, struck="moved") for c in job.survey.coordinates)
    assert survey(replace(job.survey, coordinates=gone)).at("A") == pytest.approx((0.0, 0.0))


def test_as_built_readings_and_leads_set_aside_are_listed() -> None:
    job = read_job(text(STRUCK), "x")
    assert job.as_built is not None
    notes = [said(n) for n in fit_from_as_built(job.as_built, make_layout(gauge_m=18 * FOOT)).notes]
    assert "Gauge at 12 m, 9.000 m set aside: the hook slipped" in notes
    assert "Left channel 10 m set aside: the hook slipped" in notes
    page = predict_lead(make_system(), make_layout(), samples=50, stations=5, run=job.run)
    listed = [said(n) for n in page.notes]
    assert "Leads at 6 m, 0.02 m closing, 3.2 A set aside: the hook slipped" in listed
    assert "Leads at 9 m, 0.03 m closing set aside: the hook slipped" in listed


def test_a_job_whose_leads_are_all_set_aside_is_not_diagnosed() -> None:
    job = read_job(text(STRUCK).replace('["3", "0.01"], ', ""), "x")
    assert job.run is not None
    assert job.run.leads == ()
    assert isinstance(plan(job, None).diagnosis, Needs)


def test_a_row_within_a_row_beside_a_housing_floor_is_told() -> None:
    source = '[job]\nunit = "m"\n[survey]\nbaseline = ["A", "B"]\ntapes = [["A", "B", 3]]\n'
    source += 'levels = [[["f", "1 m"], ["d", "1 m"]]]\nhousing_floor = { points = ["f"], drain = "d" }\n'
    assert [f.code for f in faults_of(source)] == ["wrong-type", "wrong-type", "no-levels", "no-levels"]


def test_a_rod_reading_set_aside_levels_no_floor() -> None:
    source = (
        '[job]\nunit = "m"\n[survey]\nbaseline = ["A", "B"]\ntapes = [["A", "B", 3], ["A", "f", 2], ["A", "d", 2]]\n'
    )
    source += 'levels = [["f", "1 m"], ["d", "1 m", { struck = "rod leant" }]]\n'
    source += 'housing_floor = { points = ["f"], drain = "d" }\n'
    assert [(f.code, told(f).count('"d"')) for f in faults_of(source)] == [("no-levels", 1)]


def test_numbers_become_readings_with_all_their_digits() -> None:
    made = RunReading.of(1 / 3, -1e-7, None, 4.0)
    assert (made.station_m, made.closing_m, made.opening_m, made.current_a) == (1 / 3, -1e-7, None, 4.0)


@pytest.mark.parametrize(
    ("old", "new", "code", "says"),
    [
        ('id = "k1"', 'id = "k0"', "name-twice", "id of its own"),
        ('id = "k7"', 'id = "k0"', "name-twice", "id of its own"),
        ('id = "k13"', 'id = "k0"', "name-twice", "id of its own"),
        ('id = "k3"', "id = 3", "name-not-quoted", 'in quotes: "3"'),
        ('id = "k4"', 'id = "k 4"', "bad-name", "leave the spaces out"),
        ('id = "k5"', 'id = ""', "bad-name", "name is empty"),
        ('id = "k6"', "ident = 4", "unknown-key", "it can be|write id"),
        ('id = "k2"', 'struck = ""', "empty", "what it should say"),
        ('["12.2", {', '["12.2", "12.3", {', "item-count", "one length"),
        ('["5.7"]', "[]", "item-count", "one length"),
        ('["5.7"]', "[[]]", "item-count", "one length"),
        ('[["13.301"], ', '[["13.301"], "13.2", ', "wrong-type", "one length"),
        ('["9", "0.03", {', '["9", "0.03", "", 3, 4, {', "item-count", "closing lead"),
        ('["9", "0.03", {', '["9", {', "item-count", "closing lead"),
    ],
)
def test_what_stands_behind_a_reading_is_held_to_its_form(old: str, new: str, code: str, says: str) -> None:
    source = text(MARK)
    assert old in source
    found = faults_of(source.replace(old, new, 1))
    assert [f.code for f in found] == [code], [told(f) for f in found]
    assert any(part in told(found[0]) for part in says.split("|")), told(found[0])
    line = source[: source.index(old)].count("\n") + 1
    assert found[0].line == line or code == "name-twice"
