"""What the README and the docs show can be typed as it stands, and every link in them leads somewhere."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from stringline.cli import build_parser, main
from stringline.demo import demo_job_text

ROOT = Path(__file__).parent.parent
PAGES = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").glob("*.md")])


def commands(page: Path) -> list[list[str]]:
    """Every ``stringline`` line in a page's shell blocks, split as a shell would, without remarks."""
    blocks = re.findall(r"```sh\n(.*?)```", page.read_text(encoding="utf-8"), re.DOTALL)
    lines = [shlex.split(line, comments=True) for block in blocks for line in block.splitlines()]
    return [words[1:] for words in lines if words and words[0] == "stringline"]


SHOWN = [(page.name, words) for page in PAGES for words in commands(page)]


def test_commands_are_shown_at_all() -> None:
    assert len(SHOWN) > 10


@pytest.mark.parametrize(("page", "words"), SHOWN, ids=[f"{p}: {' '.join(w)}" for p, w in SHOWN])
def test_every_command_shown_is_one_that_the_parser_takes(page: str, words: list[str]) -> None:
    typed = [w for w in words if w != "…"]
    if ">" in typed:
        typed = typed[: typed.index(">")]
    assert build_parser().parse_args(typed).verb == typed[0]


def test_the_readme_runs_from_top_to_bottom(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """As shown, in a folder of its own; readings are put into the new file where a person would write them."""
    monkeypatch.chdir(tmp_path)
    shown = commands(ROOT / "README.md")
    assert shown[0][0] == "new"
    assert main(shown[0]) == 0
    job = Path(shown[0][1])
    assert main(["survey", str(job)]) == 2  # nothing is taped yet
    sketch = 'sketch = { A = [0, -3], B = [24, -3], "1" = [0, 0], "2" = [30, 0], "3" = [30, 15], "4" = [0, 15] }'
    blank = job.read_text(encoding="utf-8")
    drawn = re.sub(r"^sketch = \{\}", sketch, blank, count=1, flags=re.MULTILINE)
    assert drawn != blank
    job.write_text(drawn, encoding="utf-8")
    ran = {"new"}
    for words in shown[1:]:
        if words[0] == "survey":
            job.write_text(demo_job_text(), encoding="utf-8")
        if words[0] == "strike":  # the line of the reading depends on what stands above it
            line = next(n for n, t in enumerate(job.read_text("utf-8").splitlines(), 1) if '"2", "3"' in t)
            words = [str(line) if w.isdigit() and words[i - 1] == "--line" else w for i, w in enumerate(words)]
        if words[0] == "demo":
            words = [*words, "--no-serve"]
        assert main(words) in (0, 1), capsys.readouterr().err
        ran.add(words[0])
    assert {"taping", "survey", "tape", "strike", "plan", "book"} <= ran
    assert len(list(tmp_path.glob("*/book.pdf"))) >= 1


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.name)
def test_every_link_leads_somewhere(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    dead = []
    for link in re.findall(r"\]\(([^)\s]+)\)", text):
        if re.match(r"[a-z]+:", link):
            continue
        file, _, anchor = link.partition("#")
        target = page.parent / file if file else page
        if not target.exists() or (anchor and anchor not in _anchors(target)):
            dead.append(link)
    assert dead == []


def test_pictures_in_the_readme_are_drawings() -> None:
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+\.svg)\)", (ROOT / "README.md").read_text(encoding="utf-8"))
    assert len(pictures) >= 2
    for name in pictures:
        assert "<svg" in (ROOT / name).read_text(encoding="utf-8")[:500]


def test_every_verb_is_documented() -> None:
    page = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
    verbs = next(a.choices for a in build_parser()._actions if a.dest == "verb" and a.choices)
    assert [v for v in verbs if f"\n## {v}\n" not in page] == []


def _anchors(page: Path) -> set[str]:
    heads = re.findall(r"^#+ (.*)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", h.lower()).strip().replace(" ", "-") for h in heads}
