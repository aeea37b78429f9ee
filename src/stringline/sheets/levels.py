"""The sheet of levels: falls and flatness first, then every height with its uncertainty, and the housing's floor."""

from __future__ import annotations

from stringline.finding import finding
from stringline.sheets.model import Align, Block, Bullets, Cell, Column, Sheet, Table, Text
from stringline.sheets.voice import Voice
from stringline.survey.levels.falls import Levelled, Levels
from stringline.worked import Figure, Kind

_LEVEL = 1e-4  # a fall under 1 in 10,000 is none


def levels_sheet(found: Levelled, voice: Voice) -> Sheet:
    """Levels along the cover, or along the points' longest extent, and the floor's fall to its drain."""
    say = voice.say
    levels = found.levels
    figures = (levels.fall_along, levels.fall_across, levels.twist, levels.flatness, levels.out_of_plane)
    rows = [_figure(f, voice) for f in figures if f is not None]
    if found.floor is not None:
        rows.append(_floor(found.floor, voice))
    blocks: list[Block] = [
        Text(say(finding("levels.sheet.above", datum=levels.datum, along=finding(f"levels.sheet.along-{found.frame}"))))
    ]
    if rows:
        columns = _columns(voice, "levels.sheet.figure", "levels.sheet.value")
        blocks.append(Table("falls", columns, tuple(rows)))
    columns = _columns(voice, "levels.sheet.point", "levels.sheet.height")
    blocks.append(Table("heights", columns, _heights(levels, voice)))
    if notes := voice.all((*levels.notes, *found.notes)):
        blocks.append(Bullets(tuple(notes)))
    return Sheet("levels", say("levels.sheet.title"), tuple(blocks), joins=True)


def _columns(voice: Voice, what: str, value: str) -> tuple[Column, ...]:
    say = voice.say
    return (Column(say(what)), Column(say(value), Align.RIGHT, 45.0), Column(say("common.spread"), Align.RIGHT, 34.0))


def _figure(figure: Figure, voice: Voice) -> tuple[str | Cell, ...]:
    return voice.cap(figure.label), _value(voice.small(figure.value, sign=True), figure), _spread(figure, voice)


def _floor(fall: Figure, voice: Voice) -> tuple[str | Cell, ...]:
    percent = 100.0 * fall.value
    if fall.value > _LEVEL:
        how = finding("levels.sheet.one-in", percent=percent, run=round(1.0 / fall.value))
    else:
        how = finding("levels.sheet.no-fall" if fall.value > -_LEVEL else "levels.sheet.away", percent=percent)
    return voice.cap(fall.label), _value(voice.say(how), fall), voice.spread(fall.sigma, Kind.PROBABILITY)


def _value(text: str, figure: Figure) -> Cell:
    return Cell(text, strong=True, value=figure.value)


def _spread(figure: Figure, voice: Voice) -> str:
    return voice.spread(figure.sigma, figure.kind)


def _heights(levels: Levels, voice: Voice) -> tuple[tuple[str | Cell, ...], ...]:
    h = levels.heights
    return tuple(
        (
            Cell(name, strong=True),
            Cell(voice.small(h.at(name), sign=True), value=h.at(name)),
            voice.say("levels.sheet.datum")
            if name == levels.datum
            else voice.spread(h.sigma_between(name, levels.datum)),
        )
        for name in h.names
    )
