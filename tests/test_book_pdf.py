"""The printed book as a reader opens it: pages, words, places, scale, tags."""

from __future__ import annotations

import datetime
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from functools import lru_cache
from itertools import combinations, pairwise
from typing import Any

import pypdfium2 as pdfium
import pypdfium2.raw as raw
import pytest

from book_makers import bare, full, with_run
from book_reader import PT_MM, inside_frames, pages, rects, squeezed, structure, text_of, turns
from spoken import said
from stringline.book.pages import book_data
from stringline.book.pages_paper import PAPERS
from stringline.book.pdf import BookError, pdf
from stringline.cutting.result import CutList
from stringline.finding import finding
from stringline.judging import Stage
from stringline.lengths import Unit
from stringline.ordering.result import Order
from stringline.plan import Plan
from stringline.survey.result import Survey

DAY = datetime.date(2026, 5, 4)
MARKUP = "#panic() *bold* $x$ @ref <tag> _it_ `raw` \\u{41} [a](b) // c /* d */ = E - f + g ~ \"q\" 'r'"


@lru_cache(maxsize=16)
def made(kind: str, paper: str = "letter") -> bytes:
    plans: dict[str, Any] = {
        "full": lambda: full(),
        "bare": lambda: bare(),
        "run": lambda: with_run(full()),
        "big": lambda: full(name="Grandmother's very long and winding river house " * 4, n_pieces=40, n_tapes=200),
        "markup": lambda: full(name=MARKUP),
        "names": lambda: full(name="Höhe Ђура Αθήνα 池田 \u202eevil \U0001f3ca " + "W" * 120),
    }
    return pdf(book_data(plans[kind](), paper=paper, revision="A", today=DAY), today=DAY)


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("kind", ["full", "big"])
def test_every_page_has_the_paper_asked_for(kind: str, paper: str) -> None:
    size = PAPERS[paper]
    for page in pages(made(kind, paper)):
        width, height = page.get_size()
        assert width * PT_MM == pytest.approx(size.width_mm, abs=0.05)
        assert height * PT_MM == pytest.approx(size.height_mm, abs=0.05)


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("kind", ["full", "bare", "run", "big", "markup", "names"])
def test_no_letter_leaves_its_frame_or_enters_the_title_block(kind: str, paper: str) -> None:
    inside_frames(made(kind, paper), paper)


@pytest.mark.parametrize("kind", ["full", "run", "big", "names"])
def test_no_line_of_text_lies_on_another(kind: str) -> None:
    for number, page in enumerate(pages(made(kind)), 1):
        if any(abs(turn) > 0.01 for turn in turns(page)):
            continue  # a drawing with slanting words; drawings watch over their own letters
        for a, b in combinations(rects(page), 2):
            small = min((x.right - x.left) * (x.top - x.bottom) for x in (a, b))
            assert a.over(b) <= 0.3 * small, f"page {number}: {a.text!r} on {b.text!r}"


def test_every_check_is_on_sheet_one_in_words() -> None:
    plan = full()
    first = squeezed(text_of(made("full"))[0])
    for check in plan.checks:
        assert squeezed(said(check.title)) in first
        assert squeezed(said(f"common.verdict.{check.verdict.value}")) in first
    for check in plan.held:
        assert squeezed(said(check.consequence)) in first
        assert squeezed(said(check.action)) in first


def test_every_page_says_which_sheet_of_how_many() -> None:
    for kind in ("full", "bare", "big"):
        found = text_of(made(kind))
        for n, text in enumerate(found, 1):
            assert f"{n} of {len(found)}" in text
            assert "Invented job for demonstration" in text
            assert "2026-05-04" in text


def test_a_table_of_two_hundred_tapes_repeats_its_header_and_loses_none() -> None:
    found = text_of(made("big"))
    survey = [t for t in found if "Residual" in t and "Shows" in t]
    assert len(survey) >= 4
    plan = full(n_tapes=200, n_pieces=40)
    whole = squeezed("".join(found))
    assert whole.count("RE-TAPE") >= 1
    assert isinstance(plan.cuts, CutList)
    for piece in plan.cuts.pieces:
        assert whole.count(squeezed(said(piece.name))) >= 2


def test_markup_in_a_name_stays_text() -> None:
    found = text_of(made("markup"))
    for text in found:
        assert squeezed(MARKUP)[:40] in squeezed(text)


def test_letters_the_font_lacks_are_named() -> None:
    whole = squeezed("".join(text_of(made("names"))))
    assert "HöheЂураΑθήνα[U+6C60][U+7530]evil[U+1F3CA]" in whole


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_scale_bar_measures_what_it_says(paper: str) -> None:
    """The bar's black and white cells are measured on the rendered page between its first and last upright."""
    document = pdfium.PdfDocument(made("full", paper))
    page = next(p for p in document if "printed at 100" in p.get_textpage().get_text_range())
    words = page.get_textpage()
    text = words.get_text_range()
    ratio = float(re.search(r"Scale [^\n]*\(1:(\d+)\)", text)[1])  # type: ignore[index]
    marks = re.search(r"\b0\s+(?:\d+ ft\s+)*(\d+) ft", text)
    assert marks is not None
    expected_mm = float(marks[1]) * 304.8 / ratio
    left, _, right, top = words.get_charbox(marks.start())
    dpi, mm = 600, 600 / 25.4
    image = page.render(scale=dpi / 72, grayscale=True).to_numpy()
    image = image.reshape(image.shape[0], image.shape[1])
    baseline = image.shape[0] - int(top * dpi / 72)
    start = int((left + right) / 2 * dpi / 72)
    rows = slice(baseline - int(2.3 * mm), baseline - int(0.4 * mm))  # the bar stands 1 mm above its figures
    band = image[rows, start - int(3 * mm) : start + int((expected_mm + 5) * mm)] < 128
    across = band.any(axis=0).nonzero()[0]
    measured = (across[-1] - across[0]) / mm
    document.close()
    assert measured == pytest.approx(expected_mm, abs=0.35)  # the bar's own outline is 0.2 mm or so wide


