"""How to add a section, done: five files touched in a copy of the program, and it is on every face."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import stringline
from stringline.demo import demo_job_text

ROOM = '''"""How much water lies under the cover."""

from dataclasses import dataclass

from stringline.finding import Code, finding
from stringline.plan.model import Needs
from stringline.worked import Figure, Kind, Origin, Term


@dataclass(frozen=True)
class Shade:
    area: Figure
    notes: tuple[Code, ...] = ()


def shade_of(layout):
    if isinstance(layout, Needs):
        return Needs("shade", ("shade.layout-first",))
    terms = [Term("shade.gauge", layout.gauge.value, Origin.DERIVED, kind=Kind.LENGTH)]
    terms += [Term("shade.travel", layout.travel.value, Origin.DERIVED, kind=Kind.LENGTH)]
    value = layout.gauge.value * layout.travel.value
    area = Figure.by_rule("shade.area", value, "shade.rule", terms, kind=Kind.AREA)
    return Shade(area, (finding("shade.told", area_m2=value),))
'''
WORDS = '''"""Shade."""

WORDS = {
    "shade.layout-first": "the layout first",
    "shade.gauge": "gauge",
    "shade.travel": "travel",
    "shade.area": "Water in the shade",
    "shade.rule": "gauge times travel",
    "shade.told": "The closed cover shades {area_m2}.",
    "shade.title": "Shade over the water",
}
'''
SHEET = '''"""The sheet of shade."""

from stringline.sheets.figures import workings
from stringline.sheets.model import Headline, Sheet, Workings


def shade_sheet(found, voice):
    blocks = (Headline(voice.say(found.notes[0])), Workings(workings((found.area,), voice)))
    return Sheet("shade", voice.say("shade.title"), blocks)
'''


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The program with one more section."""
    root = tmp_path_factory.mktemp("added") / "stringline"
    shutil.copytree(Path(stringline.__file__).parent, root, ignore=shutil.ignore_patterns("__pycache__"))
    touched = {
        "layout/shade.py": ROOM,
        "sheets/words/shade.py": WORDS,
        "sheets/shade.py": SHEET,
        "plan/table.py": _with_line(
            root / "plan/table.py",
            before="    levelled = Section(",
            line='    shade = Section("layout.shade:shade_of", "layout", means="water under the cover")\n',
        ),
        "sheets/index.py": _with_line(
            root / "sheets/index.py",
            before='    "levels": ',
            line='    "shade": lambda p, v: None if isinstance(p.shade, Needs) else shade_sheet(p.shade, v),\n',
            top="from stringline.sheets.shade import shade_sheet\n",
        ),
    }
    assert len(touched) <= 5
    for name, text in touched.items():
        (root / name).write_text(text, encoding="utf-8")
    (root.parent / "job.toml").write_text(demo_job_text(), encoding="utf-8")
    return root.parent


def _with_line(path: Path, *, before: str, line: str, top: str = "") -> str:
    text = path.read_text(encoding="utf-8")
    assert text.count(before) == 1, f"{path.name} no longer has a place for a line"
    first = text.index("from stringline")
    return (text[:first] + top + text[first:]).replace(before, line + before)


def run(copy: Path, *args: str) -> str:
    done = subprocess.run(
        [sys.executable, "-m", "stringline", *args],
        cwd=copy,
        env={**os.environ, "PYTHONPATH": str(copy)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode in (0, 1), done.stderr
    return done.stdout


def test_it_is_in_the_json_with_its_figure_and_its_words(copy: Path) -> None:
    shade = json.loads(run(copy, "plan", "job.toml", "--json"))["shade"]
    assert shade["area"]["key"] == "shade.area"
    assert shade["area"]["label"] == "Water in the shade"
    assert shade["notes"][0].startswith("The closed cover shades ")


def test_it_is_on_the_terminal(copy: Path) -> None:
    text = run(copy, "plan", "job.toml")
    assert "Shade over the water" in text
    assert "The closed cover shades " in text


def test_it_is_in_the_book(copy: Path) -> None:
    import pypdfium2

    run(copy, "book", "job.toml", "--out", "made")
    with pypdfium2.PdfDocument(copy / "made" / "book.pdf") as book:
        pages = [page.get_textpage().get_text_range() for page in book]
    (page,) = (p for p in pages if "Shade over the water" in p)
    assert "gauge times travel" in page
    assert "shade.area" in page


def test_the_page_of_contributing_names_the_same_files() -> None:
    text = (Path(__file__).parent.parent / "CONTRIBUTING.md").read_text(encoding="utf-8")
    part = text[text.index("## How to add a section") : text.index("## Rules")]
    for name in ("plan/table.py", "sheets/words/CHAPTER.py", "sheets/FILE.py", "sheets/index.py", "ROOM/FILE.py"):
        assert name in part
