"""Orders: made from the survey alone, sorted by supplier, enough for what is cut."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import stringline
from makers import FOOT, INCH, make_job, make_layout, make_system
from stringline.cutting.pieces import cut_list
from stringline.job.readings import AsBuilt
from stringline.lengths import Unit
from stringline.ordering.order import order
from stringline.ordering.result import Does
from stringline.sheets.voice import Voice
from stringline.sheets.words import chapter

SAY = Voice(Unit.FT_IN).say


def test_an_order_does_not_follow_what_was_built() -> None:
    built = AsBuilt.of(gauge=((0.0, 17 * FOOT),), channel_left_m=41 * FOOT, channel_right_m=41 * FOOT)
    system, layout = make_system(), make_layout()
    before = order(make_job(), system, layout)
    after = order(make_job(built), system, layout)
    assert before == after
    said = SAY(before.basis)
    assert "18'" in said
    assert "40'" in said


def test_every_line_has_a_supplier_and_what_fixes_it() -> None:
    found = order(make_job(), make_system(), make_layout())
    assert {SAY(line.supplier) for line in found.lines} == {"cover maker", "track and hardware", "housing and lid"}
    assert len({line.key for line in found.lines}) == len(found.lines)
    assert all(line.count > 0 for line in found.lines)
    cover = next(line for line in found.lines if line.key == "cover")
    assert [f.value for f in cover.figures] == pytest.approx([220 * INCH, 534 * INCH + 0.225])
    assert any("invented" in SAY(n) for n in found.notes)


def test_the_sticks_ordered_make_both_tracks() -> None:
    system, layout = make_system(), make_layout()
    sticks = [line for line in order(make_job(), system, layout).lines if line.key.startswith("stick")]
    bought = sum(line.count * line.figures[0].value for line in sticks)
    cuts = cut_list(make_job(), system, layout)
    assert bought >= sum(cuts.piece(f"track-{s}").figure.value for s in ("left", "right")) - 1e-7
    whole = sum(s.length_m for side in ("left", "right") for s in cuts.piece(f"track-{side}").segments if s.whole)
    assert bought >= whole


def test_lid_and_fascia_are_enough() -> None:
    system, layout = make_system(), make_layout()
    lines = {line.key: line for line in order(make_job(), system, layout).lines}
    cuts = cut_list(make_job(), system, layout)
    panels = cuts.piece("lid-panel").count + 1
    assert lines["lid-panel"].count == panels
    assert lines["fascia"].count * 20 * FOOT >= cuts.piece("fascia-centre").figure.value + 2 * 8 * INCH


def test_every_code_of_the_order_has_its_words_and_every_word_its_place() -> None:
    source = "".join(
        p.read_text("utf-8") for p in Path(stringline.__file__).parent.rglob("*.py") if "words" not in p.parts
    )
    codes = set(re.findall(r'"(ordering\.[a-z.-]+)"', source)) | {str(does.word) for does in Does}
    assert codes == set(chapter("ordering"))