def test_the_pdf_is_tagged_and_says_its_title_and_language() -> None:
    content = made("full")
    document = pdfium.PdfDocument(content)
    assert document.get_metadata_dict()["Title"].startswith("Tern Cottage")
    assert document.get_metadata_dict()["CreationDate"].startswith("D:20260504000000")
    assert raw.FPDFCatalog_IsTagged(document.raw)
    document.close()
    assert re.search(rb"/Lang\s*\(en-US\)", content)
    packet = re.search(rb"<x:xmpmeta.*?</x:xmpmeta>", content, re.S)
    assert packet is not None
    meta = ET.tostring(ET.fromstring(packet[0]), encoding="unicode")
    assert re.search(r"part>1<", meta)  # PDF/UA-1
    assert re.search(r"part>2<", meta)  # PDF/A-2
    assert re.search(r"conformance>A<", meta)


def test_headings_are_in_order_and_every_picture_has_words() -> None:
    document = pdfium.PdfDocument(made("full"))
    kinds: list[str] = []
    pictures = 0
    for page in document:
        for kind, alt in structure(page):
            if re.fullmatch(r"H\d", kind):
                kinds.append(kind)
            if kind == "Figure":
                pictures += 1
                assert len(alt) > 10
    document.close()
    assert kinds[0] == "H1"
    assert all(int(b[1]) <= int(a[1]) + 1 for a, b in pairwise(kinds))
    assert pictures >= 10  # survey, plan, strips, labels


def test_the_outline_names_every_sheet() -> None:
    document = pdfium.PdfDocument(made("full"))
    titles = [mark.get_title() for mark in document.get_toc() if mark.level == 0]
    document.close()
    assert titles == [s["title"] for s in book_data(full(), today=DAY)["sheets"]]


def test_the_same_input_gives_the_same_bytes() -> None:
    plan: Plan = full()
    again = pdf(book_data(plan, paper="letter", revision="A", today=DAY), today=DAY)
    assert again == made("full")


def test_what_the_typesetter_cannot_set_is_an_error_not_a_gap() -> None:
    data = book_data(bare(), today=DAY)
    data["block"]["job"] = "池"
    with pytest.raises(BookError, match="could not be displayed"):
        pdf(data, today=DAY)


PIECES = (MARKUP, "x" * 300, "池" * 40, "\u202e\x07tab\there", "a\nb\r\nc", "=1+1", "\u00ad\u200b", "", "😀 é̂ ﬁ №")


@pytest.mark.parametrize("nasty", PIECES, ids=range(len(PIECES)))
def test_any_text_anywhere_can_be_set(nasty: str) -> None:
    """Names, notes, reasons and steps come from people; none of them may break a sheet or leave it."""
    plan = full()
    assert isinstance(plan.cuts, CutList)
    assert isinstance(plan.order, Order)
    assert isinstance(plan.survey, Survey)
    piece = replace(
        plan.cuts.pieces[0],
        mark=nasty[:40], name=nasty, material=nasty, steps=(nasty,) * 3, cautions=(nasty,), segments=(), marks=(),
    )  # fmt: skip
    line = replace(plan.order.lines[0], item=nasty, note=nasty, supplier=nasty)
    struck = replace(plan.survey.struck[0], reason=nasty)
    check = replace(plan.checks[0], action=finding("check.line", frm=nasty, to=nasty))
    plan = plan.changed(
        job=replace(plan.job, name=nasty),
        cuts=CutList((piece,), (nasty,)),
        order=Order(nasty, (line,), (nasty,)),
        survey=replace(plan.survey, struck=(struck,), notes=(nasty,)),
        checks=(check,),
        assumptions=(nasty,),
    )
    content = pdf(book_data(plan, paper="letter", revision=nasty[:30], today=DAY), today=DAY)
    inside_frames(content, "letter")


def test_a_card_that_no_sheet_can_hold_breaks_and_loses_nothing() -> None:
    plan = full()
    assert isinstance(plan.cuts, CutList)
    steps = tuple(f"Step number {n} is done with care and then done once more, to be sure of it." for n in range(90))
    long = replace(plan.cuts.pieces[0], steps=steps)
    content = pdf(book_data(plan.changed(cuts=CutList((long,))), today=DAY), today=DAY)
    inside_frames(content, "letter")
    whole = squeezed("".join(text_of(content)))
    for n in range(90):
        assert f"Stepnumber{n}isdone" in whole


@pytest.mark.parametrize("unit", list(Unit))
@pytest.mark.parametrize("stage", [Stage.SURVEY, Stage.ORDER, Stage.HANDOVER])
def test_every_unit_and_stage_makes_a_book(unit: Unit, stage: Stage) -> None:
    content = pdf(book_data(full(unit=unit, stage=stage), paper="a4", today=DAY), today=DAY)
    inside_frames(content, "a4")
    assert stage.value in text_of(content)[0]
