"""Hardware catalogues: those shipped, the template, and every fault of one at once."""

from __future__ import annotations

import dataclasses
import re
import tomllib
from importlib.resources import files
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spoken import right
from stringline.demo import demo_job_text
from stringline.faults import CODES, Fault, Faults
from stringline.job.read import read_job
from stringline.lengths import INCH_M, Unit, parse
from stringline.system.model import System
from stringline.system.ranges import RANGES
from stringline.system.read import is_length, list_systems, load_system, neighbours, read_system, template_text

HERE = Path(__file__).parent.parent / "src" / "stringline" / "system" / "catalogues"
SHIPPED = {name: (HERE / f"{name}.toml").read_text("utf-8") for name in list_systems()}
INCH = float(INCH_M)


def faults_of(text: str) -> tuple[Fault, ...]:
    try:
        read_system(text, "catalogue")
    except Faults as faults:
        return faults.faults
    return ()


def test_what_is_shipped_is_invented_and_named_as_its_file() -> None:
    assert list_systems() == ["invented-18", "invented-metric"]
    for name in list_systems():
        system = load_system(name)
        assert system.invented
        assert system.key == name
        assert "nvented" in system.name


def test_practice_of_the_trade_stands_in_the_catalogue() -> None:
    """The facts of the trade that the program starts from are values in the file, not numbers in the code."""
    s = load_system("invented-18")
    assert s.track.channels == 2
    assert s.track.into_housing_m == pytest.approx(1 * INCH)
    assert s.track.pulley_spacer_m > 0
    assert s.wedge.stop_short_m == pytest.approx(1.5 * INCH)
    assert s.track.pin_hole_m == pytest.approx(INCH / 4)
    assert s.leading_edge.screw_from_inner_end_m == pytest.approx(0.75 * INCH)
    assert s.leading_edge.pilot_drill_m == pytest.approx(11 / 64 * INCH)
    assert s.fabric.lead_in_m == pytest.approx(6 * INCH)
    assert (s.rope.cut_station_low_m, s.rope.cut_station_m, s.rope.cut_station_high_m) == pytest.approx(
        (96 * INCH, 108 * INCH, 120 * INCH)
    )
    assert load_system("invented-metric").track.channels == 1
    assert load_system("invented-metric").track.pulley_spacer_m == 0.0


def test_sticks_come_longest_first() -> None:
    text = SHIPPED["invented-metric"].replace('["6 m", "4.5 m", "3 m"]', '["3 m", "6 m", "4.5 m"]')
    assert read_system(text, "x").track.stick_lengths_m == (6.0, 4.5, 3.0)


def test_every_value_of_the_file_arrives_in_its_field() -> None:
    """Read the file a second way, by hand, and compare every value."""
    for name, text in SHIPPED.items():
        raw = tomllib.loads(text)
        unit = Unit(raw["system"]["unit"])
        system = load_system(name)
        for section, values in raw.items():
            if section == "system":
                continue
            part = getattr(system, section)
            fields = {f.name for f in dataclasses.fields(part)}
            for key, value in values.items():
                if key in fields:
                    assert getattr(part, key) == value
                elif isinstance(value, list):
                    assert getattr(part, f"{key}_m") == tuple(parse(v, unit).m for v in value)
                else:
                    assert getattr(part, f"{key}_m") == parse(value, unit).m


def test_which_fields_are_lengths() -> None:
    assert is_length("diameter_m")
    assert is_length("stick_lengths_m")
    assert not is_length("mass_per_m")
    assert not is_length("hem_side_load_n_m")
    assert not is_length("density_kg_m3")
    assert not is_length("rated_torque_nm")


def test_every_range_names_a_value_of_the_model() -> None:
    known = set()
    for section in dataclasses.fields(System):
        part = getattr(load_system("invented-18"), section.name)
        if dataclasses.is_dataclass(part):
            known |= {
                f"{section.name}.{f.name.removesuffix('_m') if is_length(f.name) else f.name}"
                for f in dataclasses.fields(part)
            }
    assert set(RANGES) <= known


