"""The sheet of the layout: the dimensioned plan, the figures that fix it, what it stays clear of, the tracks' form."""

from __future__ import annotations

from collections.abc import Iterable

from stringline.finding import Code, finding, nested
from stringline.form.result import Fit, GaugeAt
from stringline.layout.result import Clearance, Layout
from stringline.sheets.model import Align, Block, Bullets, Cell, Column, Depth, Heading, Picture, Sheet, Table, Text
from stringline.sheets.voice import Voice
from stringline.worked import Figure

_WHOLE = 24  # a table with more rows than these may run over to the next page


def layout_sheet(layout: Layout, fit: Fit | None, voice: Voice) -> Sheet:
    """The plan comes first and alone; then tables. ``fit`` is the tracks' form, or the water's before the pour."""
    say = voice.say
    fixing = (layout.gauge, layout.travel, layout.channel, layout.water_width, layout.water_length, layout.setback)
    rows = _figures((*fixing, layout.water_area, layout.water_perimeter), voice)
    blocks: list[Block] = [
        Picture("plan", fills=True),
        Text(say("layout.sheet.true-to-scale"), style="note", depth=Depth.PAPER),
        *_table("figures", finding("layout.sheet.figures"), "layout.sheet.figure", rows, voice),
    ]
    clear = tuple(_clearance(c, voice) for c in layout.clearances)
    blocks += _table("clearances", finding("layout.sheet.clearances"), "layout.sheet.from-to", clear, voice)
    if fit is not None:
        blocks += _form(fit, voice)
    if notes := [*_edge(layout), *layout.notes, *(() if fit is None else fit.notes)]:
        blocks += [Heading(say("layout.sheet.notes")), Bullets(tuple(voice.all(notes)))]
    return Sheet("layout", say("layout.sheet.title"), tuple(blocks))


def _table(key: str, title: Code, what: str, rows: tuple[tuple[str | Cell, ...], ...], voice: Voice) -> list[Block]:
    """A short table of figures under its heading; nothing where it has no rows."""
    say = voice.say
    columns = (
        Column(say(what)),
        Column(say("layout.sheet.value"), Align.RIGHT, 45.0),
        Column(say("common.spread"), Align.RIGHT, 40.0),
    )
    return [Heading(say(title), joined=len(rows) <= _WHOLE), Table(key, columns, rows, small=True)] if rows else []


def _figures(figures: Iterable[Figure | None], voice: Voice) -> tuple[tuple[str | Cell, ...], ...]:
    return tuple((voice.label(f), *_values(f, voice)) for f in figures if f is not None)


def _clearance(clearance: Clearance, voice: Voice) -> tuple[str | Cell, ...]:
    between = finding("layout.sheet.between", part=nested(clearance.part), obstacle=clearance.obstacle)
    return voice.say(between), *_values(clearance.figure, voice)


def _values(figure: Figure, voice: Voice) -> tuple[Cell, str]:
    amount = voice.amount(figure.value, figure.kind)
    return Cell(amount, strong=True, value=figure.value), voice.spread(figure.sigma, figure.kind)


def _form(fit: Fit, voice: Voice) -> list[Block]:
    """What is known of the tracks' form, and the gauge by station."""
    say = voice.say
    basis = finding(f"layout.sheet.basis-{fit.basis}")
    known = (fit.straight_left, fit.straight_right, fit.parallel, fit.square, fit.diagonals)
    title = finding("layout.sheet.form", basis=basis)
    blocks = _table("form", title, "layout.sheet.figure", _figures(known, voice), voice)
    if fit.gauge:
        columns = (
            Column(say("layout.sheet.station")),
            Column(say("layout.sheet.gauge"), Align.RIGHT, 45.0),
            Column(say("common.spread"), Align.RIGHT, 40.0),
            Column(say("layout.sheet.off"), Align.RIGHT, 45.0),
        )
        title = finding("layout.sheet.gauge-by-station", basis=basis)
        rows = tuple(_station(g, voice) for g in fit.gauge)
        blocks += [Heading(say(title), joined=len(rows) <= _WHOLE), Table("gauge", columns, rows, small=True)]
    return blocks


def _station(at: GaugeAt, voice: Voice) -> tuple[str | Cell, ...]:
    off = at.deviation
    return (
        Cell(voice.length(at.station_m), strong=True, value=at.station_m),
        *_values(at.gauge, voice),
        Cell(voice.amount(off.value, off.kind), value=off.value),
    )


def _edge(layout: Layout) -> list[Code]:
    """How closely the water's edge is known, square to itself."""
    sigma = layout.water_sigma
    if sigma is None or not len(sigma):
        return []
    worst, best = 2.0 * float(sigma.max()), 2.0 * float(sigma.min())
    return [finding("layout.sheet.edge-known", worst_m=worst, best_m=best)]
