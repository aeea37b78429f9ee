"""A job begun from a drawing: outlines of every make, arcs kept, uncertainty stated, and nothing guessed."""

from __future__ import annotations

import io
import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from spoken import wrong
from stringline.cli import main
from stringline.faults import Faults
from stringline.job.dxf_outline import read_outline
from stringline.job.from_outline import begun_from
from stringline.job.read import read_job
from stringline.lengths import Unit
from stringline.sheets.job_file import begun_job_text

R = 0.5
QUARTER = math.tan(math.pi / 8)
# 10 by 5 m, the far right corner rounded with 0.5 m
ROUNDED = [(0, 0, 0), (10, 0, 0), (10, 5 - R, QUARTER), (10 - R, 5, 0), (0, 5, 0)]
AREA = 50.0 - R * R * (1 - math.pi / 4)


def drawn(draw: Callable[[Any], object], units: int = 6) -> bytes:
    drawing = ezdxf.new(units=units)  # type: ignore[attr-defined]
    draw(drawing.modelspace())
    out = io.StringIO()
    drawing.write(out)
    return out.getvalue().encode()


def planned(data: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str], **choices: str) -> dict[str, Any]:
    outline = read_outline(data, "pool.dxf", **choices)
    text = begun_job_text(begun_from(outline), "Drawn (invented)", Unit.M, "pool.dxf")
    cover = '[cover]\nmount = "on-deck"\nhousing = "any"\ndrive_side = "left"\n'
    cover += 'margins = { side = "0.1 m", end = "0.3 m" }\n'
    path = tmp_path / "job.toml"
    path.write_text(text + cover, encoding="utf-8")
    main(["plan", str(path), "--json"])
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def polyline(space: Any) -> None:
    space.add_lwpolyline(ROUNDED, format="xyb", close=True, dxfattribs={"layer": "WATER"})


def mirrored(space: Any) -> None:
    """The same pool, its polyline facing down: x runs the other way in its own plane."""
    flipped = [(-x, y, -b) for x, y, b in ROUNDED]
    space.add_lwpolyline(flipped, format="xyb", close=True, dxfattribs={"extrusion": (0, 0, -1)})


def old_polyline(space: Any) -> None:
    space.add_polyline2d(ROUNDED, format="xyb", close=True)


def lines_and_arc(space: Any) -> None:
    """Lines in any order and direction, and an arc."""
    space.add_line((10, 5 - R), (10, 0))
    space.add_line((0, 5), (10 - R, 5))
    space.add_arc((10 - R, 5 - R), R, 0, 90)
    space.add_line((0, 0), (10, 0))
    space.add_line((0, 5), (0, 0))


