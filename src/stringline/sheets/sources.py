"""Sources and assumptions: every source that the sheets lean on, with how far it may be trusted as quoted."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterable, Iterator, Mapping

from stringline.judging import Limit
from stringline.plan import Plan
from stringline.sheets.model import Align, Block, Bullets, Cell, Column, Depth, Heading, Item, Sheet, Table, Text
from stringline.sheets.voice import Voice
from stringline.sources import require
from stringline.worked import Figure, Kind, Origin, Term


def assumptions_sheet(plan: Plan, voice: Voice) -> Sheet:
    """What is taken for granted, alone: no section is made for it."""
    return Sheet("assumptions", voice.say("sources.assumptions"), (Bullets(tuple(voice.all(plan.assumptions))),))


def sources_sheet(plan: Plan, others: Iterable[object], voice: Voice) -> Sheet:
    """Sources cited in the plan or in ``others`` (sheets already made), assumptions, practice values."""
    say = voice.say
    parts = tuple(walk(plan))
    keys = sorted({*cited(parts), *(i.source for i in walk(list(others)) if isinstance(i, Item) and i.source)})
    cites = (
        Column(say("sources.key"), width_mm=31.0),
        Column(say("sources.source")),
        Column(say("sources.standing"), width_mm=33.0),
    )
    blocks: list[Block] = [
        Text(say("sources.intro"), depth=Depth.FULL),
        Heading(say("sources.cited"), depth=Depth.FULL),
        Table("sources", cites, tuple(_source(k, say) for k in keys), small=True, depth=Depth.FULL),
    ]
    if plan.assumptions:
        blocks += [Heading(say("sources.assumptions")), Bullets(tuple(voice.all(plan.assumptions)))]
    if practice := _practice(parts, voice):
        columns = (
            Column(say("sources.what")),
            Column(say("sources.value"), Align.RIGHT, 36.0),
            Column(say("sources.key"), width_mm=44.0),
        )
        blocks.append(Heading(say("sources.practice"), depth=Depth.FULL))
        blocks.append(Table("practice", columns, practice, small=True, depth=Depth.FULL))
    return Sheet("sources", say("sources.title"), tuple(blocks), joins=True)


def cited(parts: Iterable[object]) -> Iterator[str]:
    """Every source key among the parts of a plan: in its figures, terms and limits."""
    for part in parts:
        if isinstance(part, Figure | Term | Limit) and part.source is not None:
            yield part.source


def _source(key: str, say: Callable[[str], str]) -> tuple[str | Cell, ...]:
    s = require(key)
    title = f"{s.title}, {s.where}" if s.where else s.title
    standing = say(f"common.standing.{s.standing.name.lower()}")
    return Cell(s.key, strong=True), Cell(title, notes=(s.note,) if s.note else ()), standing


def walk(value: object) -> Iterator[object]:
    """Every dataclass in a value, in their order."""
    to_come: list[object] = [value]
    while to_come:
        value = to_come.pop()
        if isinstance(value, str | float | int) or value is None:
            continue  # most of a plan
        if isinstance(value, tuple | list):
            to_come.extend(reversed(value))
        elif isinstance(value, Plan):
            to_come.extend(reversed((value.job, value.system, *value.sections().values())))
        elif dataclasses.is_dataclass(value) and not isinstance(value, type):
            yield value
            to_come.extend(getattr(value, f.name) for f in reversed(dataclasses.fields(value)))
        elif isinstance(value, Mapping):
            to_come.extend(reversed(list(value.values())))


def _practice(parts: Iterable[object], voice: Voice) -> tuple[tuple[str, str, str], ...]:
    rows: dict[tuple[str, str], str] = {}
    for part in parts:
        if not isinstance(part, Figure) or part.kind is Kind.COUNT:
            continue
        for term in part.terms:
            if term.origin is Origin.PRACTICE:
                said = voice.amount(abs(term.value), term.kind or part.kind)
                rows.setdefault((voice.say(term.label), said), term.source or "")
    return tuple((label, said, key) for (label, said), key in rows.items())