def test_a_catalogue_beside_the_job(tmp_path: Path) -> None:
    (tmp_path / "ours.toml").write_text(SHIPPED["invented-18"].replace('key = "invented-18"', 'key = "ours"'))
    assert load_system("ours.toml", base_dir=tmp_path).key == "ours"
    assert load_system(str(tmp_path / "ours.toml")).key == "ours"


@pytest.mark.parametrize("name", ["invented-19", "../nowhere.toml", "", ".", "a\0b", "x" * 5000])
def test_a_catalogue_that_is_not_there(tmp_path: Path, name: str) -> None:
    with pytest.raises(Faults) as caught:
        load_system(name, base_dir=tmp_path)
    (fault,) = caught.value.faults
    assert fault.code == "no-catalogue"
    assert "invented-18" in right(fault)


def test_the_template_has_every_value_and_says_which_are_open() -> None:
    template = tomllib.loads(template_text())
    example = tomllib.loads(SHIPPED["invented-18"])
    assert {s: set(v) for s, v in template.items()} == {s: set(v) for s, v in example.items()}
    found = faults_of(template_text())
    opened = [n for n, line in enumerate(template_text().split("\n"), 1) if re.search(r'= \[?"\?"', line)]
    unit_line = next(n for n, line in enumerate(template_text().split("\n"), 1) if line.startswith("unit"))
    assert sorted(f.line or 0 for f in found) == opened
    assert {f.code for f in found if f.line != unit_line} == {"not-filled-in"}
    assert {f.code for f in found if f.line == unit_line} == {"unknown-word"}


def test_the_template_filled_in_is_a_catalogue() -> None:
    """Put the invented catalogue's values where the template leaves something open, and it loads to the same."""
    example = SHIPPED["invented-18"].split("\n")
    section = ""
    values: dict[tuple[str, str], str] = {}
    for line in example:
        if line.startswith("["):
            section = line
        elif m := re.match(r"([a-z_0-9]+) = ((?:\"(?:\\.|[^\"])*\"|\[[^]]*\]|[^#\s]+))", line):
            values[section, m[1]] = m[2]
    out = []
    for line in template_text().split("\n"):
        if line.startswith("["):
            section = line
        m = re.match(r"([a-z_0-9]+) = (\[?\"\?\"\]?)", line)
        out.append(line.replace(m[2], values[section, m[1]]) if m else line)
    filled = read_system("\n".join(out), "filled")
    assert dataclasses.replace(filled, invented=True) == load_system("invented-18")


def test_ten_faults_at_once_each_with_its_line() -> None:
    text = SHIPPED["invented-18"]
    swaps = [
        ("channels = 2 ", "channels = 3 ", "out-of-range"),
        ('kerf = "1/8\\""', "kerf = true", "wrong-type"),
        ('pin_hole = "1/4\\""', 'pin_hole = "1/3\\""', "bad-length"),
        ('stop_short = "1 1/2\\""', 'stop_shrt = "1 1/2\\""', "unknown-key"),
        ('["12\' 0\\"", "8\' 0\\""]', "[]", "empty"),
        ("knot_efficiency = 0.6", "knot_efficiency = 60", "out-of-range"),
        ('outer_radius = "2 1/2\\""', 'outer_radius = "0"', "zero-length"),
        ("packing = 1.10", 'packing = "1.10"', "wrong-type"),
        ("screws_per_splice = 4", "screws_per_splice = 4.5", "out-of-range"),
        ('lead = "3\\""', 'lead = "-3\\""', "bad-length"),
    ]
    for old, new, _ in swaps:
        assert text.count(f"\n{old}") == 1 or text.count(old) == 1, old
        text = text.replace(old, new)
    expected = sorted((text[: text.index(new)].count("\n") + 1, code) for _, new, code in swaps)
    assert [(f.line, f.code) for f in faults_of(text)] == expected


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ('cut_station = "9\' 0\\""', 'cut_station = "11\' 0\\""', "not-in-order"),
        ('cut_station = "9\' 0\\""', 'cut_station = "7\' 0\\""', "not-in-order"),
        ('barrel_radius = "1 1/2\\""', 'barrel_radius = "5\\""', "not-in-order"),
        ('wall = "3/16\\""', 'wall = "3\\""', "not-in-order"),
        ('min_last_piece = "2\' 0\\""', 'min_last_piece = "20\' 0\\""', "not-in-order"),
        ("[wedge]", "[wedges]", "unknown-key"),
        ('unit = "ft-in"', 'unit = "in"', "unknown-word"),
        ('key = "invented-18"', "key = 18", "name-not-quoted"),
        ("no_load_share = 0.4", "no_load_share = 1.0", "out-of-range"),
        ('shim = "10 mm"', 'shim = "2 mm"', "not-in-order"),
        ("volts = 230\n", "", "missing"),
        ("volts = 230", "volts = nan", "out-of-range"),
        ("volts = 230", "volts = ", "syntax"),
    ],
)
def test_one_slip_is_told_once(old: str, new: str, code: str) -> None:
    text = SHIPPED["invented-18"]
    assert old in text
    found = faults_of(text.replace(old, new))
    assert [f.code for f in found] == [code], [str(f) for f in found]
    assert found[0].line is not None


