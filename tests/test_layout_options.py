"""Ends side by side: which is taken, why the others lost, and what each would cost."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from makers import INCH, make_system
from stringline.finding import Finding, code_of, finding, within
from stringline.job.model import Cover, Obstacle, Pool
from stringline.layout.ends import ends_of
from stringline.layout.options import Option, options
from stringline.layout.outline import outline_of
from stringline.layout.place import lay_out
from stringline.lengths import Unit
from stringline.sheets.voice import Voice
from surveyed import pool_of, surveyed

ELL = {"1": (0.0, 0.0), "2": (0.0, 12.0), "3": (6.0, 12.0), "4": (6.0, 6.0), "5": (3.0, 6.0), "6": (3.0, 0.0)}
WALL = {"w": (-1.0, 12.02), "x": (7.0, 12.02)}
COVER = Cover("on-deck", None, "left", 0.15, 0.3)
SYSTEM = make_system()


def _options(points: dict[str, tuple[float, float]], pool: Pool, cover: Cover) -> tuple[Option, ...]:
    return options(surveyed(points), pool, cover, SYSTEM)


def _ends(points: dict[str, tuple[float, float]], pool: Pool, mount: str = "on-deck") -> list[str]:
    return [Voice(Unit.M).say(e.label) for e in ends_of(outline_of(pool, surveyed(points)), None, mount, 0.0)]


def test_ends_of_an_l_are_its_outer_sides() -> None:
    assert sorted(_ends(ELL, pool_of(*ELL))) == ["the end 1–6", "the end 2–1", "the end 3–2", "the end 4–3"]


def test_points_along_a_side_make_no_end_of_their_own() -> None:
    points = {"1": (0, 0), "a": (0, 4.0), "b": (0.003, 8), "2": (0, 12), "3": (6, 12), "4": (6, 0)}
    assert sorted(_ends(points, pool_of(*points))) == ["the end 1–4", "the end 2–1", "the end 3–2", "the end 4–3"]


def test_a_ring_of_short_edges_has_four_ends_that_hold_every_heading() -> None:
    t = np.arange(60) * math.tau / 60
    points = {f"k{i}": (6 * math.cos(x), 3 * math.sin(x)) for i, x in enumerate(t)}
    for curve in (False, True):
        found = ends_of(outline_of(pool_of(*points, curve=curve), surveyed(points)), None, "on-deck", 0.0)
        assert len(found) == 4
        assert sum(e.high - e.low for e in found) == pytest.approx(math.tau)
        assert {e.edge for e in found} == {None}


def test_every_end_is_priced_and_says_why() -> None:
    found = _options(ELL, pool_of(*ELL), COVER)
    assert [o.chosen for o in found] == [True, *[False] * (len(found) - 1)]
    first = found[0]
    assert first.layout is not None
    assert first.why == finding("layout.taken-least", by="area")
    taken = lay_out(surveyed(ELL), pool_of(*ELL), COVER, SYSTEM)
    assert taken.frame == first.layout.frame
    g, t = first.layout.gauge.value, first.layout.travel.value
    assert first.area is not None
    assert first.area.value == pytest.approx(g * t)
    assert first.drum is not None
    assert first.drum.value == pytest.approx(g - 5 * INCH)
    assert first.track is not None
    assert first.track.value == pytest.approx(first.layout.channel.value + INCH)
    assert first.cover_width is not None
    assert first.cover_width.value == pytest.approx(g + 4 * INCH)
    assert first.cover_length is not None
    assert first.cover_length.value == pytest.approx(t + 0.225 + 72 * INCH + 6 * INCH)
    assert any(code_of(o.why) == "layout.as-good" for o in found[1:])
    assert any(f.code == "layout.wider" and f.get("by_m") > 0.0 for o in found[1:] for f in within(o.why))


def test_chosen_end_is_compared_with_the_others() -> None:
    found = _options(ELL, pool_of(*ELL), replace(COVER, housing=("3", "4")))
    assert found[0].why == finding("layout.taken-as-asked", end=finding("layout.end-between", left="4", right="3"))
    others = [o for o in found[1:] if o.by == "area"]
    assert len(others) == 3
    assert {code_of(o.why) for o in others} == {"layout.other-end"}


def test_blocked_ends_stay_in_the_list_with_the_reason() -> None:
    pool = pool_of(*ELL, obstacles=(Obstacle("raised wall", ("w", "x"), "wall"),))
    found = _options(ELL | WALL, pool, COVER)
    assert found[0].end == finding("layout.end-between", left="1", right="6")
    assert found[0].layout is not None
    assert ("layout.stops-at-wall", "raised wall") in [
        (n.code, n.get("wall")) for s in found[0].layout.notes for n in within(s)
    ]
    blocked = [o for o in found if o.layout is None]
    assert len(blocked) == 3
    for option in blocked:
        assert option.area is None
        assert {f.get("obstacle") for f in within(option.why) if f.code == "layout.in-the-way"} == {"raised wall"}


def test_nothing_fits_at_the_chosen_end_but_elsewhere() -> None:
    pool = pool_of(*ELL, obstacles=(Obstacle("raised wall", ("w", "x"), "wall"),))
    found = _options(ELL | WALL, pool, replace(COVER, housing=("2", "3")))
    assert not any(o.chosen for o in found)
    assert any(code_of(o.why) == "layout.fits-elsewhere" for o in found)


def test_a_turned_cover_says_what_turned_it() -> None:
    """A rock at the housing's right end: on the deck the cover can turn away from it, and says at what cost."""
    points = {"1": (0.0, 0.0), "2": (0.0, 12.0), "3": (6.0, 12.0), "4": (6.0, 0.0), "r": (6.35, -0.35)}
    pool = pool_of("1", "2", "3", "4", obstacles=(Obstacle("boulder", ("r",), "rock"),))
    layout = lay_out(surveyed(points), pool, replace(COVER, housing=("1", "4")), SYSTEM)
    (note,) = [n for n in layout.notes if code_of(n) == "layout.turned-by-obstacles"]
    assert isinstance(note, Finding)
    assert note.get("obstacles") == ("boulder",)
    assert note.get("turn_rad") > 0.0
    assert layout.clearances[0].figure.value == pytest.approx(0.0, abs=1e-6)


def test_far_pulleys_stand_at_the_tracks_ends() -> None:
    points = {k: ELL[k] for k in ("1", "2", "3")} | {"4": (6.0, 0.0)}
    layout = lay_out(surveyed(points), pool_of(*points), replace(COVER, housing=("1", "4")), SYSTEM)
    _, _, right, left = layout.corners()
    assert left == pytest.approx((-0.15, 12.0 + 0.3 + 0.075))
    assert right == pytest.approx((6.15, 12.0 + 0.3 + 0.075))
