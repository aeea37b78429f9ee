"""Files on disk: all or nothing, the same for the same day."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from book_makers import bare, full
from stringline.book import write
from stringline.book.pdf import BookError
from stringline.book.write import write_book

DAY = datetime.date(2026, 5, 4)


def test_a_full_book_and_its_tables(tmp_path: Path) -> None:
    said: list[str] = []
    written = write_book(full(), tmp_path / "new" / "folder", today=DAY, progress=said.append)
    names = [p.name for p in written]
    assert names[0] == "book.pdf"
    tables, pictures = (
        {"cuts.csv", "order.csv", "parts.csv", "parts.xlsx"},
        {"plan.svg", "plan.dxf", "survey.svg", "survey.dxf", "sticks.svg", "sticks.dxf"},
    )
    assert set(names) == {"book.pdf"} | tables | pictures
    assert all(p.stat().st_size > 50 for p in written)
    assert "typesetting" in said
    assert sorted(p.name for p in (tmp_path / "new" / "folder").iterdir()) == sorted(names)


def test_a_survey_alone_writes_no_empty_tables(tmp_path: Path) -> None:
    names = {p.name for p in write_book(bare(), tmp_path, today=DAY)}
    assert "book.pdf" in names
    assert not any(n.endswith(".csv") for n in names)


def test_written_again_on_the_same_day_every_byte_is_the_same(tmp_path: Path) -> None:
    first = {p.name: p.read_bytes() for p in write_book(full(), tmp_path / "a", today=DAY)}
    second = {p.name: p.read_bytes() for p in write_book(full(), tmp_path / "b", today=DAY)}
    assert first == second


def test_a_book_that_cannot_be_set_leaves_the_old_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old = {p: p.read_bytes() for p in write_book(full(), tmp_path, today=DAY)}

    def refuse(*_: object, **__: object) -> bytes:
        raise BookError("no")

    monkeypatch.setattr(write, "pdf", refuse)
    with pytest.raises(BookError):
        write_book(full(name="Other"), tmp_path, today=DAY)
    assert {p: p.read_bytes() for p in old} == old
    assert set(tmp_path.iterdir()) == set(old)
