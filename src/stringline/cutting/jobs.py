"""The cuts of several jobs together: tracks with their factory ends, and the other linear stock."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from stringline.cutting.along import SIDES, track_rules, track_run
from stringline.cutting.basis import Given, fascia_clear
from stringline.cutting.strips import filler
from stringline.finding import Code, finding
from stringline.nesting.diagram import Strip, stock_strip, track_strip
from stringline.nesting.fleet import FleetPlan, plan_fleet
from stringline.nesting.fleet_model import Broken
from stringline.nesting.grain import to_grains, to_m
from stringline.nesting.stock import Stick, StockPiece, StockPlan, cut_stock
from stringline.nesting.stock_model import Progress
from stringline.nesting.variants import StickRun

Kind = tuple[str, tuple[int, ...]]
"""Strips that share stock: a material and its stick lengths in grains, longest first."""


@dataclass(frozen=True, slots=True)
class TrackStock:
    """Tracks of one profile; ``called`` says of each run's key which job's it is.

    What is shorter than ``least_m`` is no use as a last piece, and so no use on a rack.
    """

    profile: str
    plan: FleetPlan
    rack_m: tuple[float, ...]
    strips: tuple[Strip, ...]
    called: Mapping[str, Code]
    least_m: float = 0.0

    @property
    def back_on_rack_m(self) -> tuple[float, ...]:
        """Offcuts with a factory end that are long enough to be used, metres."""
        return tuple(m for m in (to_m(n) for n in self.plan.back_on_rack) if m >= self.least_m)


@dataclass(frozen=True, slots=True)
class PlainStock:
    """Filler or fascia of all jobs that share stock lengths."""

    material: Code
    plan: StockPlan
    strips: tuple[Strip, ...]


@dataclass(frozen=True, slots=True)
class JobsPlan:
    """Everything to cut for several jobs."""

    tracks: tuple[TrackStock, ...]
    plain: tuple[PlainStock, ...]
    notes: tuple[Code, ...] = ()

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
    the same profile name, stick lengths and rules share sticks. Raises Refused as
    :func:`stringline.nesting.fleet.plan_fleet` and :func:`stringline.nesting.stock.cut_stock`.
    """
    tell = progress or (lambda _: None)
    deadline = time.monotonic() + seconds
    groups: dict[tuple[object, ...], dict[str, Given]] = {}
    for name, given in jobs.items():
        track = given.system.track
        groups.setdefault((track.name, track.stick_lengths_m, track_rules(given)), {})[name] = given
    tracks: list[TrackStock] = []
    notes: list[Code] = []
    left = dict(rack_m) if isinstance(rack_m, Mapping) else {}
    for k, members in enumerate(groups.values()):
        share = (deadline - time.monotonic()) * 0.8 / (len(groups) - k)
        own = left.pop(next(iter(members.values())).system.track.name, ())
        if not isinstance(rack_m, Mapping) and k == 0:
            own = rack_m
        tracks.append(_tracks(members, tuple(own), share, tell, notes))
    plain: list[PlainStock] = []
    wanted = _Plain()
    for name, given in jobs.items():
        wanted.add_job(name, given)
    kerf = max((to_grains(g.system.track.kerf_m) for g in jobs.values()), default=0)  # the widest saw of any
    for k, ((material, sticks), pieces) in enumerate(wanted.pieces.items()):
        share = max(0.5, (deadline - time.monotonic()) / (len(wanted.pieces) - k))
        stock = [Stick(str(i), s) for i, s in enumerate(sticks, 1)]
        plan = cut_stock(pieces, stock, kerf, seconds=share, progress=tell)
        strips = tuple(stock_strip(p, kerf, called=wanted.called) for p in plan.patterns)
        plain.append(PlainStock(material, plan, strips))
    return JobsPlan(tuple(tracks), tuple(plain), tuple(notes))


def _tracks(
    members: dict[str, Given], rack_m: tuple[float, ...], seconds: float, tell: Progress, notes: list[Code]
) -> TrackStock:
    runs: list[StickRun] = []
    pairs: list[tuple[str, str]] = []
    called: dict[str, Code] = {}
    rack = list(rack_m)
    for name, given in members.items():
        both = [track_run(given, side) for side in SIDES]
        keys = [f"{name}:{r.key}" for r in both]
        called |= {key: finding("cutting.run-of-job", job=name, run=r.key) for key, r in zip(keys, both, strict=True)}
        runs += [StickRun(key, r.length, r.pins) for key, r in zip(keys, both, strict=True)]
        pairs.append((keys[0], keys[1]))
        rack += [o.m for o in given.job.offcuts]
    first = next(iter(members.values())).system.track
    sticks = [to_grains(s) for s in first.stick_lengths_m]
    rules = track_rules(next(iter(members.values())))
    plan = plan_fleet(runs, pairs, sticks, rules, [to_grains(r) for r in rack], seconds=seconds, progress=tell)
    notes += [_gave_way(b, called) for b in plan.broken]
    strips = tuple(track_strip(o, first.min_last_piece_m, called) for o in plan.opened)
    return TrackStock(first.name, plan, tuple(rack), strips, called, first.min_last_piece_m)


def _gave_way(broken: Broken, called: Mapping[str, Code]) -> Code:
    """Which rules no mix of sticks keeps to, and where."""
    rules: list[Code] = []
    if broken.short:
        rules.append(finding("cutting.gave-way-short"))
    if broken.close:
        rules.append(finding("cutting.gave-way-close"))
    if broken.pins:
        rules.append(finding("cutting.gave-way-pins", n=broken.pins))
    return finding("cutting.gave-way", runs=tuple(called[k] for k in broken.keys), rules=tuple(rules))


class _Plain:
    """Filler and fascia pieces by material and stock lengths, with what each is called."""

    def __init__(self) -> None:
        self.pieces: dict[Kind, list[StockPiece]] = {}
        self.called: dict[str, Code] = {}

    def add_job(self, job: str, given: Given) -> None:
        """Add what one job needs."""
        housing = given.system.housing
        sticks = tuple(sorted({to_grains(s) for s in given.system.filler.stick_lengths_m}, reverse=True))
        strip, fascia = ("cards.of-filler", sticks), ("cards.of-fascia", (to_grains(housing.fascia_stick_m),))
        for side in SIDES if given.in_channel else ():
            self._add(strip, job, f"F-{side[0].upper()}", filler(given, side).figure.value)
        self._add(fascia, job, "FC", fascia_clear(given).figure.value)
        for side in SIDES:
            self._add(fascia, job, "FE", housing.fascia_end_m, side)

    def _add(self, kind: Kind, job: str, mark: str, length_m: float, side: str | None = None) -> None:
        """A strip is whole sticks of the longest length and one piece that is left; it may be joined anywhere."""
        longest = max(kind[1])
        whole, rest = divmod(to_grains(length_m), longest)
        key = ":".join(filter(None, (job, mark, side)))
        if whole > 0:
            self.called[f"{key}:whole"] = finding("cutting.whole-of-job", job=job, mark=mark)
            self.pieces.setdefault(kind, []).append(StockPiece(f"{key}:whole", longest, whole))
        if rest > 0:
            code = "cutting.mark-of-job" if side is None else "cutting.end-of-job"
            self.called[key] = finding(code, job=job, mark=mark, side=side)
            self.pieces.setdefault(kind, []).append(StockPiece(key, rest, 1))
