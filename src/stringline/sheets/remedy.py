"""The sheet of the tracks as built: what is out of form, what parts take up, and each way to put the tracks right."""

from __future__ import annotations

from stringline.finding import finding, nested
from stringline.form.correction import Correction, Move, Remedy
from stringline.form.effects import Effect
from stringline.judging import Verdict
from stringline.sheets.cautions import for_card
from stringline.sheets.figures import limit_words
from stringline.sheets.model import (
    Align,
    Blanks,
    Block,
    Bullets,
    Cautions,
    Cell,
    Column,
    Depth,
    Group,
    Heading,
    Notice,
    Sheet,
    Table,
    Text,
)
from stringline.sheets.voice import Voice

_WHOLE = 16  # a way with more moves than these may run over to the next page


def remedy_sheet(remedy: Remedy, voice: Voice) -> Sheet | None:
    """What is not safely within its limit, what that does to ordered parts, and the moves of each way, to tick off.

    None where tracks and housing keep their limits: the checks say so.
    """
    if not remedy.out and not remedy.notes:
        return None
    say = voice.say
    blocks: list[Block]
    if remedy.out:
        blocks = [Notice((say(finding("form.sheet.out", what=[nested(o) for o in remedy.out])),))]
    else:
        blocks = [Notice((say("form.sheet.tracks-keep"),), Verdict.WATCH)]
    blocks.append(Cautions(for_card("fit-out", voice)))
    if remedy.out and remedy.as_is:
        blocks += [Heading(say("form.sheet.as-is"), joined=True), _effects("as-is", remedy.as_is, voice)]
    for n, way in enumerate(remedy.ways, 1):
        made = _way(n, way, voice)
        blocks += made if len(way.moves) > _WHOLE else [Group(made)]
    if remedy.notes:
        blocks += [Heading(say("form.sheet.notes"), joined=True), Bullets(tuple(voice.all(remedy.notes)))]
    if remedy.ways:
        blanks = voice.all(("form.sheet.moved-by", "form.sheet.measured-by", "form.sheet.date"))
        blocks += [Text(say("form.sheet.stations"), style="note"), Blanks(tuple(blanks), depth=Depth.PAPER)]
    return Sheet("remedy", say("form.sheet.title"), tuple(blocks), joins=True)


def _way(n: int, way: Correction, voice: Voice) -> tuple[Block, ...]:
    say = voice.say
    columns = (
        Column("", width_mm=8.0, paper=True),
        Column(say("form.sheet.track"), width_mm=24.0),
        Column(say("form.sheet.station"), width_mm=30.0),
        Column(say("form.sheet.move")),
        Column(say("form.sheet.means"), width_mm=30.0),
    )
    said = finding("form.sheet.comes-to", total_m=way.total_m, gauge_m=way.gauge.value)
    return (
        Heading(say(finding("form.sheet.way", number=n, title=nested(way.title)))),
        Text(say(said), joined=True),
        Table(f"moves-{n}", columns, tuple(_move(m, voice) for m in way.moves)),
        _effects(f"effects-{n}", way.effects, voice),
    )


def _move(move: Move, voice: Voice) -> tuple[str | Cell, ...]:
    by = move.figure.value
    said = finding("form.sheet.move-by", by_m=abs(by), to="right" if by > 0 else "left")
    return (
        Cell(tick=True),
        Cell(voice.say(f"common.side.{move.side}"), strong=True),
        Cell(voice.length(move.station_m), value=move.station_m),
        Cell(voice.say(said), strong=True, value=by),
        voice.say(move.means),
    )


def _effects(key: str, effects: tuple[Effect, ...], voice: Voice) -> Table:
    say = voice.say
    columns = (
        Column(say("form.sheet.verdict"), width_mm=24.0),
        Column(say("form.sheet.part"), width_mm=23.0),
        Column(say("form.sheet.off"), Align.RIGHT, 24.0),
        Column(say("form.sheet.takes-up"), width_mm=30.0),
        Column(say("form.sheet.so")),
    )
    rows = tuple(
        (
            Cell(say(f"common.verdict.{e.verdict.value}"), e.verdict, strong=True),
            Cell(say(e.part), strong=True),
            Cell(voice.small(e.figure.value, sign=True), value=e.figure.value),
            limit_words(e.limit, e.figure.kind, voice),
            say(e.says),
        )
        for e in effects
    )
    return Table(key, columns, rows)