@pytest.mark.parametrize("draw", [polyline, mirrored, old_polyline, lines_and_arc])
def test_every_make_of_outline_has_the_same_area(
    draw: Callable[[Any], None], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    layout = planned(drawn(draw), tmp_path, capsys)["layout"]
    assert layout["water_area"]["value"] == pytest.approx(AREA, abs=1e-3)  # points are written to 0.1 mm
    assert layout["water_perimeter"]["value"] == pytest.approx(30.0 - 2 * R + R * math.pi / 2, abs=1e-3)


def test_a_circle_and_an_ellipse(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    round_pool = planned(drawn(lambda s: s.add_circle((3, 4), 2.5)), tmp_path, capsys)["layout"]
    assert round_pool["water_area"]["value"] == pytest.approx(math.pi * 2.5**2, abs=2e-3)
    oval = planned(drawn(lambda s: s.add_ellipse((0, 0), (5, 0), 0.5)), tmp_path, capsys)["layout"]
    assert oval["water_area"]["value"] == pytest.approx(math.pi * 5 * 2.5, rel=2e-3)


@pytest.mark.parametrize(("units", "scale"), [(1, 0.0254), (2, 0.3048), (4, 0.001), (5, 0.01), (6, 1.0)])
def test_the_drawing_says_its_unit(units: int, scale: float) -> None:
    data = drawn(lambda s: s.add_lwpolyline([(0, 0), (1000, 0), (1000, 500), (0, 500)], close=True), units)
    xs = [v[0] for v in read_outline(data, "pool.dxf").vertices]
    assert max(xs) - min(xs) == pytest.approx(1000 * scale)


def test_a_drawing_without_a_unit_is_not_guessed() -> None:
    data = drawn(polyline, 0)
    with pytest.raises(Faults) as caught:
        read_outline(data, "pool.dxf")
    assert [f.code for f in caught.value.faults] == ["dxf-unit"]
    assert read_outline(data, "pool.dxf", unit="ft").vertices[1][0] == pytest.approx(3.048)


def test_two_outlines_are_not_chosen_between() -> None:
    def two(space: Any) -> None:
        polyline(space)
        space.add_circle((4, 2), 1, dxfattribs={"layer": "SPA"})

    with pytest.raises(Faults) as caught:
        read_outline(drawn(two), "pool.dxf")
    assert [f.code for f in caught.value.faults] == ["dxf-several"]
    assert "'SPA'" in wrong(caught.value.faults[0])
    assert len(read_outline(drawn(two), "pool.dxf", layer="water").vertices) == 5


def test_nothing_closed_names_the_layers() -> None:
    data = drawn(lambda s: s.add_line((0, 0), (10, 0), dxfattribs={"layer": "EDGE"}))
    with pytest.raises(Faults) as caught:
        read_outline(data, "pool.dxf")
    assert [f.code for f in caught.value.faults] == ["dxf-outline"]
    assert "EDGE" in wrong(caught.value.faults[0])


@pytest.mark.parametrize("data", [b"", b"no drawing", b"0\nSECTION\n2\nENTITIES\n", bytes(range(256))])
def test_what_is_no_drawing_is_a_fault(data: bytes) -> None:
    with pytest.raises(Faults) as caught:
        read_outline(data, "pool.dxf")
    assert caught.value.faults[0].code in ("dxf-unreadable", "dxf-unit", "dxf-outline")


@pytest.mark.parametrize("unit", ["ft-in", "ft", "m", "mm"])
def test_the_new_verb_begins_from_a_drawing(unit: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    drawing, path = tmp_path / "pool.dxf", tmp_path / "tern.toml"
    drawing.write_bytes(drawn(polyline))
    assert main(["new", str(path), "--from-dxf", str(drawing), "--unit", unit, "--sigma", "20 mm"]) == 0
    assert "no measurement" in capsys.readouterr().out
    job = read_job(path.read_text(encoding="utf-8"), "job")
    assert job.pool is not None
    assert [c.through for c in job.pool.water] == [False, False, False, True, False, False]
    assert {c.sigma_m for c in job.survey.coordinates} == {0.020}
    # nothing checks a drawing: it can be adjusted, and it holds the survey until something is taped
    assert main(["survey", str(path), "--json"]) == 1
    assert "survey-misread" in [c["code"] for c in json.loads(capsys.readouterr().out)["checks"] if c["stops"]]


def test_an_outline_in_a_maps_grid_is_shifted_and_says_so() -> None:
    far = [(x + 500000, y + 4100000, b) for x, y, b in ROUNDED]
    outline = read_outline(drawn(lambda s: s.add_lwpolyline(far, format="xyb", close=True)), "pool.dxf")
    text = begun_job_text(begun_from(outline), "Far (invented)", Unit.M, "pool.dxf")
    assert "x less 500000 m, y less 4100000 m" in text
    job = read_job(text, "job")
    assert max(abs(m) for c in job.survey.coordinates for m in (c.x.m, c.y.m)) < 12.0


def test_a_missing_drawing_and_a_bad_sigma_write_nothing(tmp_path: Path) -> None:
    path = tmp_path / "tern.toml"
    assert main(["new", str(path), "--from-dxf", str(tmp_path / "none.dxf")]) == 2
    (tmp_path / "pool.dxf").write_bytes(drawn(polyline))
    for sigma in ("0", "wide"):
        assert main(["new", str(path), "--from-dxf", str(tmp_path / "pool.dxf"), "--sigma", sigma]) == 2
    assert not path.exists()
