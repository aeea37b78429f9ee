"""What the book's sheets say, before they are set."""

from __future__ import annotations

import datetime
import json
from dataclasses import replace
from typing import Any

import pytest

from book_makers import FT, IN, bare, fit, full, pieces, with_run
from sheet_reader import bullets, column, headline, said, tables, text_of
from stringline.book.pages import book_data
from stringline.book.pages_paper import PAPERS
from stringline.book.pages_text import printable, shortened
from stringline.cutting.result import CutList
from stringline.judging import Limit, Stage, Verdict
from stringline.layout.result import Layout
from stringline.lengths import Unit
from stringline.plan import Needs
from stringline.sheets.cards import card_blocks, cut_cards, index_sheet
from stringline.sheets.cautions import for_stage
from stringline.sheets.figures import limit_words, working
from stringline.sheets.fill_in import fit_out_sheet, run_in_sheet, stations
from stringline.sheets.labels import MOST_OF_ONE, cut_labels, label_text
from stringline.sheets.model import Cell, Notice
from stringline.sheets.quantities import odds
from stringline.sheets.sources import cited, walk
from stringline.sheets.survey import survey_sheet
from stringline.sheets.today import today_sheet
from stringline.sheets.voice import Voice
from stringline.sources import ALL, Standing
from stringline.survey.result import GlobalTest, Survey
from stringline.terminal.render import blocks_lines
from stringline.worked import Figure, Kind, Origin, Term

DAY = datetime.date(2026, 5, 4)


