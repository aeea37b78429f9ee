"""How the cover rolls and pulls: what cannot do the job first, then every figure with its rule, then the drawings."""

from __future__ import annotations

from stringline.finding import finding, nested
from stringline.judging import Verdict
from stringline.mechanics.result import Mechanics, Refusal
from stringline.sheets.model import (
    Align,
    Block,
    Bullets,
    Cell,
    Column,
    Heading,
    Headline,
    Notice,
    Picture,
    Sheet,
    Table,
)
from stringline.sheets.voice import Voice


def mechanics_sheet(found: Mechanics, voice: Voice) -> Sheet:
    """Roll, reels, rope, motor, drum and sliders of this cover in this housing."""
    say = voice.say
    blocks: list[Block] = [_refused(r, voice) for r in found.refusals]
    if not blocks:
        blocks.append(_works(found, voice))
    blocks.append(_figures(found, voice))
    if notes := voice.all(found.notes):
        blocks += [Heading(say("mechanics.sheet.notes"), joined=True), Bullets(tuple(notes))]
    blocks += [
        Picture("run", say("mechanics.drawing.run")),
        Picture("section", say("mechanics.drawing.section"), scaled=True),
    ]
    return Sheet("mechanics", say("mechanics.sheet.title"), tuple(blocks))


def _figures(found: Mechanics, voice: Voice) -> Table:
    """Every figure with its rule; a column of spreads only where one is known."""
    say = voice.say
    spread = any(f.sigma is not None for f in found.figures)
    rows = tuple(
        (
            voice.label(f),
            Cell(voice.amount(f.value, f.kind), strong=True, value=f.value),
            *((voice.spread(f.sigma, f.kind),) if spread else ()),
            Cell(notes=() if f.rule is None else (say(f.rule),)),
        )
        for f in found.figures
    )
    columns = (
        Column(say("mechanics.sheet.figure"), width_mm=66.0),
        Column(say("mechanics.sheet.value"), Align.RIGHT, 28.0),
        *((Column(say("common.spread"), Align.RIGHT, 24.0),) if spread else ()),
        Column(say("mechanics.sheet.rule"), paper=True),
    )
    return Table("figures", columns, rows)


def _refused(refusal: Refusal, voice: Voice) -> Notice:
    lines = (
        finding("mechanics.sheet.refused", part=refusal.part, why=refusal.why),
        finding("mechanics.sheet.nearest", nearest=refusal.nearest or nested("mechanics.sheet.none-known")),
    )
    return Notice(tuple(voice.all(lines)), Verdict.FAIL)


def _works(found: Mechanics, voice: Voice) -> Headline:
    """No verdict's sign: the checks judge each of these figures against its limit."""
    more = finding(
        "mechanics.sheet.in-short",
        pull_n=found.peak_pull.value,
        factor=found.design_factor.value,
        margin=found.motor_margin.value,
        closing_s=found.run_time_closing.value,
        opening_s=found.run_time_opening.value,
    )
    return Headline(voice.say("mechanics.sheet.works"), more=(voice.say(more),))
