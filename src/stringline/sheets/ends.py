"""The sheet of ends: every end that the housing can stand at, side by side, and why each was taken or not."""

from __future__ import annotations

from stringline.finding import finding, nested
from stringline.judging import Verdict
from stringline.layout.options import Option
from stringline.sheets.model import Align, Block, Cell, Column, Heading, Notice, Sheet, Table, Text
from stringline.sheets.voice import Voice
from stringline.worked import Figure

_FIGURES = ("area", "drum", "track", "cover-width", "cover-length")


def ends_sheet(ends: tuple[Option, ...], voice: Voice) -> Sheet:
    """What each end means for drum, track and cover: the one taken first, those where nothing fits last."""
    say = voice.say
    columns = (
        Column(say("layout.ends.end")),
        *(Column(say(f"layout.ends.{name}"), Align.RIGHT, 26.0) for name in _FIGURES),
    )
    why = (Column(say("layout.ends.end"), width_mm=46.0), Column(say("layout.ends.why")))
    blocks: list[Block] = [
        _verdict(ends, voice),
        Table("ends", columns, tuple(_row(o, voice) for o in ends), note=say("layout.ends.columns"), small=True),
    ]
    if others := tuple((_name(o, voice), _why(o, voice)) for o in ends if not o.chosen):
        blocks += [Heading(say("layout.ends.reasons"), joined=True), Table("reasons", why, others, small=True)]
    blocks.append(Text(say("layout.ends.who-chooses"), style="note"))
    return Sheet("ends", say("layout.ends.title"), tuple(blocks), joins=True)


def _verdict(ends: tuple[Option, ...], voice: Voice) -> Block:
    """Which end was taken, and why; in a box where something is amiss with it."""
    taken = next((o for o in ends if o.chosen), None)
    if taken is None:
        return Notice((voice.say("layout.ends.none-taken"),), Verdict.FAIL)
    if taken.beyond:
        return Notice((_why(taken, voice),), _sign(taken))
    return Text(_why(taken, voice), style="lead")


def _row(option: Option, voice: Voice) -> tuple[str | Cell, ...]:
    if option.area is None:
        how = "layout.ends.does-not-fit"
    else:
        how = "layout.ends.taken" if option.chosen else "layout.ends.fits"
    figures = (option.area, option.drum, option.track, option.cover_width, option.cover_length)
    return (_name(option, voice, how), *(_figure(f, voice) for f in figures))


def _name(option: Option, voice: Voice, *more: str) -> Cell:
    notes = voice.all((*more, *(("layout.ends.least-width",) if option.by == "width" else ())))
    return Cell(voice.cap(option.end), _sign(option), strong=True, notes=(", ".join(notes),) if notes else ())


def _sign(option: Option) -> Verdict | None:
    if option.area is None:
        return Verdict.FAIL
    if option.beyond:
        return Verdict.WATCH
    return Verdict.PASS if option.chosen else None


def _figure(figure: Figure | None, voice: Voice) -> Cell:
    if figure is None:
        return Cell()
    spread = voice.spread(figure.sigma, figure.kind)
    notes = (spread,) if spread else ()
    return Cell(voice.amount(figure.value, figure.kind), strong=True, notes=notes, value=figure.value)


def _why(option: Option, voice: Voice) -> str:
    return voice.sentences((option.why, *(finding("layout.ends.beyond", limit=nested(b)) for b in option.beyond)))
