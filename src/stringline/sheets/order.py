"""The order's sheet: may it go out, how likely it fits, what to order of whom with each working, and small parts."""

from __future__ import annotations

from dataclasses import replace

from stringline.cutting.result import Parts
from stringline.finding import finding, nested
from stringline.judging import Check, Stage, Verdict
from stringline.ordering.result import Advice, Choice, Order, OrderLine
from stringline.plan import Needs, Plan
from stringline.plan.checking import holding, of_groups
from stringline.sheets.cautions import for_card
from stringline.sheets.difference import changed_notice
from stringline.sheets.figures import working
from stringline.sheets.model import (
    Align,
    Blanks,
    Block,
    Bullets,
    Cautions,
    Cell,
    Column,
    Depth,
    Heading,
    Headline,
    Sheet,
    Table,
    Text,
    Working,
    Workings,
)
from stringline.sheets.needs import needs_blocks
from stringline.sheets.quantities import decimal
from stringline.sheets.today import check_table
from stringline.sheets.voice import Voice
from stringline.survey.result import Survey
from stringline.worked import Figure, Kind

_SAY_MORE = ("order-ready", "order-changed")  # checks that somebody who asks for the order hears of, held or not
_WHOLE_ROWS = 8  # so many lines stay with their heading on one sheet of paper
_FITS = {
    "all": "ordering.sheet.fit-all-parts",
    "cover_width": "ordering.item-width",
    "leading_edge": "ordering.item-edge",
    "drum": "ordering.item-drum",
    "cover_length": "ordering.item-length",
}
_COST = "ordering.sheet.fit-cost"


def order_sheet(plan: Plan, voice: Voice, *, asked: bool = False) -> Sheet:
    """Whether the order may go out, then its lines by supplier, small parts last.

    ``asked`` where nothing but the order is: then its checks are spelled out, and what it lacks.
    """
    say, order = voice.say, None if isinstance(plan.order, Needs) else plan.order
    headline = _headline(holding(plan, Stage.ORDER), order, voice)
    blocks: list[Block] = [headline]
    if asked:
        blocks += _checks(plan, voice)
    if order is None:
        for needs in plan.needs:
            # What only waits for another section is said by that one.
            if needs.missing and needs.missing != ("plan.layout-first",):
                blocks += needs_blocks(needs, voice)
    else:
        blocks += [
            *_retaped(plan, order, voice),
            *changed_notice(plan, voice),
            Text(say(finding("ordering.sheet.made-from", basis=nested(order.basis)))),
            Cautions(for_card("order", voice)),
        ]
        # Once the order went out, or something is built, the sheet of differences answers instead.
        if plan.advice is not None and plan.placed is None and plan.job.as_built is None:
            blocks += _advice(plan.advice, voice)
        for n, supplier in enumerate(dict.fromkeys(line.supplier for line in order.lines), 1):
            lines = [line for line in order.lines if line.supplier == supplier]
            blocks += _supplier(f"order-{n}", voice.cap(supplier), lines, voice)
        if isinstance(plan.parts, Parts):
            blocks += _parts(plan.parts, Depth.FIRST if asked else Depth.FULL, voice)
        if order.notes:
            blocks += [Heading(say("ordering.sheet.notes"), joined=True), Bullets(tuple(voice.all(order.notes)))]
    return Sheet("order", say("ordering.sheet.title"), tuple(blocks), verdict=headline.text)


def _headline(held: tuple[Check, ...], order: Order | None, voice: Voice) -> Headline:
    say = voice.say
    if held:
        by = finding("ordering.sheet.held-by", titles=tuple(nested(c.title) for c in held))
        return Headline(say("ordering.sheet.hold"), Verdict.FAIL, (say(by),))
    if order is None:
        return Headline(say("ordering.sheet.nothing-to-order"))
    return Headline(say("ordering.sheet.nothing-holds"), Verdict.PASS)


def _checks(plan: Plan, voice: Voice) -> list[Block]:
    held = holding(plan, Stage.ORDER)
    others = [c for c in of_groups(plan, "order", "ordered") if c.code in _SAY_MORE and c not in held]
    tables = (check_table("held", held, voice), check_table("order-checks", others, voice))
    return [t for t in tables if t is not None]


def _retaped(plan: Plan, order: Order, voice: Voice) -> list[Block]:
    """What the order would come to once the contradicted lines are taped again; nothing where none is contradicted."""
    again = plan.order_if_retaped
    if again is None or not isinstance(plan.survey, Survey):
        return []
    say = voice.say
    new, known = {line.key: line for line in again.lines}, {line.key for line in order.lines}
    rows: list[tuple[str, str, str]] = []
    for line in order.lines:
        other = new.get(line.key)
        if other is None or other.count != line.count:
            rows.append((say(line.item), str(line.count), "0" if other is None else str(other.count)))
            continue
        for a, b in zip(line.figures, other.figures, strict=False):
            row = (voice.label(a), voice.amount(a.value, a.kind), voice.amount(b.value, b.kind))
            if row[1] != row[2] and row not in rows:
                rows.append(row)
    rows += [(say(x.item), "0", str(x.count)) for x in again.lines if x.key not in known]
    lines = tuple(finding("ordering.sheet.line", frm=s.frm, to=s.to) for s in plan.survey.suspects)
    code = "ordering.sheet.these-change" if rows else "ordering.sheet.none-changes"
    said = Text(say(finding(code, lines=lines)), joined=bool(rows))
    columns = (
        Column(say("ordering.sheet.what")),
        Column(say("ordering.sheet.as-read"), Align.RIGHT, 22.0),
        Column(say("ordering.sheet.taped-again"), Align.RIGHT, 22.0),
    )
    note = say("ordering.sheet.others-stay")
    return [said, *([Table("retaped", columns, tuple(rows), note=note, small=True, abreast=2)] if rows else [])]


