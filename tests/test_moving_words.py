"""What is said of the moving cover: every code has its words with every value they take, and none is idle."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import stringline
from makers import make_layout, make_system
from stringline.finding import Finding, within
from stringline.job.readings import EarlierRun, Run, RunReading
from stringline.lead.causes import FAMILIES, action, every_cause
from stringline.lead.diagnosis import diagnose
from stringline.lead.observations import read_observations
from stringline.lead.predict import predict_lead
from stringline.lead.result import Diagnosis, LeadPrediction
from stringline.lengths import Unit
from stringline.mechanics.assemble import mechanics
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.machine import machine_of
from stringline.mechanics.result import Mechanics
from stringline.mechanics.run_state import closing
from stringline.mechanics.travel import lead_run
from stringline.sheets.voice import Voice
from stringline.sheets.words import catalogue, chapter, english

ROOT = Path(stringline.__file__).parent
CODE = re.compile(r"(?:lead|mechanics)\.[a-z-]+")


def texts(*rooms: str) -> set[str]:
    """Every text that stands in the source of these rooms."""
    found = set()
    for room in rooms:
        for path in (ROOT / room).rglob("*.py"):
            if "words" not in path.parts:
                nodes = ast.walk(ast.parse(path.read_text(encoding="utf-8")))
                found |= {n.value for n in nodes if isinstance(n, ast.Constant) and isinstance(n.value, str)}
    return found


def said_in(value: Any) -> Iterator[Finding]:
    """Every finding, and every bare code, anywhere within a value."""
    if isinstance(value, Finding):
        yield from within(value)
    elif isinstance(value, str):
        if CODE.fullmatch(value):
            yield Finding(value)
    elif isinstance(value, tuple):
        for item in value:
            yield from said_in(item)
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            yield from said_in(getattr(value, field.name))


def read(dev: Deviations, at: tuple[float, ...], amps: bool = True) -> tuple[RunReading, ...]:
    """Leads of a cover that departs so, to the sixteenth of an inch, and its closing currents."""
    system = make_system()
    machine = machine_of(system, make_layout())
    run, plain = lead_run(machine, dev), closing(machine, system.motor)
    sixteenth = 0.0254 / 16
    rows = []
    for s in at:
        shut, back = (float(np.interp(s, run.station_m, a)) for a in (run.closing_m, run.opening_m))
        amp = float(np.interp(s, plain.station_m, plain.current_a)) if amps else None
        rows.append(RunReading.of(s, round(shut / sixteenth) * sixteenth, round(back / sixteenth) * sixteenth, amp))
    return tuple(rows)


@cache
def diagnoses() -> tuple[Diagnosis, ...]:
    """A sure one, an open one, one with an earlier run, one of a straight cover, and one that nothing explains."""
    system = make_system()
    machine = machine_of(system, make_layout())
    at = (0.8, 2.8, 4.8, 6.8, 8.8, 10.8)
    long, less = read(Deviations(start_m=0.06), at), read(Deviations(start_m=0.02), at)
    seen = read_observations(["catches at 3 m", "it squeaks"], None)
    wild = tuple(RunReading.of(s, 0.05 * (-1) ** i, -0.05 * (-1) ** i) for i, s in enumerate(at))
    runs = (
        Run(long),
        Run(read(Deviations(start_m=0.035), (4.0, 5.0), amps=False)),
        Run(less, (), (EarlierRun(long, "rope-length", "idle", 0.04),)),
        Run(read(Deviations(), at)),
        Run(wild),
    )
    return tuple(diagnose(machine, system.motor, run, seen=seen, limit_m=0.05) for run in runs)


@cache
def pages() -> tuple[Mechanics, ...]:
    """Mechanics of a sound machine, and of machines with a part that cannot do the job."""
    s = make_system()
    weak = (
        replace(s, housing=replace(s.housing, inside_height_m=0.2)),
        replace(s, reel=replace(s.reel, flange_radius_m=0.06)),
        replace(s, rope=replace(s.rope, break_load_n=100.0)),
        replace(s, motor=replace(s.motor, rated_torque_nm=5.0)),
    )
    reels, housings = [("another", s.reel)], [("another", s.housing)]
    found = tuple(mechanics(system, make_layout(), reels=reels, housings=housings) for system in weak)
    assert [len(m.refusals) for m in found] == [1, 1, 1, 1]
    return (mechanics(s, make_layout()), *found)


@cache
def expected() -> LeadPrediction:
    """The lead to expect, friction from logged currents."""
    run = Run(read(Deviations(), (1.0, 4.0, 7.0, 10.0)))
    return predict_lead(make_system(), make_layout(), samples=64, stations=10, run=run)


@pytest.mark.parametrize("unit", list(Unit))
def test_everything_can_be_said(unit: Unit) -> None:
    doing = tuple(action(c.family.key, c.side, c.family.most, c.at_m) for c in every_cause((3.0,)))
    found = {*said_in((*pages(), *diagnoses(), expected())), *said_in(doing)}
    voice = Voice(unit)
    for finding in found:
        english(finding.code)  # KeyError where the catalogue has no words for it
        text = voice.say(finding)
        assert text
        assert not CODE.search(text)
    assert {f.title for f in FAMILIES if f.key != "both-drag"} & {f.code for f in found}
    assert len({f.code for f in found}) > 130


@pytest.mark.parametrize("name", ["mechanics", "lead"])
def test_words_and_codes_are_the_same_set(name: str) -> None:
    everywhere = texts(".")
    spoken = " ".join(map(str, catalogue().values()))
    groups = {c: c.rpartition(".")[0] for c in chapter(name) if c not in everywhere}
    assert {c for c, g in groups.items() if f"@{g}" not in spoken and f"{g}." not in everywhere} == set()
    made = {t for t in texts("mechanics", "lead") if CODE.fullmatch(t) and t.startswith(f"{name}.")}
    assert made - set(chapter(name)) == set()
    assert len(made) > 80


@pytest.mark.parametrize("room", ["mechanics", "lead"])
def test_each_label_of_a_figure_stands_in_one_file(room: str) -> None:
    """A figure's key finds the file that works it out."""
    made: dict[str, set[str]] = {}
    for path in (ROOT / room).rglob("*.py"):
        for text in texts(str(path.parent.relative_to(ROOT))) & set(chapter(room)):
            if f'"{text}"' in path.read_text(encoding="utf-8"):
                made.setdefault(text, set()).add(path.name)
    labels = {f.key for page in pages() for f in page.figures} if room == "mechanics" else set()
    if room == "lead":
        labels = {f.key for f in (expected().worst, expected().p_over, expected().p_bind)}
        labels |= {f.key for d in diagnoses() for f in (d.misfit, *(c.amount for c in d.causes))}
    assert labels
    assert {label: made[label] for label in labels if len(made[label]) != 1} == {}
