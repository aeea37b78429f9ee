"""A plan as data for other programs: one writer over the dataclasses, the names in :mod:`stringline.as_json.names`.

Stable within a ``schema``: fields are added, never taken away. Lengths are metres, angles radians, every figure in the
SI unit of its kind; what is meant for a person is said in the unit and language of the voice.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, is_dataclass
from enum import Enum
from operator import attrgetter
from typing import TYPE_CHECKING, Any

from stringline.as_json.derived import DERIVED
from stringline.as_json.names import Field, fields_for
from stringline.faults import Faults
from stringline.finding import Finding
from stringline.judging import Check
from stringline.lengths import Unit
from stringline.plan import Needs, Plan
from stringline.plan.model import sections_of
from stringline.sheets.faults import place_text
from stringline.sheets.voice import Voice
from stringline.survey.result import Survey

if TYPE_CHECKING:
    from stringline.cutting.jobs import JobsPlan
    from stringline.job.lists import RackPiece
    from stringline.nesting.listed import ListedPlan

SCHEMA = 1
Value = dict[str, Any]


def dumps(value: Value) -> str:
    """Write JSON text with sorted structure left as given, readable, and no NaN (which JSON does not know)."""
    return json.dumps(value, indent=2, ensure_ascii=False, allow_nan=False)


class Writer:
    """Writes values of the program as values of JSON, in one voice."""

    def __init__(self, voice: Voice) -> None:
        self.voice = voice

    def write(self, value: Any, *, said: bool = False) -> Any:
        """The JSON-able form of a value."""
        if isinstance(value, Finding):
            return self.voice.say(value)
        if isinstance(value, Enum):
            return value.value
        if isinstance(value, str):
            return self.voice.say(value) if said and value else value
        if value is None or isinstance(value, bool | int | float):
            return value
        if isinstance(value, Mapping):
            return {k: self.write(v, said=said) for k, v in value.items()}
        if isinstance(value, tuple | list):
            return [self.write(v, said=said) for v in value]
        if is_dataclass(value):
            return self._object(value)
        return value.tolist()  # an array, or a number of one

    def _object(self, value: Any) -> Value:
        table = type(value).__name__
        return {f.name: self.write(self._taken(table, f, value), said=f.said) for f in fields_for(type(value))}

    def _taken(self, table: str, field: Field, value: Any) -> Any:
        if (work := DERIVED.get(f"{table}.{field.name}")) is not None:
            return work(value)
        if table == "Levelled" and not hasattr(value, field.attribute):
            value = value.levels
        return getattr(value, field.attribute)


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a plan's JSON: what it is of, and the class whose names it has."""

    take: Callable[[Plan], Any]
    means: str


def _job(plan: Plan) -> Value:
    job = plan.job
    return {
        "name": job.name,
        "unit": job.unit.value,
        "stage": job.stage.value,
        "system": job.system,
        "invented": job.invented,
    }


PARTS: dict[str, Part] = {
    "schema": Part(lambda _: SCHEMA, "1"),
    "job": Part(_job, "`name`, `unit`, `stage`, `system`, `invented`"),
    "held": Part(lambda p: [c.code for c in p.held], "codes of the checks that hold the stage"),
    "checks": Part(lambda p: p.checks, "every check, in the order of work"),
    "survey": Part(lambda p: p.survey, "coordinates and what the readings say of each other"),
    "layout": Part(lambda p: p.layout, "where the cover goes"),
    "fit": Part(lambda p: p.fit, "form of the tracks"),
    "cuts": Part(lambda p: p.cuts, "every piece"),
    "order": Part(lambda p: p.order, "what to order"),
    "parts": Part(lambda p: p.parts, "small parts"),
    "mechanics": Part(lambda p: p.mechanics, "how the cover rolls and pulls"),
    "lead": Part(lambda p: p.lead, "the lead to expect"),
    "diagnosis": Part(lambda p: p.diagnosis, "why it runs crooked"),
    "ends": Part(lambda p: p.ends, "every end that the housing could stand at, the one taken first"),
    "levels": Part(lambda p: p.levelled, "what the rod says along the cover; null where none was read"),
    "remedy": Part(lambda p: p.remedy, "what to do about tracks out of form; null before the pour"),
    "taping": Part(lambda p: p.taping, "what to tape at a pool that has only been sketched; null for any other"),
    "ready": Part(lambda p: p.advice, "whether to order; null without a layout"),
    "placed": Part(lambda p: p.placed, "the order that went out; null where none did"),
    "difference": Part(lambda p: p.difference, "what the pour changed; null before anything is ordered or built"),
    "assumptions": Part(lambda p: p.assumptions, "what is taken for granted"),
}