def _advice(found: Advice, voice: Voice) -> list[Block]:
    """How likely the ordered parts fit, by what is done first; the cost to expect where costs are known."""
    say = voice.say
    priced = any(c.cost is not None for c in found.choices)
    columns = (
        Column(say("ordering.sheet.choice")),
        *(Column(say(head), Align.RIGHT, 23.0) for head in (*_FITS.values(), *((_COST,) if priced else ()))),
    )
    blocks: list[Block] = [
        Heading(say("ordering.sheet.may-it"), joined=True),
        Text(say(found.why), style="strong", joined=True),
        Table("ready", columns, tuple(_choice(c, voice, priced=priced) for c in found.choices)),
    ]
    if not priced:
        blocks.append(Text(say("ordering.sheet.have-it-priced"), style="note", depth=Depth.SCREEN))
    return blocks


def _choice(c: Choice, voice: Voice, *, priced: bool) -> tuple[Cell, ...]:
    shares = (float(getattr(c.fit, name)) for name in _FITS)
    cells = [Cell(voice.amount(p, Kind.PROBABILITY), strong=n == 0, value=p) for n, p in enumerate(shares)]
    if priced:
        cells.append(
            Cell(voice.say("common.dash")) if c.cost is None else Cell(decimal(c.cost.value, 0), value=c.cost.value)
        )
    return (Cell(voice.say(c.title), strong=True), *cells)


def _supplier(key: str, name: str, lines: list[OrderLine], voice: Voice) -> list[Block]:
    """What to order of one supplier, how its figures come about, and room to sign."""
    say = voice.say
    columns = (
        Column(say("ordering.sheet.count"), Align.RIGHT, 13.0),
        Column(say("ordering.sheet.item")),
        Column(say("ordering.sheet.sizes"), Align.LEFT, 72.0),
        Column("", Align.CENTER, 8.0, paper=True),
    )
    rows = tuple(
        (
            Cell(str(line.count), strong=True, value=float(line.count)),
            Cell(say(line.item), strong=True, notes=(say(line.note),) if line.note else ()),
            _sizes(line.figures, voice),
            Cell(tick=True),
        )
        for line in lines
    )
    signed = tuple(voice.all(("ordering.sheet.ordered-by", "ordering.sheet.reference", "ordering.sheet.date")))
    return [
        Heading(name, joined=len(rows) <= _WHOLE_ROWS),
        Table(key, columns, rows, small=True),
        *_workings([f for line in lines for f in line.figures], voice),
        Blanks(signed, depth=Depth.PAPER),
    ]


def _sizes(figures: tuple[Figure, ...], voice: Voice) -> str:
    """One size speaks for itself; several are named, a line each."""
    if len(figures) < 2:
        return "".join(voice.figure(f) for f in figures)
    return "\n".join(voice.say(finding("ordering.sheet.size", label=nested(f.label), size=f)) for f in figures)


def _workings(figures: list[Figure], voice: Voice) -> list[Block]:
    """Those that are alike but for their names are worked once, under all of them."""
    found: dict[Working, list[str]] = {}
    for figure in figures:
        made = working(figure, voice)
        names = found.setdefault(replace(made, label=""), [])
        if made.label not in names:
            names.append(made.label)
    done = tuple(replace(w, label="; ".join(names)) for w, names in found.items())
    return [Workings(done, columns=2, depth=Depth.FULL)] if done else []


def _parts(parts: Parts, depth: Depth, voice: Voice) -> list[Block]:
    say = voice.say
    columns = (
        Column(say("ordering.sheet.count"), Align.RIGHT, 13.0),
        Column(say("ordering.sheet.item"), width_mm=62.0),
        Column(say("ordering.sheet.counted-by")),
        Column("", Align.CENTER, 8.0, paper=True),
    )
    rows = tuple(
        (
            Cell(voice.amount(p.count.value, p.count.kind), strong=True, value=p.count.value),
            say(p.item),
            say(p.count.rule) if p.count.rule else " + ".join(say(t.label) for t in p.count.terms),
            Cell(tick=True),
        )
        for p in parts.lines
    )
    return [
        Heading(say("ordering.sheet.small-parts"), depth=depth, joined=len(rows) <= 2 * _WHOLE_ROWS),
        Table("parts", columns, rows, depth=depth, small=True),
    ]
