"""An awkward pool all the way: L-shaped, one end bowed, a raised wall, a handrail; tape notes in, a book out."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from stringline.cli import main
from stringline.demo import demo_job_text
from stringline.geometry import signed_area


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "heron-yard.toml"
    path.write_text(demo_job_text("heron-yard"), encoding="utf-8")
    return path


def test_tape_notes_become_a_layout(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(job), "--json"]) == 0
    layout = json.loads(capsys.readouterr().out)["layout"]
    assert layout["housing_edge"] == ["1", "6"]
    notes = " ".join(layout["notes"])
    assert "stops at raised wall" in notes
    by_name = {c["obstacle"]: c["figure"]["value"] for c in layout["clearances"]}
    assert set(by_name) == {"raised wall", "handrail"}
    assert min(by_name.values()) > 0.0
    # the pool was drawn 5.5 m wide and 12.3 m long over its bowed end, and taped with 2 mm of scatter
    assert layout["water_width"]["value"] == pytest.approx(5.5, abs=0.03)
    assert layout["water_length"]["value"] == pytest.approx(12.31, abs=0.03)
    corners = np.array(layout["corners_m"])
    assert abs(signed_area(corners)) > 5.5 * 12.3


def test_tape_notes_become_a_book(tmp_path: Path) -> None:
    assert main(["demo", "--job", "heron-yard", "--out", str(tmp_path), "--no-serve"]) == 0
    assert (tmp_path / "book.pdf").stat().st_size > 50_000
    plan = (tmp_path / "plan.svg").read_text(encoding="utf-8")
    assert "raised wall" in plan
    assert "handrail" in plan


def test_only_one_end_fits_and_the_others_say_what_blocks(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["plan", str(job), "--json"])
    plan = json.loads(capsys.readouterr().out)
    assert [e["fits"] for e in plan["ends"]] == [True, False, False, False]
    assert all("raised wall is in the way" in e["why"] for e in plan["ends"][1:])
    # the rods fall 19 mm from 1 to 2 and the floor 27 mm over 1.35 m
    assert plan["levels"]["fall_along"]["value"] > 0.010
    assert plan["levels"]["floor"]["value"] == pytest.approx(0.027 / 1.350)