_ELSEWHERE = ("levelled", "advice")  # under another name above
_WITHIN = ("cut", "sticks", "order_if_retaped", "tightened", "due")  # what other sections are made from
PARTS |= {
    name: Part(attrgetter(name), section.means)
    for name, section in sections_of(Plan).items()
    if name not in PARTS and name not in (*_ELSEWHERE, *_WITHIN)
}


def plan_json(plan: Plan) -> Value:
    """The whole plan; a section that lacks input stands as ``{"needs": [...]}``."""
    return parts_json(plan, *PARTS)


def parts_json(plan: Plan, *names: str) -> Value:
    """Only the named parts of a plan, in the order named; nothing is worked out for the others. KeyError if unknown."""
    writer = Writer(Voice(plan.job.unit))
    return {name: _part(writer, name, PARTS[name].take(plan)) for name in names}


def _part(writer: Writer, name: str, value: Any) -> Any:
    if isinstance(value, Needs):
        return {"needs": writer.write(value.missing, said=True)}
    return writer.write(value, said=name == "assumptions")


def survey_json(survey: Survey, unit: Unit) -> Value:
    """The survey of a job whose lengths are read in ``unit``."""
    written: Value = Writer(Voice(unit)).write(survey)
    return written


def check_json(check: Check, unit: Unit) -> Value:
    """One check with its figure and limit."""
    written: Value = Writer(Voice(unit)).write(check)
    return written


def taping_json(taping: Any, unit: Unit) -> Value:
    """What to tape, in order, and what it will be worth."""
    written: Value = Writer(Voice(unit)).write(taping)
    return written


def jobs_json(found: JobsPlan, unit: Unit) -> Value:
    """The cuts of several jobs, read in ``unit``."""
    written: Value = Writer(Voice(unit)).write(found)
    return written


def stock_json(found: ListedPlan) -> Value:
    """Plain stock for two lists."""
    written: Value = Writer(Voice(Unit.MM)).write(found)
    return written


def rack_json(pieces: Iterable[RackPiece], unit: Unit) -> list[Value]:
    """Pieces on the rack, with what is written on them."""
    written: list[Value] = Writer(Voice(unit)).write(tuple(pieces))
    return written


def untaped_json(plan: Plan) -> Value:
    """The survey of a pool that nobody has taped: no point and no reading, and what to tape first."""
    found = parts_json(plan, "taping", "checks")
    planned = found["taping"]
    return {
        "schema": SCHEMA,
        "freedom": 0,
        "points": {},
        "tapes": [],
        "suspects": [],
        "next_tapes": [
            {
                "from": x["from"],
                "to": x["to"],
                "expected_m": x["about_m"],
                "buys": "checks other lines" if x["check"] else "ties a point",
            }
            for x in planned["lines"]
        ],
        "struck": [],
        "notes": planned["notes"],
        "levels": None,
        **found,
    }


def faults_json(faults: Faults) -> Value:
    """Every fault of a document, told in its unit."""
    voice = Voice(faults.unit or Unit.M)
    return {
        "schema": SCHEMA,
        "document": faults.document,
        "faults": [
            {
                "code": f.code,
                "line": f.line,
                "where": place_text(f, voice),
                "wrong": voice.say(f.wrong),
                "right": voice.say(f.right),
            }
            for f in faults.faults
        ],
    }