def test_a_missing_section_says_what_belongs_in_it() -> None:
    text = re.sub(r"\[wedge\][^\[]*", "", SHIPPED["invented-18"])
    (fault,) = faults_of(text)
    assert fault.code == "missing"
    assert "length or stop_short" in right(fault) or "length and stop_short" in right(fault)


@pytest.mark.parametrize(("spacing", "code"), [("0 mm", "zero-length"), ("1 m", "not-in-order")])
def test_wedges_stand_further_apart_than_they_are_long(spacing: str, code: str) -> None:
    text = re.sub(r'wedge_spacing = "[^"]*"', f'wedge_spacing = "{spacing}"', SHIPPED["invented-metric"])
    assert [f.code for f in faults_of(text)] == [code]


def test_an_optional_value_may_be_left_out() -> None:
    text = re.sub(r"wedge_spacing.*\n", "", SHIPPED["invented-metric"])
    assert read_system(text, "x").hardware.wedge_spacing_m is None
    assert load_system("invented-metric").hardware.wedge_spacing_m == 1.25


@settings(max_examples=80, deadline=None, derandomize=True)
@given(st.data())
def test_any_cut_or_blot_is_a_catalogue_or_faults(data: st.DataObject) -> None:
    text = SHIPPED["invented-18"]
    start = data.draw(st.integers(0, len(text)))
    length = data.draw(st.integers(0, 40))
    blot = data.draw(st.text(alphabet="[]{}=,\"'\\#\n 1aA.-½?", max_size=6))
    for fault in faults_of(text[:start] + blot + text[start + length :]):
        assert fault.code in CODES


def test_the_demo_fits_its_catalogue() -> None:
    job = read_job(demo_job_text(), "demo")
    system = load_system(job.system)
    assert job.as_built is not None
    assert max(g for _, g in job.as_built.gauge) < system.limits.max_width_m
    assert job.as_built.channel_left_m is not None
    assert job.as_built.channel_left_m < system.limits.max_length_m


def test_the_catalogues_beside_one_are_what_could_be_had_instead(tmp_path: Path) -> None:
    ours = (files("stringline.system") / "catalogues" / "invented-18.toml").read_text("utf-8")
    (tmp_path / "small.toml").write_text(ours, encoding="utf-8")
    (tmp_path / "large.toml").write_text(ours.replace('key = "invented-18"', 'key = "large"'), encoding="utf-8")
    (tmp_path / "notes.toml").write_text("this = 'is no catalogue'", encoding="utf-8")
    assert len(neighbours("small.toml", base_dir=tmp_path)) == 1
    assert {s.key for s in neighbours("invented-18")} == set(list_systems()) - {"invented-18"}
