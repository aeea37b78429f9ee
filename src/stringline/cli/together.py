"""The tracks and other linear stock of several jobs cut together, from sticks and from the firm's rack."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from stringline.as_json import write as as_json
from stringline.cli.inputs import (
    HELD,
    HELP,
    OK,
    Progress,
    need_folder,
    needed,
    on_the_command_line,
    plan_of,
    read_text,
    sensible_time,
)
from stringline.cutting.basis import Given
from stringline.cutting.jobs import JobsPlan, cut_jobs
from stringline.cutting.rack import rack_after
from stringline.faults import Fault, Faults
from stringline.files import write_atomic
from stringline.finding import Refused, finding
from stringline.form.result import Fit
from stringline.job.lists import RackPiece, read_rack
from stringline.layout.result import Layout
from stringline.lengths import Unit
from stringline.plan import Needs, Plan
from stringline.tables.csv_tables import rack_csv
from stringline.terminal.cuts_text import held_text, jobs_text, rack_text


def cut_together(args: argparse.Namespace) -> int:
    """Cut the jobs of ``args`` together, print the plan, and write the rack where that was asked for.

    The rack is written only once everything else is done: a plan that fails leaves it as it was.
    """
    _sensible(args)
    progress = Progress()
    plans = _plans(args.job, progress)
    unit = next(iter(plans.values())).job.unit
    rack = _rack(args.rack, plans)
    try:
        found = cut_jobs(
            {name: _given(p) for name, p in plans.items()},
            seconds=args.seconds,
            progress=progress,
            rack_m=_by_profile(rack, plans),
        )
    except Refused as refused:
        fault = Fault("cannot-cut", "cuts", refused.why, "cli.cut-alone-or-longer")
        raise on_the_command_line(fault, unit=unit) from None
    finally:
        progress.done()
    used, after, fresh = _rack_afterwards(found, rack, plans)
    held = {name: [c.code for c in p.held] for name, p in plans.items() if p.held}
    if args.rack_out is not None:
        write_atomic(args.rack_out, rack_csv(after, unit))
    if args.json:
        rack_now = {name: as_json.rack_json(p, unit) for name, p in (("take", used), ("back", fresh), ("after", after))}
        whole = {"schema": as_json.SCHEMA, "jobs": list(plans), **as_json.jobs_json(found, unit)}
        print(as_json.dumps({**whole, "rack": rack_now, "held": held}))
    else:
        told = [jobs_text(found, unit), *rack_text(used, fresh, after, args.rack_out, unit), *held_text(held)]
        print("\n".join(told))
    return HELD if held else OK


def _sensible(args: argparse.Namespace) -> None:
    sensible_time(args.seconds)
    if len(set(args.job)) < len(args.job):
        twice = next(j for j in args.job if args.job.count(j) > 1)
        wrong = finding("cli.given-twice", job=twice)
        raise on_the_command_line(Fault("name-twice", "cuts", wrong, "cli.name-each-once"))
    if args.rack_out is not None:
        need_folder(Path(args.rack_out).parent)


def _plans(files: Sequence[str], progress: Progress) -> dict[str, Plan]:
    """The plans by job name; every job's faults at once. A job without a layout cannot be cut and is a fault."""
    plans: dict[str, Plan] = {}
    faults: list[Fault] = []
    unit: Unit | None = None
    for k, file in enumerate(files, 1):
        progress(finding("cli.job-of", place=k, jobs=len(files)))
        try:
            plan = plan_of(file)
        except Faults as found:
            faults += [replace(f, where=finding("cli.in-file", file=file, where=f.where)) for f in found.faults]
            unit = unit or found.unit
            continue
        if isinstance(plan.layout, Needs):
            right = needed(plan, "layout") or "cli.what-layout-needs"
            faults.append(Fault("no-layout", file, "cli.no-layout-to-cut", right))
            unit = unit or plan.job.unit
            continue
        name = plan.job.name
        plans[name if name not in plans else f"{name} ({file})"] = plan
    if faults:
        progress.done()
        raise Faults(HELP.say("cli.the-jobs"), faults, unit)
    return plans


def _given(plan: Plan) -> Any:
    assert plan.system is not None
    assert isinstance(plan.layout, Layout)
    return Given(plan.job, plan.system, plan.layout, plan.fit if isinstance(plan.fit, Fit) else None)


def _profiles(plans: dict[str, Plan]) -> list[str]:
    return list(dict.fromkeys(p.system.track.name for p in plans.values() if p.system is not None))


def _rack(file: str | None, plans: dict[str, Plan]) -> tuple[RackPiece, ...]:
    """The rack's pieces. Where the jobs have several profiles, every piece has to say which it is of."""
    if file is None:
        return ()
    rack = read_rack(read_text(file), file, next(iter(plans.values())).job.unit)
    profiles = _profiles(plans)
    if len(profiles) > 1 and any(not p.profile for p in rack):
        nameless = next(p for p in rack if not p.profile)
        wrong = finding("cli.no-profile", piece=nameless.label, profiles=len(profiles))
        right = finding("cli.write-profile", profiles=profiles)
        raise Faults(file, [Fault("missing", "rack.profile", wrong, right)])
    return rack


def _by_profile(rack: Sequence[RackPiece], plans: dict[str, Plan]) -> dict[str, list[float]]:
    profiles = _profiles(plans)
    found: dict[str, list[float]] = {name: [] for name in profiles}
    for piece in rack:
        name = piece.profile or profiles[0]
        if name in found:
            found[name].append(piece.length_m)
    return found


def _rack_afterwards(
    found: JobsPlan, rack: Sequence[RackPiece], plans: dict[str, Plan]
) -> tuple[list[RackPiece], tuple[RackPiece, ...], tuple[RackPiece, ...]]:
    """Rack pieces to take, the rack afterwards, and what comes back on it with its new labels."""

    profiles = _profiles(plans)
    used: list[RackPiece] = []
    back: dict[str, list[float]] = {}
    seen: set[str] = set()
    for t in found.tracks:
        own = [] if t.profile in seen else [p for p in rack if (p.profile or profiles[0]) == t.profile]
        seen.add(t.profile)
        used += [own[i] for i in t.plan.rack_used if i < len(own)]
        back.setdefault(t.profile, []).extend(t.back_on_rack_m)
    after, fresh = rack_after(rack, [p.label for p in used], back)
    return used, after, fresh
