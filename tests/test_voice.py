"""Findings said in words: values by the unit in their name, other ways by what stands behind the colon, languages."""

from __future__ import annotations

import pytest

from stringline.finding import Finding, code_of, finding, within
from stringline.lengths import Unit
from stringline.sheets import voice, words
from stringline.sheets.language import read_po
from stringline.sheets.voice import Voice

WORDS = {
    "trial.length": "It is {gap_m}.",
    "trial.small": "{gap_m:small}, {gap_m:+small}, {gap_m:tolerance}, {gap_m:amount}, {gap_m:+amount}",
    "trial.force": "{pull_n} and {k_n_m}",
    "trial.names": "{names:and}",
    "trial.choice": "{names:or}",
    "trial.setting": "{gap_m:setting}",
    "trial.percent": "{part_share:percent}",
    "trial.sentences": "{why:sentences}",
    "trial.inner": "{why:cap}.",
    "trial.why": "because of {who}",
    "trial.count": ("one line", "{n} lines"),
    "trial.side": "{side:@common.side}",
    "trial.odds": "{odds:odds}",
    "trial.plain": "{r:.2}",
    "trial.bound": "{low:plain} or more",
    "trial.turn": "{turn_rad:degrees}",
    "trial.bare": "{x}",
}


@pytest.fixture(autouse=True)
def _trial(monkeypatch: pytest.MonkeyPatch) -> None:
    kept = words.chapter
    monkeypatch.setattr(words, "chapter", lambda name: WORDS if name == "trial" else kept(name))
    monkeypatch.setattr(voice, "CHAPTERS", words.CHAPTERS | {"trial"})


@pytest.mark.parametrize(
    ("unit", "said", "text"),
    [
        (Unit.FT_IN, finding("trial.length", gap_m=0.3048), "It is 1' 0\"."),
        (Unit.MM, finding("trial.length", gap_m=0.3048), "It is 305 mm."),
        (Unit.M, finding("trial.small", gap_m=0.0123), "12.3 mm, +12.3 mm, 12.3 mm, 12 mm, +12 mm"),
        (Unit.M, finding("trial.force", pull_n=160.7, k_n_m=2.0), "161 N and 2.0 N/m"),
        (Unit.FT, finding("trial.force", pull_n=4.4482216, k_n_m=14.593903), "1 lbf and 1.00 lbf/ft"),
        (Unit.M, finding("trial.names", names=["A", "B", "3"]), "A, B and 3"),
        (Unit.M, finding("trial.names", names=["A"]), "A"),
        (Unit.M, finding("trial.choice", names=["A", "B", "C"]), "A, B or C"),
        (Unit.FT_IN, finding("trial.setting", gap_m=0.0604), '2 3/8"'),
        (Unit.FT, finding("trial.setting", gap_m=0.0001), "0.0039 in"),
        (Unit.MM, finding("trial.setting", gap_m=0.0001), "0.10 mm"),
        (Unit.MM, finding("trial.setting", gap_m=0.0604), "60 mm"),
        (Unit.M, finding("trial.percent", part_share=1.374), "137 %"),
        (Unit.M, finding("trial.inner", why=finding("trial.why", who="{names}")), "Because of {names}."),
        (Unit.M, finding("trial.inner", why=None), "."),
        (Unit.M, finding("trial.sentences", why=["a", finding("trial.why", who="B")]), "A. Because of B."),
        (Unit.M, finding("trial.count", n=1), "one line"),
        (Unit.M, finding("trial.count", n=3), "3 lines"),
        (Unit.M, finding("trial.side", side="left"), "left"),
        (Unit.M, finding("trial.turn", turn_rad=0.1), "5.7°"),
        (Unit.M, finding("trial.odds", odds=1.3), "1.3 to 1"),
        (Unit.M, finding("trial.plain", r=-0.004), "0.00"),
        (Unit.FT_IN, finding("trial.bound", low=0.25), "0.25 or more"),
        (Unit.FT_IN, finding("trial.bound", low=4.0), "4 or more"),
    ],
)
def test_a_finding_in_words(unit: Unit, said: Finding, text: str) -> None:
    assert Voice(unit).say(said) == text


def test_a_number_without_a_unit_in_its_name_is_refused() -> None:
    with pytest.raises(KeyError):
        Voice(Unit.M).say(finding("trial.bare", x=1.5))
    with pytest.raises(KeyError):
        Voice(Unit.M).say(finding("trial.length"))


def test_a_code_without_words_is_an_error_and_a_text_of_somebody_is_not() -> None:
    with pytest.raises(KeyError):
        Voice(Unit.M).say("trial.nothing-of-the-kind")
    assert Voice(Unit.M).say("as somebody wrote it. Twice.") == "as somebody wrote it. Twice."


def test_a_language_is_a_file() -> None:
    po = (
        'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=utf-8\\n"\n'
        '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n\n'
        'msgctxt "trial.length"\nmsgid "It is {gap_m}."\nmsgstr "Mide {gap_m}."\n\n'
        'msgctxt "trial.count"\nmsgid "one line"\nmsgid_plural "{n} lines"\n'
        'msgstr[0] "una línea"\nmsgstr[1] "{n} líneas"\n'
    )
    spanish = Voice(Unit.MM, read_po("es", po.encode()))
    assert spanish.say(finding("trial.length", gap_m=1.0)) == "Mide 1000 mm."
    assert spanish.say(finding("trial.count", n=1)) == "una línea"
    assert spanish.say(finding("trial.count", n=2)) == "2 líneas"
    assert spanish.say(finding("trial.why", who="x")) == "because of x"  # not translated yet: said in English


def test_findings_within_a_finding() -> None:
    whole = finding("a", first=finding("b", more=(finding("c"),)), n=1)
    assert [f.code for f in within(whole)] == ["a", "b", "c"]
    assert code_of("a") == code_of(finding("a", n=1)) == "a"
