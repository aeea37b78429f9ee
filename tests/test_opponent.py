"""The opponent itself: it owes nothing to the diagnosis, does what its docstring says, and agrees where both apply."""

from __future__ import annotations

import ast
from pathlib import Path

import numpy as np
import pytest

import opponent
from makers import make_layout
from opponent import EIGHTH, INCH, LISTED, UNLISTED, Cover, Fault, Numbers, Runs, covers, run_out, spoilt, thinned
from opposed import judge, numbers_of
from stringline.lead.causes import FAMILIES, fields_of
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.machine import Machine, machine_of
from stringline.mechanics.travel import lead_run
from stringline.system.read import load_system

SYSTEM = load_system("invented-18")
AMOUNTS = {"tight-spot": 0.12, "reel-size": 0.25, "hem-roll": 0.25}  # of the most, where half is beyond any crew
STATIONS = np.linspace(0.1, 0.95, 7)


@pytest.fixture(scope="module")
def machine() -> Machine:
    return machine_of(SYSTEM, make_layout())


@pytest.fixture(scope="module")
def numbers(machine: Machine) -> Numbers:
    return numbers_of(machine, SYSTEM.motor)


@pytest.fixture(scope="module")
def alone(numbers: Numbers) -> tuple[list[Fault | None], Runs]:
    """A cover as drawn, then every fault of both lists on its own on either side, all in one run."""
    faults: list[Fault | None] = [None]
    for side in ("drive", "idle"):
        for key, (_, most) in LISTED.items():
            faults.append(Fault(key, side, most * AMOUNTS.get(key, 0.5), 6.0))
        faults += [Fault(key, side, most, 6.0) for key, (_, most) in UNLISTED.items()]
    return faults, run_out(numbers, [() if f is None else (f,) for f in faults], 0.0, 5)[0]


def leads(numbers: Numbers, runs: Runs, i: int) -> np.ndarray:
    """Closing and opening leads of one cover at a few stations, + with the drive side ahead."""
    at = STATIONS * numbers.travel_m
    shut = np.argsort(runs.closing_at[:, i], kind="stable")
    back = np.argsort(runs.opening_at[:, i], kind="stable")
    return np.stack(
        [
            np.interp(at, runs.closing_at[shut, i], runs.closing_m[shut, i]),
            -np.interp(at, runs.opening_at[back, i], runs.opening_m[back, i]),
        ]
    )


def test_it_shares_no_code_with_the_program() -> None:
    tree = ast.parse(Path(opponent.__file__).read_text(encoding="utf-8"))
    names = {a.name for n in ast.walk(tree) if isinstance(n, ast.Import) for a in n.names}
    names |= {n.module or "" for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)}
    rooms = {n.split(".")[0] for n in names}
    assert rooms == {"__future__", "collections", "dataclasses", "itertools", "math", "numpy"}


def test_a_cover_as_drawn_runs_straight(numbers: Numbers, alone: tuple[list[Fault | None], Runs]) -> None:
    assert np.abs(leads(numbers, alone[1], 0)).max() < 0.0005


def test_both_machines_agree_where_both_apply(
    machine: Machine, numbers: Numbers, alone: tuple[list[Fault | None], Runs]
) -> None:
    """Nothing worn, one cause of the list: the program's closed form within 5 mm or a tenth, of the same sign."""
    faults, runs = alone
    for i, f in enumerate(faults):
        if f is None or f.key not in LISTED or f.key == "tight-spot":
            continue
        dev = Deviations(**{name: sign * f.amount for name, sign in fields_of(f.key, f.side)})
        at = STATIONS * machine.closed_m
        run = lead_run(machine, dev, np.unique(np.concatenate([machine.stations(60), at])))
        wanted = np.stack([np.interp(at, run.station_m, a) for a in (run.closing_m, run.opening_m)])
        got = leads(numbers, runs, i)
        assert np.abs(got - wanted).max() < max(0.005, 0.1 * np.abs(wanted).max()), f
        if np.abs(wanted).max() > 0.005:  # half as much stretch again makes next to no lead
            assert np.sign(got.flat[np.abs(wanted).argmax()]) == np.sign(wanted.flat[np.abs(wanted).argmax()]), f


def test_a_tight_spot_is_felt_where_it_is(numbers: Numbers, alone: tuple[list[Fault | None], Runs]) -> None:
    faults, runs = alone
    for i, f in enumerate(faults):
        if f is not None and f.key == "tight-spot":
            worst = np.abs(runs.closing_m[:, i]).argmax()
            assert runs.closing_at[worst, i] == pytest.approx(6.0, abs=0.5)
            assert runs.closing_m[worst, i] * (1 if f.side == "drive" else -1) < -0.01


def test_every_unlisted_fault_shows(numbers: Numbers, alone: tuple[list[Fault | None], Runs]) -> None:
    """Each pulls the cover askew; the false zero alone leaves the cover as it is and moves the readings."""
    faults, runs = alone
    for i, f in enumerate(faults):
        if f is not None and f.key in UNLISTED:
            askew = np.abs(leads(numbers, runs, i)).max()
            assert askew < 0.0005 if f.key == "zero-off" else askew > 0.01, f
    assert run_out(numbers, [(Fault("zero-off", "idle", 0.03),)], 0.0, 1)[1] == pytest.approx([-0.03])


def test_its_list_is_the_list_of_the_program() -> None:
    assert set(LISTED) == {f.key for f in FAMILIES} - {"both-drag"}
    assert not set(UNLISTED) & {f.key for f in FAMILIES}


@pytest.fixture(scope="module")
def healthy(numbers: Numbers) -> list[Cover]:
    return covers(numbers, 12, 3, rough=1.0, kind="healthy")


def test_the_same_seed_makes_the_same_covers(numbers: Numbers, healthy: list[Cover]) -> None:
    assert covers(numbers, 12, 3, rough=1.0, kind="healthy") == healthy
    assert covers(numbers, 12, 4, rough=1.0, kind="healthy") != healthy


def test_readings_are_rounded_and_share_a_mistake(healthy: list[Cover]) -> None:
    sheets = np.array([[r.closing_m for r in c.readings] for c in healthy], dtype=float)
    assert np.allclose(np.round(sheets / EIGHTH) * EIGHTH, sheets)
    own = sheets.mean(axis=1).std()
    assert own > 1.5 * EIGHTH / np.sqrt(sheets.shape[1])  # more than tape noise leaves in a mean


def test_poor_and_spoilt_sheets(healthy: list[Cover]) -> None:
    rng = np.random.default_rng(1)
    for cover in healthy:
        assert 2 <= len(thinned(cover, rng).readings) <= 3
        bad = spoilt(cover, rng)
        assert bad.bad is not None
        k, way = bad.bad
        changed = [
            (i, name)
            for i, (a, b) in enumerate(zip(cover.readings, bad.readings, strict=True))
            for name in ("closing", "opening")
            if getattr(a, f"{name}_m") != getattr(b, f"{name}_m")
        ]
        assert changed == [(k, way)]
        assert abs(getattr(bad.readings[k], f"{way}_m") - getattr(cover.readings[k], f"{way}_m")) > INCH / 2 - 1e-9


def test_a_cover_is_diagnosed_and_judged(machine: Machine, healthy: list[Cover]) -> None:
    got = judge(machine, SYSTEM.motor, healthy[0])
    assert got.covered is None
    assert 0.0 <= got.promised <= 1.0
