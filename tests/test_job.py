"""Reading a job file: what each section becomes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from stringline.demo import demo_job_text
from stringline.faults import Faults
from stringline.job import Corner, Job, Obstacle
from stringline.job.read import read_job, read_job_file
from stringline.judging import Stage
from stringline.lengths import Unit
from stringline.sheets.job_file import new_job_text

LEAST = '[job]\nunit = "m"\n[survey]\nbaseline = ["A", "B"]\ntapes = [["A", "B", 3.5]]\n'

FULL = """\
[job]
name = "Tern Cottage"
unit = "ft-in"
stage = "run-in"
system = "invented-18"
invented = true

[survey]
tape_class = "III"
sigma = "1 mm"
baseline = ["A", "B"]
behind = ["4"]
known = {}
sketch = { "1" = [1, 2.5], "4" = [-1, -2] }
tapes = [
  ["A", "B", "24' 0\\""],
  ["A", "1", "11' 3 1/4\\"", { sigma = "1/4\\"" }],
  ["A", "1", "11-3-1/8", { by = "JD", at = 2026-05-01T09:40:00, device = "tape 2" }],
  ["A", "2", "3.4 m", { struck = "the hook slipped" }],
  ["A", "2", "3.43 m"],
  ["A", "3", 0.5, { at = 09:45:00 }],
  ["A", "4", "11' 3\\""],
]
offsets = [["A", "B", "-6\\"", "-1' 6\\"", "p", { sigma = "1/8\\"" }]]
levels = [["1", "3' 2 1/4\\""], ["drain", "0", { setup = "by the pump" }]]

[pool]
water = ["1", { arc = "6\\"" }, "2", { through = "p" }, "3", "4", { arc = "1 ft" }]
obstacles = [
  { name = "garden wall", points = ["2", "3"], kind = "wall" },
  { name = "rail", points = ["3"], kind = "rail" },
]

[cover]
mount = "flush"
housing = ["4", "1"]
drive_side = "right"
margins = { side = "3\\"", end = "12\\"" }
minimise = "width"
choices = { rope_cut = "8' 6\\"" }

[as_built]
gauge = [["6'", "18' 3\\""], ["0", "18' 2 1/2\\""]]
channel = { left = "36' 2\\"" }
diagonals = ["40' 3\\"", "40' 3 1/4\\""]
offsets = { left = [["0", "-1/8\\""]], right = [] }
housing = { inside = "20'" }
fascia = { clear = "18'" }
lid = { opening = "20' 1\\"" }
sigma = "1/16\\""

[run]
leads = [["3'", "1/4\\"", "", 3.2], ["6'", "-1/2\\"", "3/8\\""], ["9'", ""]]
seen = ["baggy middle"]
[[run.earlier]]
leads = [["3'", "1\\""]]
cause = "rope-length"
side = "idle"
amount = "-5/8\\""
[[run.earlier]]
cause = "reel-stacking"
side = "drive"
amount = 0.5
seen = ["catch"]
"""
FULL = FULL.replace('["A", "3", 0.5,', '["A", "3", "6\\"",')


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(FULL, "full")


def test_the_head(job: Job) -> None:
    assert (job.name, job.unit, job.stage, job.system, job.invented) == (
        "Tern Cottage",
        Unit.FT_IN,
        Stage.RUN_IN,
        "invented-18",
        True,
    )


def test_readings_keep_their_text_line_and_remarks(job: Job) -> None:
    tapes = job.survey.tapes
    assert [t.line for t in tapes] == list(range(16, 23))
    assert tapes[0].length.m == 7.3152
    assert tapes[0].length.text == "24' 0\""
    assert tapes[1].sigma_m == 0.00635
    assert (tapes[2].by, tapes[2].at, tapes[2].device) == ("JD", "2026-05-01T09:40:00", "tape 2")
    assert tapes[3].struck == "the hook slipped"
    assert tapes[4].struck is None
    assert tapes[5].at == "09:45:00"


def test_a_tape_given_twice_is_two_readings(job: Job) -> None:
    assert [t.length.text for t in job.survey.tapes if (t.a, t.b) == ("A", "1")] == ["11' 3 1/4\"", "11-3-1/8"]


def test_what_the_readings_hang_on(job: Job) -> None:
    s = job.survey
    assert (s.tape_class, s.sigma_m, s.baseline, s.behind) == ("III", 0.001, ("A", "B"), ("4",))
    assert s.sketch == {"1": (1.0, 2.5), "4": (-1.0, -2.0)}
    assert s.known == {}
    (offset,) = s.offsets
    assert (offset.point, offset.sigma_m, offset.line) == ("p", 0.003175, 24)
    assert offset.station is not None
    assert offset.station.m == pytest.approx(-0.1524)
    assert offset.offset.m == pytest.approx(-0.4572)
    assert [(v.point, v.line, v.setup) for v in s.levels] == [("1", 25, None), ("drain", 25, "by the pump")]


def test_the_water_and_what_stands_around_it(job: Job) -> None:
    assert job.pool is not None
    assert job.pool.water == (
        Corner("1", 0.1524),
        Corner("2"),
        Corner("p", through=True),
        Corner("3"),
        Corner("4", 0.3048),
    )
    assert job.pool.obstacles == (
        Obstacle("garden wall", ("2", "3"), "wall", 30),
        Obstacle("rail", ("3",), "rail", 31),
    )


def test_the_choices_about_the_cover(job: Job) -> None:
    c = job.cover
    assert c is not None
    assert (c.mount, c.housing, c.drive_side, c.minimise) == ("flush", ("4", "1"), "right", "width")
    assert (c.side_margin_m, c.end_margin_m) == (0.0762, 0.3048)
    assert c.choices == {"rope_cut": pytest.approx(2.5908)}


def test_as_built(job: Job) -> None:
    b = job.as_built
    assert b is not None
    assert [x for row in b.gauge for x in row] == pytest.approx([0.0, 5.5499, 1.8288, 5.5626])  # by station
    assert b.channel_left_m == pytest.approx(11.0236)
    assert b.channel_right_m is None
    assert b.diagonals_m == pytest.approx((12.2682, 12.27455))
    assert b.offsets_left == ((0.0, -0.003175),)
    assert b.offsets_right == ()
    assert (b.housing_inside_m, b.fascia_clear_m, b.lid_opening_m) == pytest.approx((6.096, 5.4864, 6.1214))
    assert b.sigma_m == 0.0015875


def test_leads(job: Job) -> None:
    assert job.run is not None
    first, second, third = job.run.leads
    assert (first.closing_m, first.opening_m, first.current_a) == (0.00635, None, 3.2)
    assert (second.closing_m, second.opening_m, second.current_a) == (-0.0127, 0.009525, None)
    assert (third.closing_m, third.opening_m, third.current_a) == (None, None, None)
    assert first.line == 53
    assert job.run.seen == ("baggy middle",)
    one, two = job.run.earlier
    assert (one.cause, one.side, one.amount, len(one.leads), one.seen) == ("rope-length", "idle", -0.015875, 1, ())
    assert (two.cause, two.side, two.amount, two.leads, two.seen) == ("reel-stacking", "drive", 0.5, (), ("catch",))


def test_only_job_and_survey_are_needed() -> None:
    job = read_job(LEAST, "least")
    assert (job.name, job.stage, job.system, job.invented) == ("Unnamed job", Stage.SURVEY, "", False)
    assert (job.pool, job.cover, job.as_built, job.run) == (None, None, None, None)
    assert {getattr(job, part) for part in ("order", "rack", "power", "drain", "control", "tasks")} == {None}
    assert (job.offcuts, job.waits_for_pour) == ((), False)
    assert job.survey.tape_class == "II"
    assert job.survey.tapes[0].length.m == 3.5


def test_known_points_need_no_baseline() -> None:
    text = '[job]\nunit = "m"\n[survey]\nknown = { P = [0, -1.5], "Q 2" = ["3 m", "10 ft"] }\ntapes = [["P", "x", 2]]\n'
    job = read_job(text, "known")
    assert job.survey.baseline is None
    assert job.survey.known == {"P": (0.0, -1.5), "Q 2": (3.0, pytest.approx(3.048))}


def test_observed_coordinates_and_how_the_tape_was_held() -> None:
    text = LEAST.replace('baseline = ["A", "B"]', 'coordinates = [["A", 0, 0, { sigma = "5 mm" }], ["B", "3.5 m", -1]]')
    text = text.replace("tapes", 'coordinate_sigma = "1 cm"\nconditions = { celsius = 32, hanging = true }\ntapes')
    found = read_job(text, "x").survey
    assert found.baseline is None
    assert [(c.point, c.x.m, c.y.m, c.sigma_m, c.line) for c in found.coordinates] == [
        ("A", 0.0, 0.0, 0.005, 4),
        ("B", 3.5, -1.0, 0.01, 4),
    ]
    assert found.conditions is not None
    assert (found.conditions.celsius, found.conditions.standard_celsius, found.conditions.hanging) == (32, 20, True)


def test_an_offset_without_a_station() -> None:
    text = LEAST.replace("tapes", 'offsets = [["A", "B", "", "-0.5", "p"]]\ntapes')
    (offset,) = read_job(text, "x").survey.offsets
    assert offset.station is None
    assert offset.offset.m == -0.5


def test_a_sketch_may_carry_units() -> None:
    text = LEAST.replace("tapes", 'sketch = { A = ["1 m", "0"], B = ["10 ft", "-2 ft"] }\ntapes')
    assert read_job(text, "x").survey.sketch == {"A": (1.0, 0.0), "B": (pytest.approx(3.048), pytest.approx(-0.6096))}


def test_numbers_in_quotes_are_names() -> None:
    text = LEAST.replace('"B"', '"1059"')
    assert read_job(text, "x").survey.baseline == ("A", "1059")


def test_housing_may_be_any() -> None:
    assert (
        read_job(FULL.replace('housing = ["4", "1"]', 'housing = "any"'), "x").cover
        == read_job(FULL.replace('housing = ["4", "1"]\n', ""), "x").cover
    )


def test_a_smooth_curve() -> None:
    text = FULL.replace(
        'water = ["1", { arc = "6\\"" }, "2", { through = "p" }, "3", "4", { arc = "1 ft" }]',
        'water = ["1", "2", "3", "4"]\ncurve = true',
    )
    pool = read_job(text, "x").pool
    assert pool is not None
    assert pool.curve


def test_the_housing_lies_along_a_bowed_edge() -> None:
    read_job(FULL.replace('housing = ["4", "1"]', 'housing = ["2", "3"]'), "x")


@pytest.mark.parametrize("unit", list(Unit))
def test_the_template_is_a_job_not_yet_measured(unit: Unit) -> None:
    job = read_job(new_job_text('The "Old" \\ Mill\n', unit), "new")
    assert job.name == 'The "Old" \\ Mill'
    assert job.unit is unit
    assert job.survey.tapes == ()
    assert job.pool is None


@pytest.mark.parametrize("unit", list(Unit))
def test_everything_in_the_template_can_be_used(unit: Unit) -> None:
    """Take the # away from every example, and the file still reads."""
    head, later = new_job_text("x", unit).split("# [pool]")
    text = (
        re.sub(r"(offsets|levels) = \[\] +# (\[[^]]*\]).*", r"\1 = [\2]", head.replace("\n  # [", "\n  ["))
        + "[pool]"
        + "\n".join(
            line.removeprefix("# ") if " = " in line or line.startswith("# [") else line for line in later.split("\n")
        )
    )
    text = text.replace("tapes = [", 'tapes = [\n["A", "2", "3 m"], ["A", "3", "3 m"], ["A", "4", "3 m"],')
    job = read_job(text, "uncommented")
    assert job.pool is not None
    assert job.cover is not None
    assert job.as_built is not None
    assert job.as_built.lid_opening_m is not None
    assert job.run is not None
    assert (len(job.survey.tapes), len(job.survey.offsets), len(job.survey.levels)) == (6, 1, 1)


def test_reading_from_a_file(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xef\xbb\xbf" + LEAST.replace("\n", "\r\n").encode())
    assert read_job_file(path) == read_job(LEAST, "x")
    assert read_job(LEAST.encode(), "x") == read_job(LEAST, "x")


@pytest.mark.parametrize("name", ["absent.toml", ".", "a\0b", "x" * 5000])
def test_a_file_that_cannot_be_opened(tmp_path: Path, name: str) -> None:
    with pytest.raises(Faults) as caught:
        read_job_file(f"{tmp_path}/{name}")
    assert [f.code for f in caught.value.faults] == ["no-file"]


def test_a_file_that_is_not_text(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(LEAST.encode() + b"# caf\xe9\n")
    with pytest.raises(Faults) as caught:
        read_job_file(path)
    assert [(f.code, f.line) for f in caught.value.faults] == [("not-utf8", 6)]


def test_the_demo_reads_and_is_marked_invented() -> None:
    job = read_job(demo_job_text(), "demo")
    assert job.invented
    assert "invented" in job.name
    assert job.stage is Stage.FIT_OUT
    assert len(job.survey.tapes) == 42
    assert job.pool is not None
    assert job.cover is not None
    assert job.as_built is not None


def test_five_hundred_tapes_are_read_each_with_its_line() -> None:
    rows = "".join(f'  ["P{i}", "Q{i % 7}", "{i % 90}\' {i % 12} {1 + 2 * (i % 8)}/16\\""],\n' for i in range(500))
    text = f'[job]\nunit = "ft-in"\n[survey]\nbaseline = ["P1", "P2"]\ntapes = [\n{rows}]\n'
    tapes = read_job(text, "big").survey.tapes
    assert [(t.a, t.line) for t in tapes] == [(f"P{i}", 6 + i) for i in range(500)]
