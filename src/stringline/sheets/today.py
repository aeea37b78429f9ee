"""Sheet one: what must be right today. The verdict, what holds it, what nobody may forget, and the rows of checks."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from stringline.finding import finding
from stringline.judging import Check, Stage, Verdict
from stringline.plan import Needs, Plan
from stringline.sheets.cautions import for_stage
from stringline.sheets.figures import limit_words
from stringline.sheets.model import (
    Block,
    Bullets,
    Cell,
    Column,
    Depth,
    Group,
    Heading,
    Headline,
    Sheet,
    Table,
    Text,
    Ticks,
)
from stringline.sheets.voice import Voice
from stringline.worked import Kind

# A section is needed once its stage has been reached: without it, nobody can say that the stage may go on.
_WANTED_FROM = {
    "survey": Stage.SURVEY,
    "layout": Stage.LAYOUT,
    "order": Stage.ORDER,
    "parts": Stage.ORDER,
    "fit": Stage.FIT_OUT,
    "cuts": Stage.FIT_OUT,
}
# Told where they lack something, though no stage leans on them alone.
_BESIDE = {"mechanics": Stage.SURVEY, "lead": Stage.RUN_IN, "diagnosis": Stage.RUN_IN}
_ORDER = (Verdict.FAIL, Verdict.CANNOT_TELL, Verdict.NOT_MEASURED, Verdict.WATCH, Verdict.PASS)
_WORDS = (
    "today.word.adjusted",
    "today.word.residual",
    "today.word.r",
    "today.word.w",
    "today.word.sigma",
    "today.word.cannot-tell",
    "today.word.gauge",
    "today.word.station",
    "today.word.diagonals",
    "today.word.lead",
    "today.word.sides",
    "today.word.factory-end",
)


def today_sheet(plan: Plan, voice: Voice, *, later: bool = True) -> Sheet:
    """May the stage go on, which checks hold it, and what nobody may forget.

    Without ``later`` nothing is told of later stages, and none of their sections is made for it.
    """
    say, stage = voice.say, plan.job.stage
    checks = plan.checks if later else plan.due
    held = plan.held
    codes = {c.code for c in held}
    sections = ((name, wanted, getattr(plan, name)) for name, wanted in _WANTED_FROM.items())
    lacking = [(name, wanted, s) for name, wanted, s in sections if isinstance(s, Needs)]
    due = [(name, s) for name, wanted, s in lacking if stage.rank >= wanted.rank]
    told = [name for name, wanted in _BESIDE.items() if later or stage.rank >= wanted.rank]
    beside = [(name, s) for name in told if isinstance(s := getattr(plan, name), Needs) and s.missing]
    here = [c for c in checks if c.stage.rank <= stage.rank and c.code not in codes]
    headline = _headline(stage, len(held), len(due), voice)
    blocks: list[Block] = [headline, *_titled("today.held", check_table("held", _sorted(held), voice), voice)]
    if due or beside:
        needs = [
            finding("today.needs", section=_section(name), missing=tuple(voice.all(s.missing)))
            for name, s in (*due, *beside)
        ]
        blocks += [Heading(say("today.missing-now"), joined=True), Bullets(tuple(voice.all(needs)))]
    open_ones = _sorted(c for c in here if c.verdict is not Verdict.PASS)
    blocks += _titled("today.watch", check_table("watch", open_ones, voice), voice)
    blocks += [
        Heading(say("today.remember"), depth=Depth.FULL, joined=True),
        Ticks(for_stage(stage, voice), depth=Depth.FULL),
    ]
    passed = [c for c in here if c.verdict is Verdict.PASS]
    blocks += _titled("today.passed", brief_table("passed", passed, voice), voice)
    if later:
        after = brief_table("later", [c for c in checks if c.stage.rank > stage.rank], voice, depth=Depth.FULL)
        blocks += _titled("today.later", after, voice)
    blocks += _needed_later([(n, w, s) for n, w, s in lacking if stage.rank < w.rank], voice)
    blocks += _last_words(voice)
    return Sheet("today", say("today.title"), tuple(blocks), verdict=headline.text)


def verdict_blocks(held: Sequence[Check], stage: Stage, voice: Voice) -> list[Block]:
    """Whether a stage may go on and what holds it, for a screen that shows one section alone."""
    table = check_table("held", _sorted(held), voice)
    return [_headline(stage, len(held), 0, voice), *_titled("today.held", table, voice)]


def check_table(key: str, checks: Sequence[Check], voice: Voice) -> Table | None:
    """Checks with what follows if each is ignored and what to do; None where there is none."""
    say = voice.say
    rows = tuple(
        (
            Cell(say(f"common.verdict.{c.verdict.value}"), verdict=c.verdict, strong=True),
            Cell(
                say(c.title),
                strong=True,
                notes=(say(finding("today.if-ignored", consequence=say(c.consequence))),),
                do=say(finding("today.do", action=say(c.action))),
            ),
            _value(c, voice),
            Cell(_limit(c, voice), notes=(say(finding("today.holds", stage=_stage(c.stage))),)),
        )
        for c in checks
    )
    columns = _columns(voice, (27.0, 33.0, 30.0))
    return Table(key, columns, rows) if rows else None


def brief_table(key: str, checks: Sequence[Check], voice: Voice, *, depth: Depth = Depth.FIRST) -> Table | None:
    """Checks a line each; None where there is none."""
    say = voice.say
    rows = tuple(
        (
            Cell(say(f"common.verdict.{c.verdict.value}"), verdict=c.verdict, strong=True),
            say(finding("today.title-at-stage", title=say(c.title), stage=_stage(c.stage))),
            say("today.no-reading") if c.figure is None else voice.figure(c.figure),
            _limit(c, voice),
        )
        for c in checks
    )
    columns = _columns(voice, (28.0, 38.0, 27.0))
    return Table(key, columns, rows, small=True, depth=depth) if rows else None


def _headline(stage: Stage, held: int, due: int, voice: Voice) -> Headline:
    for n, which, verdict in ((held, "today.stop", Verdict.FAIL), (due, "today.not-yet", Verdict.CANNOT_TELL)):
        if n:
            text, why = finding(which, stage=_stage(stage)), finding(f"{which}-why", n=n)
            return Headline(voice.say(text), verdict, (voice.say(why),))
    return Headline(voice.say(finding("today.go", stage=_stage(stage))), Verdict.PASS, (voice.say("today.go-why"),))


def _value(check: Check, voice: Voice) -> Cell:
    figure = check.figure
    if figure is None:
        return Cell(voice.say("today.no-reading"), strong=True)
    notes = tuple(t for t in (voice.spread(figure.sigma, figure.kind), voice.label(figure)) if t)
    return Cell(voice.amount(figure.value, figure.kind), strong=True, notes=notes, value=figure.value)


def _limit(check: Check, voice: Voice) -> str:
    """Without a figure there is no kind; every limit of the catalogue that can stand alone is a length."""
    if check.limit is None:
        return ""
    return limit_words(check.limit, Kind.LENGTH if check.figure is None else check.figure.kind, voice)


def _columns(voice: Voice, widths: tuple[float, float, float]) -> tuple[Column, ...]:
    say = voice.say
    return (
        Column(say("today.column.verdict"), width_mm=widths[0]),
        Column(say("today.column.check")),
        Column(say("today.column.value"), width_mm=widths[1]),
        Column(say("today.column.limit"), width_mm=widths[2]),
    )


def _titled(code: str, table: Table | None, voice: Voice) -> list[Block]:
    if table is None:
        return []
    return [Heading(voice.say(code), depth=table.depth, joined=len(table.rows) < 3), table]


def _needed_later(lacking: list[tuple[str, Stage, Needs]], voice: Voice) -> list[Block]:
    if not lacking:
        return []
    needs = [
        finding("today.needs-later", section=_section(n), stage=_stage(w), missing=tuple(voice.all(s.missing)))
        if s.missing
        else finding("today.follows", section=_section(n), stage=_stage(w))
        for n, w, s in lacking
    ]
    head = Heading(voice.say("today.missing-later"), depth=Depth.FULL, joined=True)
    return [head, Bullets(tuple(voice.all(needs)), depth=Depth.FULL)]


def _last_words(voice: Voice) -> list[Block]:
    words = voice.all(_WORDS)
    half = (len(words) + 1) // 2
    columns = Group((Bullets(tuple(words[:half])), Bullets(tuple(words[half:]))), columns=2, depth=Depth.FULL)
    return [
        Heading(voice.say("today.words"), depth=Depth.FULL, joined=True),
        columns,
        Heading(voice.say("today.promise-title"), depth=Depth.FULL, joined=True),
        Text(voice.say("today.promise"), depth=Depth.FULL),
    ]


def _sorted(checks: Iterable[Check]) -> list[Check]:
    return sorted(checks, key=lambda c: (_ORDER.index(c.verdict), c.stage.rank))


def _stage(stage: Stage) -> object:
    return finding(f"common.stage.{stage.value}")


def _section(name: str) -> object:
    return finding(f"common.section.{name}")
