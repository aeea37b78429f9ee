"""Every fault of a job file at once, each told once, with its line and a remedy."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from spoken import right, told, wrong
from stringline.faults import CODES, Fault, Faults
from stringline.job.read import read_job
from stringline.sheets.faults import faults_text
from test_job_later import LATER

SOUND = """\
[job]
name = "Tern Cottage"
unit = "ft-in"
stage = "survey"
system = "invented-18"

[survey]
tape_class = "II"
baseline = ["A", "B"]
behind = []
known = {}
sketch = {}
tapes = [
  ["A", "B", "24' 0\\""],
  ["A", "1", "11' 3 1/4\\""],
  ["A", "2", "12' 3 1/4\\"", { by = "JD" }],
  ["B", "3", "13' 3 1/4\\""],
  ["B", "4", "14' 3 1/4\\""],
]
offsets = [["A", "B", "6'", "2'", "w"]]
levels = [["1", "3' 2\\""]]

[pool]
water = ["1", { arc = "6\\"" }, "2", "3", "4"]
curve = false
obstacles = [{ name = "wall", points = ["w", "1"], kind = "wall" }]

[cover]
mount = "under-coping"
housing = ["1", "4"]
drive_side = "left"
margins = { side = "3\\"", end = "12\\"" }

[as_built]
gauge = [["0", "18' 3\\""]]
channel = { left = "36'" }
diagonals = ["40'", "40'"]

[run]
leads = [["3'", "1/4\\"", "", 3.2]]
"""


def faults_of(text: str) -> tuple[Fault, ...]:
    try:
        read_job(text, "job")
    except Faults as faults:
        return faults.faults
    return ()


def changed(*swaps: tuple[str, str]) -> tuple[str, dict[str, int]]:
    """The sound job with parts swapped, and the line of each new part."""
    text = SOUND
    for old, new in swaps:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text, {new: text[: text.index(new)].count("\n") + 1 for _, new in swaps}


def test_the_sound_job_is_sound() -> None:
    assert faults_of(SOUND) == ()


def test_ten_different_faults_are_ten_each_with_its_line() -> None:
    text, lines = changed(
        ('stage = "survey"', 'stage = "surveyed"'),
        ('tape_class = "II"', 'tape_klass = "II"'),
        ("behind = []", 'behind = ["Z"]'),
        ('"11\' 3 1/4\\""', '"11\' 13\\""'),
        ('["A", "2", "12\' 3 1/4\\"", { by = "JD" }]', '["A", "2"]'),
        ('["B", "3",', '["B", 3,'),
        ('["B", "4", "14\' 3 1/4\\""],', '["B", "4", "14\' 3 1/4""],'),
        ("curve = false", 'curve = "no"'),
        ('housing = ["1", "4"]', 'housing = ["1", "3"]'),
        ('diagonals = ["40\'", "40\'"]', 'diagonals = ["-40\'", "40\'"]'),
    )
    # the seventh broke the only line that named "4", and nothing may be said of that
    found = [(f.line, f.code) for f in faults_of(text)]
    assert found == [
        (lines['stage = "surveyed"'], "unknown-word"),
        (lines['tape_klass = "II"'], "unknown-key"),
        (lines['behind = ["Z"]'], "not-reached"),
        (lines['"11\' 13\\""'], "bad-length"),
        (lines['["A", "2"]'], "item-count"),
        (lines['["B", 3,'], "name-not-quoted"),
        (lines['["B", "4", "14\' 3 1/4""],'], "syntax"),
        (lines['curve = "no"'], "wrong-type"),
        (lines['housing = ["1", "3"]'], "housing-edge"),
        (lines['diagonals = ["-40\'", "40\'"]'], "bad-length"),
    ]
    assert len(found) == 10
    assert len({f.where for f in faults_of(text)}) == 10


# old part, new part, code, words that the message has to have
ONE_FAULT: list[tuple[str, str, str, str]] = [
    ('unit = "ft-in"', 'unit = "feet"', "unknown-word", "ft-in, ft, m or mm"),
    ('unit = "ft-in"\n', "", "missing", 'unit = "ft-in"'),
    ('unit = "ft-in"', 'units = "ft-in"', "unknown-key", "write unit"),
    ('name = "Tern Cottage"', 'name = ""', "empty", "empty"),
    ('name = "Tern Cottage"', "name = 3", "wrong-type", "a number, not a text"),
    ('name = "Tern Cottage"', "invented = 1", "wrong-type", "true or false"),
    ('tape_class = "II"', "tape_class = 2", "wrong-type", "I, II or III"),
    ('tape_class = "II"', 'sigma = "0 mm"', "zero-length", "more than 0"),
    ('tape_class = "II"', 'sigma = "0.001 mm"', "out-of-range", "0.01 mm or more"),
    ('baseline = ["A", "B"]', 'baseline = ["A", "A"]', "same-point", "itself"),
    ('baseline = ["A", "B"]', 'baseline = ["A"]', "item-count", "two points"),
    ('baseline = ["A", "B"]', 'baseline = "A-B"', "wrong-type", "a list"),
    ('baseline = ["A", "B"]', 'baseline = ["A", "C"]', "not-reached", '"C"'),
    ('baseline = ["A", "B"]\n', "", "no-datum", "baseline"),
    ("known = {}", 'known = { P = ["0", "0"], Q = ["1 m", "0"] }', "two-datums", "as well"),
    ("behind = []", 'behind = ["1", "1"]', "name-twice", "second time"),
    ("behind = []", 'behind = [" 1"]', "bad-name", "spaces"),
    ("behind = []", f'behind = ["{"1" * 41}"]', "bad-name", "41"),
    ("sketch = {}", "sketch = { Z = [1, 2] }", "not-reached", '"Z"'),
    ("sketch = {}", 'sketch = { 1 = [1, "2 m"] }', "sketch-mixed", "alike"),
    ("sketch = {}", "sketch = { 1 = [1] }", "item-count", "[x, y]"),
    ("sketch = {}", "sketch = { 1 = [1, nan] }", "out-of-range", "nan"),
    ('["A", "1", "11\' 3 1/4\\""]', '["A", "1", 11]', "bad-length", "feet or inches"),
    ('["A", "1", "11\' 3 1/4\\""]', '["A", "1", "-11 m"]', "bad-length", "negative"),
    ('["A", "1", "11\' 3 1/4\\""]', '["A", "1", "0"]', "zero-length", "nothing"),
    ('["A", "1", "11\' 3 1/4\\""]', '["A", "1", "11\' 3 1/3\\""]', "bad-length", "ruler"),
    ('["A", "1", "11\' 3 1/4\\""]', '["A", "1", "11\' 3 1/4\\"", 5]', "wrong-type", "a table"),
    ('["A", "1", "11\' 3 1/4\\""]', '["A", "1", "11\' 3 1/4\\"", {}, 5]', "item-count", "5 items"),
    ('["A", "1", "11\' 3 1/4\\""]', '"A 1 11"', "wrong-type", "a reading"),
    ('{ by = "JD" }', '{ sigam = "1 mm" }', "unknown-key", "write sigma"),
    ('{ by = "JD" }', '{ struck = "" }', "empty", "empty"),
    ('{ by = "JD" }', '{ struck = "slipped" }', "not-reached", "set aside"),
    ('["A", "2", "12\' 3 1/4\\"", { by = "JD" }]', '["2", "2", "12\'"]', "same-point", "itself"),
    (
        '"w"]]',
        '"w"], ["A", "B", "6 ft", "2 ft", "A"]]',
        "same-point",
        "stringline",
    ),
    ('levels = [["1", "3\' 2\\""]]', 'levels = [["1", "-3\'"]]', "bad-length", "negative"),
    ('levels = [["1", "3\' 2\\""]]', 'levels = [["1"]]', "item-count", "1 item"),
    ('"2", "3", "4"]', '"2", "5", "4"]', "not-reached", '"5"'),
    ('"2", "3", "4"]', '"2", "3", "4", "1"]', "name-twice", "closes by itself"),
    ('"2", "3", "4"]', '"2", "3", { arc = "6 in" }, { arc = "6 in" }, "4"]', "arc-place", "behind the name"),
    ('water = ["1", { arc', 'water = [{ arc = "2 in" }, "1", { arc', "arc-place", "before"),
    ('water = ["1", { arc', 'water = [{ through = "w" }, "1", { arc', "arc-place", "bow"),
    ('{ arc = "6\\"" }', '{ arc = "60 ft" }', "arc-too-big", "longest reading"),
    ('{ arc = "6\\"" }', '{ arc = "0" }', "zero-length", "nothing"),
    ('{ arc = "6\\"" }', '{ ark = "6\\"" }', "unknown-key", "arc"),
    ("curve = false", "curve = true", "arc-place", "smooth curve"),
    ('kind = "wall"', 'kind = "walls"', "unknown-word", 'write "wall"'),
    ('points = ["w", "1"]', "points = []", "empty", "no points"),
    ('points = ["w", "1"]', 'points = ["w", "q"]', "not-reached", '"q"'),
    ('{ name = "wall", points = ["w", "1"], kind = "wall" }', "5", "wrong-type", "a table"),
    (
        ' kind = "wall" }]',
        ' kind = "wall" }, { name = "wall", points = ["w"], kind = "rock" }]',
        "name-twice",
        "own name",
    ),
    ('mount = "under-coping"', 'mount = "under coping"', "unknown-word", "under-coping"),
    ('mount = "under-coping"\n', "", "missing", "mount"),
    ('drive_side = "left"', 'drive_side = "Left"', "unknown-word", 'write "left"'),
    ('housing = ["1", "4"]', 'housing = ["1", "1"]', "same-point", "one point"),
    ('housing = ["1", "4"]', 'housing = ["1", "w"]', "housing-edge", "not a point"),
    ('housing = ["1", "4"]', 'housing = ["1", "3"]', "housing-edge", "neighbours"),
    ('housing = ["1", "4"]', 'housing = ["1"]', "item-count", "two ends"),
    ('housing = ["1", "4"]', 'housing = "left"', "wrong-type", "any"),
    (', end = "12\\"" }', " }", "missing", "end"),
    ('mount = "under-coping"', 'mount = "flush"\nchoices = { rope_cutt = "9 ft" }', "unknown-key", "rope_cut"),
    ('margins = { side = "3\\"", end = "12\\"" }\n', "", "missing", "margins"),
    ('gauge = [["0", "18\' 3\\""]]', 'gauge = [["0"]]', "item-count", "two"),
    ('gauge = [["0", "18\' 3\\""]]', 'gauge = [["0", "0"]]', "zero-length", "nothing"),
    ('channel = { left = "36\'" }', 'channel = { links = "36\'" }', "unknown-key", "left"),
    ('diagonals = ["40\'", "40\'"]', 'diagonals = ["40\'"]', "item-count", "two diagonals"),
    ('leads = [["3\'", "1/4\\"", "", 3.2]]', 'leads = [["3\'"]]', "item-count", "1 item"),
    ('leads = [["3\'", "1/4\\"", "", 3.2]]', 'leads = [["3\'", "1/4\\"", "", "3.2"]]', "wrong-type", "without quotes"),
    ('leads = [["3\'", "1/4\\"", "", 3.2]]', 'leads = [["3\'", "1/4\\"", "", -3.2]]', "out-of-range", "0 or more"),
    ("behind = []", 'coordinates = [["1", "0", "0"]]', "missing", "coordinate_sigma"),
    ("behind = []", 'coordinates = [["1", "0"]]', "item-count", "point, x, y"),
    ("behind = []", "conditions = { celsius = 300 }", "out-of-range", "80 or less"),
    ("[run]", "[runs]", "unknown-key", "write run"),
    (
        "[run]",
        '[[run.earlier]]\ncause = "rope"\nside = "idle"\namount = "1/2 in"\n[run]',
        "unknown-word",
        "rope-length",
    ),
    ("[run]", '[[run.earlier]]\ncause = "square"\nside = "left"\namount = "1/2 in"\n[run]', "unknown-word", "idle"),
    ("[run]", '[[run.earlier]]\ncause = "square"\nside = "idle"\n[run]', "missing", "amount"),
    ("[run]", '[[run.earlier]]\ncause = "tight-spot"\nside = "idle"\namount = "9"\n[run]', "wrong-type", "number"),
    ("[cover]", "[Cover]", "unknown-key", "write cover"),
    ("[survey]", "[survye]", "unknown-key", "write survey"),
    ("[run]", "[powr]", "unknown-key", "write power"),
]


@pytest.mark.parametrize(("old", "new", "code", "says"), ONE_FAULT)
def test_one_slip_is_told_once(old: str, new: str, code: str, says: str) -> None:
    text = SOUND.replace(old, new, 1)
    assert text != SOUND
    found = faults_of(text)
    assert [f.code for f in found] == [code], [told(f) for f in found]
    (fault,) = found
    message = told(fault)
    assert any(part in message for part in says.split("|")), message
    assert fault.line is not None
    place = text[: SOUND.index(old)].count("\n") + 1
    if new and "\n" not in new and code not in ("missing", "not-reached", "housing-edge", "two-datums", "arc-place"):
        assert fault.line == place
    assert 1 <= fault.line <= text.count("\n") + 1


def test_the_line_of_what_is_missing_is_its_section() -> None:
    (fault,) = faults_of(SOUND.replace('mount = "under-coping"\n', ""))
    assert fault.line == SOUND[: SOUND.index("[cover]")].count("\n") + 1
    (fault,) = faults_of('[survey]\nbaseline = ["A", "B"]\ntapes = [["A", "B", "3 m"]]\n')
    assert (fault.code, fault.where, fault.line) == ("missing", "job", None)
    assert [f.code for f in faults_of("")] == ["missing", "missing"]


def test_one_known_point_is_no_datum() -> None:
    text = SOUND.replace('baseline = ["A", "B"]\n', "").replace("known = {}", 'known = { A = ["0", "0"] }')
    (fault,) = faults_of(text)
    assert (fault.code, fault.line) == ("no-datum", 10)


def test_a_wrong_unit_is_told_once_and_not_at_each_length() -> None:
    text = SOUND.replace('unit = "ft-in"', 'unit = "yards"').replace('"11\' 3 1/4\\""', "11").replace('"6\'"', '"6-1"')
    assert [f.code for f in faults_of(text)] == ["unknown-word"]


def test_names_of_faulty_rows_count_as_reached() -> None:
    text = SOUND.replace('["B", "3", "13\' 3 1/4\\""]', '["B", "3", "13\' 13\\""]')
    assert [f.code for f in faults_of(text)] == ["bad-length"]


def test_a_point_misspelt_gets_the_nearest_name() -> None:
    text = SOUND.replace('["A", "1",', '["A", "deep end left",').replace('"1"', '"deep end lft"')
    found = faults_of(text)
    assert {f.code for f in found} == {"not-reached"}
    assert all('"deep end left" if that is meant' in right(f) for f in found)


def test_a_job_not_yet_measured_says_nothing_of_its_points() -> None:
    text = re.sub(r"tapes = \[.*?\n\]", "tapes = []", SOUND, flags=re.DOTALL)
    text = re.sub(r"offsets = .*", "offsets = []", text)
    assert faults_of(text) == ()


def test_faults_come_in_the_order_of_their_lines() -> None:
    text = SOUND.replace("curve = false", "curv = false").replace('"left"', '"lft"').replace('"II"', '"IV"')
    lines = [f.line for f in faults_of(text)]
    assert lines == sorted(lines, key=lambda n: n or 0)
    assert len(lines) == 3


def test_the_report_is_plain() -> None:
    with pytest.raises(Faults) as caught:
        read_job(SOUND.replace('"II"', '"IV"'), "tern.toml")
    assert faults_text(caught.value) == (
        "tern.toml: 1 fault, nothing was done.\n"
        '  line 8, survey.tape_class: "IV" is not known here; write I, II or III.'
    )


# --- any document at all ---------------------------------------------------------------------------------------------

STEADY = settings(max_examples=150, deadline=None, derandomize=True)
LEAF = st.one_of(
    st.integers(-(10**20), 10**20),
    st.floats(),
    st.booleans(),
    st.text(max_size=8),
    st.sampled_from(["A", "B", "1", "3 m", "", "0", "ft-in", "any", "under-coping", "left", "wall"]),
    st.datetimes(),
)
THING = st.recursive(
    LEAF,
    lambda x: st.lists(x, max_size=4) | st.dictionaries(st.sampled_from(["sigma", "arc", "by", "left", "x"]), x),
    max_leaves=6,
)


def keys_of(section: str) -> list[str]:
    inside = (SOUND + LATER).split(f"[{section}]")[1].split("\n[")[0]
    return re.findall(r"^([a-z_]+) =", inside, re.MULTILINE)


def sections() -> Iterator[tuple[str, list[str]]]:
    for section in ("job", "survey", "pool", "cover", "as_built", "run", "order", "rack", "power", "drain", "control"):
        yield section, [*keys_of(section), "nonsense"]


ANY_JOB = st.fixed_dictionaries(
    {},
    optional={name: st.one_of(THING, st.dictionaries(st.sampled_from(keys), THING)) for name, keys in sections()},
)


@STEADY
@given(ANY_JOB)
def test_any_toml_is_a_job_or_faults(tree: dict[str, Any]) -> None:
    text = tomlkit.dumps(tree)
    for fault in faults_of(text):
        assert fault.code in CODES
        assert fault.line is None or 1 <= fault.line <= text.count("\n") + 1
        assert wrong(fault)
        assert right(fault)
        assert not wrong(fault).endswith(".")
        assert not right(fault).endswith(".")


@STEADY
@given(st.data())
def test_any_cut_or_blot_in_a_sound_job_is_a_job_or_faults(data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(SOUND)))
    length = data.draw(st.integers(0, 12))
    blot = data.draw(st.text(alphabet="[]{}=,\"'\\#\n 1aA.-½\x00", max_size=6))
    text = SOUND[:start] + blot + SOUND[start + length :]
    for fault in faults_of(text):
        assert fault.code in CODES
        assert fault.line is None or 1 <= fault.line <= text.count("\n") + 1


@STEADY
@given(st.binary(max_size=200))
def test_any_bytes_are_a_job_or_faults(raw: bytes) -> None:
    with pytest.raises(Faults):
        read_job(raw, "bytes")


def test_a_section_left_behind_its_remark_sign_is_named() -> None:
    text, _ = changed(("[pool]\n", "# [pool]\n"))
    assert any("[pool]" in right(f) and f.where == "survey.water" for f in faults_of(text))
    text, _ = changed(("[survey]\n", "# [survey]\n"))
    assert any("[survey]" in right(f) and f.where == "job.tapes" for f in faults_of(text))
