"""Documents with the line of everything in them, and what is not TOML told without losing the rest."""

from __future__ import annotations

import random
import tomllib
from typing import Any

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from spoken import right, said
from stringline.demo import demo_job_text
from stringline.document.load import decode, load, spell
from stringline.document.locate import Path, locate
from stringline.faults import Faults

STEADY = settings(max_examples=150, deadline=None, derandomize=True)

EVERYTHING = '''# a remark ] with brackets [ and "quotes"
title = "x"
[job]
name = "a"  # ] [
a.b.c = 1.5
"q k".x = 'y'
"say \\"x\\"" = true
[survey]
tapes = [
  ["A", "B", "24' 0\\""],
  # between ]
  ["A", "1", "11' 3", { sigma = "1/4\\"", by = "x" }], ["A","2",
   3.5],
]
known = {}
sketch = { P = [1.0,
  2], "Q 1" = [3, 4] }
long = """
several " lines "" with quotes ]
"""
raw = \'\'\'
and ' these
\'\'\'
after = 1979-05-27T07:32:00Z
[[rows]]
x = 1
[[rows]]
x = 2
[rows.sub]
y = [[1],[2,[3]],]
[[rows.deep]]
z = {a = {b = [1, {c = 2}]}}
[a.b]
z = -1.5e3
'''


def paths(value: Any, at: Path = ()) -> set[Path]:
    """Every path in a document, by the standard reader."""
    inner: list[tuple[str | int, Any]] = []
    if isinstance(value, dict):
        inner = list(value.items())
    elif isinstance(value, list):
        inner = list(enumerate(value))
    found: set[Path] = set()
    for key, below in inner:
        found |= {(*at, key)} | paths(below, (*at, key))
    return found


def test_every_path_of_the_standard_reader_has_a_line() -> None:
    assert set(locate(EVERYTHING)) == paths(tomllib.loads(EVERYTHING))


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("title",), 2),
        (("job",), 3),
        (("job", "a", "b", "c"), 5),
        (("job", 'say "x"'), 7),
        (("survey", "tapes"), 9),
        (("survey", "tapes", 0), 10),
        (("survey", "tapes", 1), 12),
        (("survey", "tapes", 1, 3, "sigma"), 12),
        (("survey", "tapes", 2), 12),
        (("survey", "tapes", 2, 2), 13),
        (("survey", "sketch", "P", 1), 17),
        (("survey", "sketch", "Q 1"), 17),
        (("survey", "raw"), 21),
        (("survey", "after"), 24),
        (("rows", 1), 27),
        (("rows", 1, "sub", "y", 1, 1, 0), 30),
        (("rows", 1, "deep", 0, "z", "a", "b", 1, "c"), 32),
        (("a", "b", "z"), 34),
    ],
)
def test_lines(path: Path, line: int) -> None:
    assert locate(EVERYTHING)[path] == line


LEAVES = st.one_of(st.integers(-99, 99), st.booleans(), st.text(max_size=6), st.floats(allow_nan=False, width=32))
KEYS = st.text(alphabet="abAB_- é\"'.", min_size=1, max_size=4)
TREES = st.dictionaries(
    KEYS,
    st.recursive(
        LEAVES,
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3),
        max_leaves=8,
    ),
    max_size=4,
)


@STEADY
@given(TREES)
def test_another_writer_of_toml_is_followed(tree: dict[str, Any]) -> None:
    text = tomlkit.dumps(tree)
    lines = locate(text)
    assert set(lines) == paths(tomllib.loads(text))
    for path, line in lines.items():
        if isinstance(path[-1], str) and path[-1].isalpha():
            assert path[-1] in text.split("\n")[line - 1]


@STEADY
@given(st.one_of(st.text(max_size=200), st.text(alphabet="[]{}=,.\"'#\n ab1\\\r", max_size=80)))
def test_any_text_is_read_or_told(text: str) -> None:
    document = load(text, "x")
    try:
        tomllib.loads(text.removeprefix("\ufeff").replace("\r\n", "\n"))
    except ValueError:
        assert document.faults
        count = text.count("\n") + 1
        assert all(f.line is not None and 1 <= f.line <= count for f in document.faults)
    else:
        assert not document.faults
    locate(text)


@STEADY
@given(st.binary(max_size=60))
def test_any_bytes_are_text_or_told_with_a_line(raw: bytes) -> None:
    try:
        decode(raw, "x")
    except Faults as faults:
        (fault,) = faults.faults
        assert fault.code == "not-utf8"
        assert fault.line is not None
        assert 1 <= fault.line <= raw.count(b"\n") + 1


def told(text: str) -> list[tuple[int | None, str]]:
    """Line and code of each fault."""
    return sorted((f.line, f.code) for f in load(text, "x").faults)


def test_a_broken_line_in_a_list_costs_only_itself() -> None:
    document = load('[s]\nrows = [\n  ["A", "24\' 0""],\n  ["B", 2],\n  ["C" 3],\n  ["D", 4],\n]\nafter = 1\n', "x")
    assert [(f.line, f.code) for f in document.faults] == [(3, "syntax"), (5, "syntax")]
    assert "inch mark" in right(document.faults[0])
    assert document.data == {"s": {"rows": [["B", 2], ["D", 4]], "after": 1}}
    assert document.line(("s", "rows", 1)) == 6
    assert document.is_damaged(("s", "rows"))
    assert not document.is_damaged(("s", "after"))


