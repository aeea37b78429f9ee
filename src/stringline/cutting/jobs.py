"""The cuts of several jobs together: tracks with their factory ends, and the other linear stock."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from stringline.cutting.along import SIDES, track_rules, track_run
from stringline.cutting.basis import Given, fascia_clear
from stringline.cutting.rack import rack_of
from stringline.cutting.strips import filler
from stringline.nesting.diagram import Strip, fleet_strips, stock_strips
from stringline.nesting.fleet import FleetPlan, plan_fleet
from stringline.nesting.grain import to_grains, to_m
from stringline.nesting.stock import Stick, StockPiece, StockPlan, cut_stock
from stringline.nesting.variants import Run

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class TrackStock:
    """Tracks of one profile: runs are called "job: track-left"."""

    profile: str
    plan: FleetPlan
    rack_m: tuple[float, ...]
    strips: tuple[Strip, ...]
    least_m: float = 0.0  # what is shorter is no use as a last piece, and so no use on a rack

    @property
    def back_on_rack_m(self) -> tuple[float, ...]:
        """Offcuts with a factory end that are long enough to be used, metres."""
        return tuple(m for m in (to_m(n) for n in self.plan.back_on_rack) if m >= self.least_m)


@dataclass(frozen=True, slots=True)
class PlainStock:
    """Filler or fascia of all jobs that share stock lengths."""

    material: str
    plan: StockPlan
    strips: tuple[Strip, ...]


@dataclass(frozen=True, slots=True)
class JobsPlan:
    """Everything to cut for several jobs."""

    tracks: tuple[TrackStock, ...]
    plain: tuple[PlainStock, ...]
    notes: tuple[str, ...] = ()

    @property
    def proven(self) -> bool:
        """Whether no plan wastes less, in any material."""
        return all(t.plan.proven for t in self.tracks) and all(p.plan.proven for p in self.plain)


def cut_jobs(
    jobs: Mapping[str, Given],
    *,
    seconds: float = 60.0,
    progress: Progress | None = None,
    rack_m: Sequence[float] | Mapping[str, Sequence[float]] = (),
) -> JobsPlan:
    """Cut the jobs, by name, together. The rack is ``rack_m`` and what the jobs' own ``[rack]`` sections list.

    ``rack_m`` may give the pieces by the profile's name; a bare list is for the first profile. Jobs whose tracks have
    the same profile name, stick lengths and rules share sticks. Raises ValueError as
    :func:`stringline.nesting.fleet.plan_fleet` and :func:`stringline.nesting.stock.cut_stock`.
    """
    tell = progress or (lambda _: None)
    deadline = time.monotonic() + seconds
    groups: dict[tuple[object, ...], dict[str, Given]] = {}
    for name, given in jobs.items():
        track = given.system.track
        groups.setdefault((track.name, track.stick_lengths_m, track_rules(given)), {})[name] = given
    tracks = []
    notes: list[str] = []
    left = dict(rack_m) if isinstance(rack_m, Mapping) else {}
    for k, members in enumerate(groups.values()):
        share = (deadline - time.monotonic()) * 0.8 / (len(groups) - k)
        own = left.pop(next(iter(members.values())).system.track.name, ())
        if not isinstance(rack_m, Mapping) and k == 0:
            own = rack_m
        tracks.append(_tracks(members, tuple(own), share, tell, notes))
    plain = []
    kerf = _kerf(jobs)
    wanted = _plain(jobs)
    for k, ((material, sticks), pieces) in enumerate(wanted.items()):
        share = max(0.5, (deadline - time.monotonic()) / (len(wanted) - k))
        stock = [Stick(f"{material} {i}", s) for i, s in enumerate(sticks, 1)]
        plan = cut_stock(pieces, stock, kerf, seconds=share, progress=tell)
        plain.append(PlainStock(material, plan, stock_strips(plan, material, kerf)))
    return JobsPlan(tuple(tracks), tuple(plain), tuple(notes))


def _tracks(
    members: dict[str, Given], rack_m: tuple[float, ...], seconds: float, tell: Progress, notes: list[str]
) -> TrackStock:
    runs: list[Run] = []
    pairs: list[tuple[str, str]] = []
    rack = list(rack_m)
    for name, given in members.items():
        both = [track_run(given, side) for side in SIDES]
        keys = [f"{name}: {r.key}" for r in both]
        runs += [Run(key, r.length, r.pins) for key, r in zip(keys, both, strict=True)]
        pairs.append((keys[0], keys[1]))
        own, told = rack_of(given.job)
        rack += [o.length_m for o in own]
        notes += [f"{name}: {n}" for n in told]
    first = next(iter(members.values()))
    sticks = [to_grains(s) for s in first.system.track.stick_lengths_m]
    rules = track_rules(first)
    plan = plan_fleet(runs, pairs, sticks, rules, [to_grains(r) for r in rack], seconds=seconds, progress=tell)
    for b in plan.broken:
        what = []
        if b.short:
            what.append("a last piece is under the minimum")
        if b.close:
            what.append("left and right joints come closer than the stagger")
        if b.pins:
            what.append("1 pin stands aside of a joint" if b.pins == 1 else f"{b.pins} pins stand aside of a joint")
        notes.append(f"{' and '.join(b.keys)}: {', '.join(what)}. No mix of the stick lengths does better.")
    profile = first.system.track.name
    least = first.system.track.min_last_piece_m
    return TrackStock(profile, plan, tuple(rack), fleet_strips(plan, profile, least), least)


def _plain(jobs: Mapping[str, Given]) -> dict[tuple[str, tuple[int, ...]], list[StockPiece]]:
    """Filler and fascia pieces by material and stock lengths; strips longer than a stick enter stick by stick."""
    out: dict[tuple[str, tuple[int, ...]], list[StockPiece]] = {}
    for name, given in jobs.items():
        sticks = tuple(sorted({to_grains(s) for s in given.system.filler.stick_lengths_m}, reverse=True))
        for side in SIDES if given.in_channel else ():
            _add(
                out,
                ("filler strip", sticks),
                f"{name}: F-{side[0].upper()}",
                to_grains(filler(given, side).figure.value),
            )
        housing = given.system.housing
        stick = (to_grains(housing.fascia_stick_m),)
        _add(out, ("fascia", stick), f"{name}: FC", to_grains(fascia_clear(given).figure.value))
        for end in ("FE left", "FE right"):
            _add(out, ("fascia", stick), f"{name}: {end}", to_grains(housing.fascia_end_m))
    return out


def _add(
    out: dict[tuple[str, tuple[int, ...]], list[StockPiece]], key: tuple[str, tuple[int, ...]], name: str, length: int
) -> None:
    """A strip is whole sticks of the longest length and one piece that is left; it may be joined anywhere."""
    longest = max(key[1])
    whole, rest = divmod(length, longest)
    if whole > 0:
        out.setdefault(key, []).append(StockPiece(f"{name} whole", longest, whole))
    if rest > 0:
        out.setdefault(key, []).append(StockPiece(name, rest, 1))


def _kerf(jobs: Mapping[str, Given]) -> int:
    """The widest saw cut of the jobs' catalogues."""
    return max((to_grains(g.system.track.kerf_m) for g in jobs.values()), default=0)
