"""Sheets: typed blocks, and how a terminal and the typesetter set them."""

from __future__ import annotations

import pytest

from stringline.book.blocks import blocks_data
from stringline.finding import finding
from stringline.judging import Verdict
from stringline.lengths import Unit
from stringline.sheets import model as m
from stringline.sheets.figures import working
from stringline.sheets.voice import Voice
from stringline.terminal.lines import table
from stringline.terminal.render import blocks_lines, sheet_text, working_lines
from stringline.worked import Figure, Origin, Term

BLOCKS: tuple[m.Block, ...] = (
    m.Headline("Re-tape 2–4 before anything is made.", Verdict.FAIL, ("It reads a foot long.",), tick=True),
    m.Text("Five readings more than it needs.", depth=m.Depth.FULL),
    m.Heading("Readings"),
    m.Table(
        "readings",
        (m.Column("Line"), m.Column("Read", m.Align.RIGHT), m.Column("Again", paper=True)),
        (("2–4", m.Cell("7.012 m", strong=True, notes=("others expect 6.707 m",)), m.Cell(blank=True)),),
        note="Read: as written.",
    ),
    m.Ticks((m.Item("Hook the tape."), m.Item("Pull it level.", "practice")), numbered=True),
    m.Cautions((m.Item("Eyes: wear glasses.", "osha-eye"),)),
    m.Picture("survey"),
    m.Blanks(("Taped by", "Date")),
    m.Text("For the page alone.", depth=m.Depth.SCREEN),
)


def test_a_terminal_shows_what_matters_first_and_no_box_to_fill_in() -> None:
    text = sheet_text(m.Sheet("survey", "Survey", BLOCKS))
    assert text.splitlines()[:3] == ["Survey", "======", "Re-tape 2–4 before anything is made."]
    assert "Five readings" not in text
    assert "Again" not in text
    assert "others expect 6.707 m" in text.split("7.012 m\n")[1].splitlines()[0]
    assert "  1. Hook the tape." in text
    assert "  ! Eyes: wear glasses." in text
    assert "Five readings" in sheet_text(m.Sheet("survey", "Survey", BLOCKS), full=True)


def test_paper_has_what_a_screen_leaves_out_and_the_other_way_round() -> None:
    data = blocks_data(BLOCKS, {}, "survey")
    kinds = [b["block"] for b in data]
    assert "blanks" in kinds
    assert "picture" not in kinds  # the plan has no such drawing
    texts = [b["text"] for b in data if b["block"] == "text"]
    assert texts == ["Five readings more than it needs."]
    rows = next(b for b in data if b["block"] == "table")["rows"]
    assert rows[0][2]["blank"] is True


def test_an_index_names_on_paper_the_page_of_each_thing_and_on_a_screen_only_the_thing() -> None:
    columns = (m.Column("Mark"), m.Column("Sheet", m.Align.RIGHT, paper=True))
    index = m.Table("index", columns, (("T-L", m.Cell(page_of="card-0")),))
    (made,) = blocks_data((index,), {}, "cards")
    assert made["rows"][0][1]["page_of"] == "card-0"
    assert blocks_lines((index,)) == ["  Mark", "  T-L"]


def test_no_line_is_wider_than_the_screen() -> None:
    long = "a word or two " * 20
    rows = (("x", long, "1"), ("y", "z", "22"))
    blocks = (
        m.Text(long),
        m.Bullets((long,)),
        m.Table("t", (m.Column("a"), m.Column("b"), m.Column("c", m.Align.RIGHT)), rows),
        m.Table("u", tuple(m.Column("n", m.Align.RIGHT) for _ in range(9)), (("123456789012",) * 9,)),
    )
    for width in (40, 80):
        assert max(map(len, blocks_lines(blocks, width=width))) <= width


def test_a_row_must_fill_its_columns() -> None:
    with pytest.raises(ValueError, match="readings"):
        m.Table("readings", (m.Column("a"), m.Column("b")), (("only one",),))


def test_a_column_below_stands_under_its_row_on_a_screen() -> None:
    columns = (m.Column("part"), m.Column("change", m.Align.RIGHT), m.Column("what to do", below=True))
    rows = (("Drum", "1 mm", "Leave it."), ("Lid", "20 mm", m.Cell("Cut it.", notes=("By its new card.",))))
    assert blocks_lines((m.Table("t", columns, rows),)) == [
        "  part  change",
        "  Drum    1 mm",
        "      Leave it.",
        "  Lid    20 mm",
        "      Cut it.",
        "      By its new card.",
    ]
    narrow = "\n".join(blocks_lines((m.Table("t", columns, rows),), width=16))
    assert narrow.index("Leave it.") < narrow.index("Lid") < narrow.index("Cut it.")
    wide = (m.Table("t", columns, (("Drum", "1 mm", "Leave it."), ("Lid", "a long amount of it", "Cut it."))),)
    by_row = "\n".join(blocks_lines(wide, width=24))
    assert by_row.index("change: 1 mm") < by_row.index("Leave it.") < by_row.index("Lid") < by_row.index("Cut it.")


def test_numbers_stand_below_each_other() -> None:
    rows = (("A–B", "7.0 m"), ("A–1", "12.0 m"))
    assert table(("", "read"), rows) == ["         read", "  A–B   7.0 m", "  A–1  12.0 m"]


def test_a_working_names_its_key_and_says_where_it_was_rounded() -> None:
    terms = [Term("a", 1.0004, Origin.MEASURED), Term("b", 1.0004, Origin.CHOSEN)]
    third = Figure.sum(finding("trial.gauge", at_m=1.0), terms)
    made = working(third, Voice(Unit.M))
    assert made.key == "trial.gauge"
    assert made.rounded
    assert [r.sign for r in made.rows] == ["+", "+"]
    said = "\n".join(working_lines(made))
    assert "trial.gauge" in said
    assert made.rounded in said


def test_a_figure_without_a_working_says_who_says_so_on_a_screen() -> None:
    lone = working(Figure.single("trial.reach", 1.0, Origin.CHOSEN), Voice(Unit.M))
    assert working_lines(lone) == ["      =          1.000 m  trial.reach [chosen] (trial.reach)"]