def test_a_forgotten_comma_is_told_where_it_belongs() -> None:
    document = load('rows = [\n  ["A", 1],\n  ["B", 2]  # no comma\n\n  ["C", 3],\n]\n', "x")
    assert [(f.line, f.code) for f in document.faults] == [(3, "missing-comma")]
    assert document.data == {"rows": [["A", 1], ["B", 2], ["C", 3]]}


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('["B", 2],', '"B", 2],'),
        ('["B", 2],', '["B", 2,'),
        ('["B", 2],', '["B, 2],'),
        ('["B", 2],', '["B", 2]],'),
        ('["B", 2],', '["B" 2],'),
        ('["B", 2],', "[, 2],"),
        ('["B", 2],', "what?"),
    ],
)
def test_a_slip_in_an_item_is_told_once_on_its_line_and_costs_only_the_item(old: str, new: str) -> None:
    text = '[s]\nrows = [\n  ["A", 1],\n  ["B", 2],\n  ["C", 3],  # ]\n]\nafter = 1\n[t]\nx = 2\n'
    document = load(text.replace(old, new), "x")
    assert [(f.line, f.code) for f in document.faults] == [(4, "syntax")]
    assert document.data == {"s": {"rows": [["A", 1], ["C", 3]], "after": 1}, "t": {"x": 2}}


def test_a_list_without_its_own_bracket_and_a_header_without_its_first() -> None:
    document = load('rows =\n  ["A", 1],\n  ["B", 2],\n]\n# then\nsection]\nx = 2\n', "x")
    assert [(f.line, f.code) for f in document.faults] == [(1, "syntax"), (6, "syntax")]
    assert document.data == {"section": {"x": 2}}


def test_one_sign_lost_from_a_job_is_one_fault_nearly_always() -> None:
    """300 signs taken out of the demo job, one at a time: what is told is the slip, not what follows from it."""
    text = demo_job_text()
    places = random.Random(4).sample(range(len(text)), 300)
    counts = [len(load(text[:at] + text[at + 1 :], "x").faults) for at in places]
    assert sum(n <= 1 for n in counts) >= 0.98 * len(counts)
    assert max(counts) <= 5


@pytest.mark.parametrize("next_line", ["[b]", "key = 1", "[[b]]", "[b", '"k" = 2', "a.b = 3"])
def test_a_bracket_left_open_ends_at_the_next_key_or_section(next_line: str) -> None:
    assert (2, "not-closed") in told(f'x = 1\nrows = [\n  ["A", 1],\n{next_line}\n')
    assert not [f for f in load(f'rows = [\n  ["A", 1],\n{next_line}\n', "x").faults if f.line == 2]


def test_a_broken_header_keeps_its_keys_together() -> None:
    document = load('[job\nname = "x"\n[survey]\ny = 1\n', "x")
    assert [(f.line, f.code) for f in document.faults] == [(1, "syntax")]
    assert document.data == {"job": {"name": "x"}, "survey": {"y": 1}}


def test_a_second_section_and_a_second_key_are_told() -> None:
    assert told("[a]\nx = 1\nx = 2\n[b]\ny = 1\n[a]\nz = 1\n") == [(3, "given-twice"), (6, "given-twice")]


def test_several_kinds_at_once() -> None:
    text = '[job]\nname = "Tern\nnonsense here\n[survey]\nbehind = ["x"\n[cover\nmount = "x"\nmount = "y"\n'
    assert told(text) == [(2, "syntax"), (3, "syntax"), (5, "not-closed"), (6, "syntax"), (8, "given-twice")]


def test_windows_line_ends_and_a_byte_order_mark() -> None:
    document = load('\ufeff[a]\r\nx = 1\r\n\r\ny = "b\r\n', "x")
    assert [(f.line, f.code) for f in document.faults] == [(4, "syntax")]
    assert document.data == {"a": {"x": 1}}


@pytest.mark.parametrize(
    "text", ["x = " + "[" * 5000, "x = " + "[" * 5000 + "]" * 5000, "x = " + "9" * 5000, "x={" * 3000]
)
def test_what_would_overrun_the_reader_is_told(text: str) -> None:
    document = load(text, "x")
    assert document.faults
    assert document.faults[0].line == 1


def test_a_wall_of_nonsense_ends() -> None:
    assert len(load("nonsense [\n" * 2000, "x").faults) <= 130


def test_signs_that_cannot_be_seen() -> None:
    assert told("# a\x07\nx = 1\n\u00a0\ny = 2 \r\n\r") == [(1, "syntax"), (3, "syntax"), (5, "syntax")]


def test_paths_are_spelt_as_a_person_counts() -> None:
    assert spell(("survey", "tapes", 2, 3, "sigma")) == "survey.tapes[3][4].sigma"
    assert spell(("survey", "sketch", "deep end")) == 'survey.sketch."deep end"'
    assert said(spell(())) == "the file"


@pytest.mark.parametrize(
    ("row", "remedy"),
    [
        ("[\u201cA\u201d, \u201cB\u201d, 3]", "curly"),
        ('["A" "B", "24\' 0\\""]', "a comma between"),
        ('["A", "B", 24\' 0"]', "inch mark"),
        ("[A, B, 3]", "every name in quotes"),
        ('["A", "B", 2,063]', "no comma between thousands"),
        ('["A", "B", 02063]', "without a 0 in front"),
        ('["A", "B", 3', "ends with ]"),
    ],
)
def test_the_remedy_fits_what_was_done(row: str, remedy: str) -> None:
    document = load(f'[s]\nrows = [\n  {row},\n  ["B", 2],\n]\n', "x")
    assert [f.line for f in document.faults] == [3]
    assert remedy in right(document.faults[0])


def test_a_key_of_two_words_is_put_together() -> None:
    document = load('[s]\ndrive side = "left"\n', "x")
    assert "write drive_side" in right(document.faults[0])
