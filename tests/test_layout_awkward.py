"""An awkward pool all the way: L-shaped, one end bowed, a raised wall, a handrail; tape notes in, a book out."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from stringline.cli import main
from stringline.geometry import signed_area

JOB = Path(__file__).parent / "jobs" / "heron-yard.toml"


def test_tape_notes_become_a_layout(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(JOB), "--json"]) == 0
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
    assert main(["book", str(JOB), "--out", str(tmp_path)]) == 0
    assert (tmp_path / "book.pdf").stat().st_size > 50_000
    plan = (tmp_path / "plan.svg").read_text(encoding="utf-8")
    assert "raised wall" in plan
    assert "handrail" in plan