def sheets(data: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {s.get("key", s["kind"]): s for s in data["sheets"]}


def test_a_full_plan_has_every_sheet_and_is_json() -> None:
    data = book_data(full(), today=DAY)
    kinds = ["today", "survey", "layout", "ends", "order", "cards", "labels", "fit-out", "run-in", "sources"]
    assert [s.get("key", s["kind"]) for s in data["sheets"]] == kinds
    assert json.loads(json.dumps(data)) == data
    assert data["invented"] is True
    assert data["date"] == "2026-05-04"


def test_a_survey_alone_makes_a_book_that_says_what_is_missing() -> None:
    data = book_data(bare(), today=DAY)
    assert [s.get("key", s["kind"]) for s in data["sheets"]] == ["today", "survey", "sources"]
    missing = bullets(today_sheet(bare(), VOICE))
    assert "Layout (from layout) needs: what layout needs." in missing
    assert "Cuts (from fit-out) needs: what cuts needs." in missing


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(KeyError):
        book_data(bare(), paper="foolscap", today=DAY)


VOICE = Voice(Unit.FT_IN)


def test_checks_that_hold_the_stage_come_first_and_fail_before_doubt() -> None:
    today = today_sheet(full(), VOICE)
    found = tables(today)
    assert headline(today).verdict is Verdict.FAIL
    assert column(found["held"]) == ["fails", "cannot tell", "not measured"]
    assert column(found["watch"]) == ["watch"]
    assert column(found["passed"], 1) == ["The cover reaches past the water's edge on both sides (layout)"]
    assert column(found["later"], 1) == ["The leading edge runs square enough, both ways (run-in)"]
    assert "3 checks hold it" in headline(today).more[0]


def test_every_check_stands_on_sheet_one_exactly_once() -> None:
    for stage in Stage:
        plan = full(stage=stage)
        found = tables(today_sheet(plan, VOICE))
        rows = [r.removesuffix(f" ({s.value})") for t in found.values() for r in column(t, 1) for s in Stage if r]
        told = [r for r in rows if not r.endswith(")")]
        assert set(told) == {VOICE.say(c.title) for c in plan.checks}
        assert sum(len(t.rows) for t in found.values()) == len(plan.checks)


def test_a_missing_section_keeps_the_stage_from_going_on() -> None:
    plan = full(checks=(), cuts=Needs("cuts", ("the channels as built",)))
    today = headline(today_sheet(plan, VOICE))
    assert today.verdict is Verdict.CANNOT_TELL
    assert "may go on" in today.text
    assert headline(today_sheet(full(checks=()), VOICE)).verdict is Verdict.PASS


def test_no_verdict_claims_that_anything_complies() -> None:
    for plan in (full(), full(checks=()), bare()):
        text = json.dumps(book_data(plan, today=DAY)).lower()
        assert "complies" not in text
        assert "compliant" not in text


def test_cards_from_the_survey_forbid_cutting_at_fit_out() -> None:
    plan = full()
    assert isinstance(plan.cuts, CutList)
    cards = {c.key: c for c in cut_cards(plan, plan.cuts, VOICE)}
    assert cards["rope"].provisional.startswith("Do not cut from this card.")
    assert "from the SURVEY" in cards["rope"].stands_on
    assert cards["track-left"].provisional == ""
    assert "from the AS-BUILT readings" in cards["track-left"].stands_on
    for card in cards.values():  # a screen is told the same
        told = "\n".join(blocks_lines(card_blocks(card, VOICE), width=500))
        for text in (card.length, card.provisional, *(i.text for i in (*card.steps, *card.cautions))):
            assert text in told


def test_working_shows_signs_and_says_when_rounding_does_not_add_up() -> None:
    def term(sixteenths: float, sign: int = 1) -> Term:
        return Term("t", sign * sixteenths * 0.0254 / 16, Origin.MEASURED)

    exact = working(Figure.sum("a", [term(40), term(8, -1)]), VOICE)
    assert [r.sign for r in exact.rows] == ["+", "\u2212"]
    assert exact.result == '2"'
    assert exact.rounded == ""
    apart = working(Figure.sum("b", [term(10.4), term(10.4)]), VOICE)
    assert apart.rounded.startswith("Each line is rounded")
    assert working(Figure.single("c", 1.0, Origin.CHOSEN), VOICE).rounded == ""


@pytest.mark.parametrize(
    ("value", "kind", "unit", "said"),
    [
        (0.0, Kind.LENGTH, Unit.M, "0.0 mm"),
        (-3 * IN, Kind.LENGTH, Unit.FT_IN, '\u22123"'),
        (4.4482216152605, Kind.FORCE, Unit.FT_IN, "1 lbf"),
        (4.4482216152605, Kind.FORCE, Unit.M, "4 N"),
        (0.25, Kind.PROBABILITY, Unit.M, "25.0 %"),
        (3.0, Kind.COUNT, Unit.M, "3"),
    ],
)
def test_amounts(value: float, kind: Kind, unit: Unit, said: str) -> None:
    assert Voice(unit).amount(value, kind) == said


def test_a_spread_never_reads_as_nought() -> None:
    assert VOICE.spread(1e-5) == "\u00b1 under 0.01 in"
    assert Voice(Unit.M).spread(0.0) == "\u00b1 0.0 mm"
    assert Voice(Unit.M).spread(None) == ""


@pytest.mark.parametrize(
    ("limit", "said"),
    [
        (Limit(None, 0.1), "at most 100 mm"),
        (Limit(0.0, 0.1), "at most 100 mm"),
        (Limit(0.1, None), "at least 100 mm"),
        (Limit(-0.1, 0.1), "within \u00b1 100 mm"),
        (Limit(0.1, 0.2), "100 mm to 200 mm"),
        (Limit(), "none stated"),
    ],
)
def test_limits_in_words(limit: Limit, said: str) -> None:
    assert limit_words(limit, Kind.LENGTH, Voice(Unit.MM)) == said


def test_every_verdict_has_its_word() -> None:
    said = {v: VOICE.say(f"common.verdict.{v.value}") for v in Verdict}
    assert len(set(said.values())) == len(Verdict)
    assert not any("." in text for text in said.values())  # none of them is its bare code


def test_odds_in_words() -> None:
    said = [VOICE.say(odds(x)) for x in (5000.0, 25.2, 2.0, 1.0, 0.25, 1e-9)]
    assert said == ["more than 1000 to 1", "25 to 1", "2.0 to 1", "about even", "1 to 4", "less than 1 to 1000"]


def test_only_the_suspect_line_is_flagged_for_taping_again() -> None:
    found = full()
    assert isinstance(found.survey, Survey)
    (suspect,) = found.survey.suspects
    sheet = survey_sheet(found.survey, VOICE)
    readings = tables(sheet)["readings"]
    flagged = [row for row in readings.rows if isinstance(row[-1], Cell) and row[-1].verdict is Verdict.FAIL]
    assert [text_of(row[0]) for row in flagged] == ["A–4"]
    assert column(readings, 7).count("RE-TAPE") == 1
    assert headline(sheet).text.startswith("Re-tape A–4")
    assert headline(sheet).verdict is Verdict.FAIL
    (box,) = (b for b in sheet.blocks if isinstance(b, Notice))
    assert box.tick
    assert f"expect {VOICE.length(suspect.expected_m)} {VOICE.spread(suspect.sigma_m)}." in box.lines[1]
    assert f"everything else: {VOICE.say(odds(suspect.odds))}." in box.lines[3]


def test_the_verdict_of_a_survey_follows_from_its_readings() -> None:
    found = full().survey
    assert isinstance(found, Survey)
    clean = replace(found, suspects=(), freedom=5, global_test=GlobalTest(5.0, 1.0, 12.0, True))
    told = {
        Verdict.PASS: clean,
        Verdict.FAIL: replace(clean, global_test=GlobalTest(20.0, 1.0, 12.0, False)),
        Verdict.CANNOT_TELL: replace(clean, freedom=0),
    }
    for verdict, survey in told.items():
        sheet = survey_sheet(survey, VOICE)
        assert headline(sheet).verdict is verdict
        assert not any(isinstance(b, Notice) for b in sheet.blocks)
    test = {v: said(survey_sheet(s, VOICE)) for v, s in told.items()}
    assert "score 5.0; honest tapes score between 1.0 and 12.0 in 19 jobs of 20. That is inside" in test[Verdict.PASS]
    assert "That is above" in test[Verdict.FAIL]
    assert "nothing can be tested" in test[Verdict.CANNOT_TELL]


def test_sources_hold_every_cited_key_with_its_standing() -> None:
    plan = full()
    sheet = sheets(book_data(plan, today=DAY))["sources"]
    found = {b["key"]: b["rows"] for b in sheet["blocks"] if b["block"] == "table"}
    listed = {row[0]["text"]: row[2] for row in found["sources"]}
    assert set(cited(walk(plan))) <= set(listed)
    assert {i.source for i in for_stage(plan.job.stage, VOICE)} <= set(listed)
    assert listed["trade"] == Standing.PRACTICE.value
    assert all(ALL[k].standing.value == v for k, v in listed.items())
    assert ["past the channel into the housing", '1"', "trade"] in found["practice"]


def test_cautions_at_every_stage_name_known_sources() -> None:
    for stage in Stage:
        rows = for_stage(stage, VOICE)
        assert rows
        assert all(r.source in ALL for r in rows)


def test_stations_fall_where_a_tape_is_read_and_end_at_the_end() -> None:
    for length in (2.0, 6.1, 11.8, 15.3, 40.0):
        for unit, base in ((Unit.FT_IN, FT), (Unit.M, 0.5)):
            found = stations(length, unit, first=0.0)
            assert found[0] == 0.0
            assert found == sorted(found)
            assert len(found) <= 14
            assert length - found[-1] <= max(base * 5, length / 8)
            assert all(abs(s / base - round(s / base)) < 1e-9 for s in found[:-1])


def test_taken_readings_come_back_on_the_cards() -> None:
    plan = with_run(full())
    assert isinstance(plan.layout, Layout)
    assert plan.system is not None
    run = run_in_sheet(plan.job.run, plan.layout, plan.system, None, VOICE)
    taken = tables(run)["taken"]
    assert bullets(run) == ["catch at 24'"]
    assert column(taken, 1)[0] == '5/16"'
    missing = taken.rows[2][2]
    assert isinstance(missing, Cell)
    assert missing.blank


def test_label_text_keeps_its_parts_apart() -> None:
    plan = full(name="50% off: #1")
    text = label_text(plan, pieces()[0], "B", VOICE)
    assert text == "stringline:50%25 off%3A #1:track-left:38' 9 7/8\":B"
    assert len(text.split(":")) == 5


def test_one_label_for_each_piece_and_one_for_very_many() -> None:
    plan = full()
    many = replace(pieces()[4], count=MOST_OF_ONE + 1)
    made = cut_labels(plan, CutList((*pieces(3), many)), "A", "A", VOICE)
    assert [r.number for r in made.labels] == ["", "", "1 of 2", f"{MOST_OF_ONE + 1} alike"]
    assert made.labels[2].name.endswith(", 1 of 2")
    assert [(r.number, r.foot, r.text) for r in made.twins] == [("2 of 2", "2 of 2, rev. A", made.labels[2].text)]


def test_the_width_and_the_length_of_the_cover_share_a_card_and_keep_their_rows() -> None:
    first, second = (replace(p, key=k) for p, k in zip(pieces(2), ("cover-width", "cover-length"), strict=True))
    cuts = CutList((first, second, *pieces()[2:]))
    plan = full(cuts=cuts)
    cards = cut_cards(plan, cuts, VOICE)
    index = tables(index_sheet(cuts, cards, None, VOICE))["cuts"]
    assert [row[5].page_of for row in index.rows if isinstance(row[5], Cell)] == [
        f"card-{n}" for n in (0, 0, 1, 2, 3, 4)
    ]
    assert cards[0].length == " × ".join(column(index, 3)[:2])
    assert len(cards[0].workings) == 2
    assert [s.text for s in cards[0].steps] == list(dict.fromkeys((*first.steps, *second.steps)))
    page = sheets(book_data(plan, today=DAY))["cards"]
    assert [c["label"] for c in page["cards"]] == [f"card-{n}" for n in range(5)]


def test_text_is_made_printable_without_losing_who_is_who() -> None:
    assert printable("Höhe Ђ σ") == "Höhe Ђ σ"
    assert printable("池") == "[U+6C60]"
    assert printable("a\u202eb\x00c\td") == "abc d"
    long = printable("x" * 200)
    assert long.replace("\u200b", "") == "x" * 200
    assert max(len(w) for w in long.split("\u200b")) <= 28
    assert printable({"svg": "<text>池</text>"}) == {"svg": "<text>[U+6C60]</text>"}


def test_papers_leave_the_same_margins() -> None:
    assert PAPERS["letter"].free_mm == pytest.approx((179.9, 234.4))
    assert PAPERS["a4"].free_mm == pytest.approx((174.0, 252.0))


def test_fit_out_expects_what_the_layout_says() -> None:
    plan = full(fit=fit())
    assert isinstance(plan.layout, Layout)
    assert plan.system is not None
    sheet = fit_out_sheet(plan.job.as_built, plan.layout, plan.system, VOICE)
    assert set(column(tables(sheet)["gauge"], 1)) == {"18' 8 3/8\""}
    assert column(tables(sheet)["readings"], 1)[2] == "43' 0 7/8\""
    steps = said(sheet).splitlines()
    assert any('1 1/2"' in step and "wedge" in step.lower() for step in steps)
    assert any('11/64"' in step for step in steps)


def test_a_name_too_long_for_the_title_block_ends_in_an_ellipsis() -> None:
    assert shortened("Tern  Cottage\n", 100.0, 6.0, lines=1) == "Tern Cottage"
    cut = shortened("A very long name " * 30, 100.0, 6.0, lines=2)
    assert cut.endswith("…")
    assert 100 < len(cut) < 200


def test_what_heads_something_is_never_empty() -> None:
    assert printable({"name": " ", "note": ""}) == {"name": "unnamed", "note": ""}
