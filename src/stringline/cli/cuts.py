"""The cut list of a job, several jobs cut together from sticks and the firm's rack, and stock for a list of pieces."""

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
    naming,
    need_folder,
    needed,
    on_the_command_line,
    plan_of,
    read_text,
)
from stringline.cutting.basis import Given
from stringline.cutting.jobs import cut_jobs
from stringline.cutting.rack import by_profile, rack_afterwards
from stringline.faults import Fault, Faults
from stringline.files import write_atomic
from stringline.finding import Refused, finding
from stringline.form.result import Fit
from stringline.job.lists import RackPiece, read_rack, read_stock
from stringline.layout.result import Layout
from stringline.lengths import Unit
from stringline.nesting.listed import cut_listed
from stringline.plan import Needs, Plan
from stringline.sheets.stock import jobs_sheet, listed_sheet, rack_sheet
from stringline.sheets.voice import Voice
from stringline.tables.csv_tables import rack_csv
from stringline.terminal.plan_text import cuts_text
from stringline.terminal.render import sheet_text, sheets_text


def cuts_verb(args: argparse.Namespace) -> int:
    """Print the cut list of a job, the plan of several cut together, or the stock for two plain lists."""
    if args.pieces or args.sticks:
        return _stock(args)
    if not args.job:
        raise on_the_command_line(Fault("no-job", "cuts", "cli.neither-job-nor-lists", "cli.name-job-or-lists"))
    if len(args.job) > 1 or args.rack is not None or args.rack_out is not None:
        return _together(args)
    plan = plan_of(args.job[0])
    if args.json:
        made = as_json.parts_json(plan, "schema", "cuts", "held")
        print(as_json.dumps({"schema": made["schema"], **made["cuts"], "held": made["held"]}))
    else:
        print(cuts_text(plan))
    return HELD if plan.held else OK


def _stock(args: argparse.Namespace) -> int:
    if args.job or args.rack or args.rack_out or not (args.pieces and args.sticks):
        raise on_the_command_line(Fault("two-lists", "cuts", "cli.both-lists", "cli.give-both-lists"))
    _sensible_time(args.seconds)
    progress = Progress()
    pieces, sticks = read_text(args.pieces), read_text(args.sticks)
    with naming(f"{args.pieces}, {args.sticks}", Unit.MM):
        lists = read_stock(pieces, sticks, args.kerf)
        found = cut_listed(lists.pieces, lists.sticks, lists.kerf_m, seconds=args.seconds, progress=progress)
    progress.done()
    if args.json:
        print(as_json.dumps({"schema": as_json.SCHEMA, **as_json.stock_json(found)}))
    else:
        print(sheet_text(listed_sheet(found, Voice(Unit.MM))))
    return OK


def _together(args: argparse.Namespace) -> int:
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
            rack_m=by_profile(rack, _profiles(plans)),
        )
    except Refused as refused:
        fault = Fault("cannot-cut", "cuts", refused.why, "cli.cut-alone-or-longer")
        raise on_the_command_line(fault, unit=unit) from None
    finally:
        progress.done()
    used, after, fresh = rack_afterwards(found, rack, _profiles(plans))
    held = {name: [c.code for c in p.held] for name, p in plans.items() if p.held}
    if args.rack_out is not None:
        write_atomic(args.rack_out, rack_csv(after, Voice(unit)))
    if args.json:
        rack_now = {name: as_json.rack_json(p, unit) for name, p in (("take", used), ("back", fresh), ("after", after))}
        whole = {"schema": as_json.SCHEMA, "jobs": list(plans), **as_json.jobs_json(found, unit)}
        print(as_json.dumps({**whole, "rack": rack_now, "held": held}))
    else:
        voice = Voice(unit)
        print(sheets_text([jobs_sheet(found, held, voice), rack_sheet(used, fresh, after, voice)]))
        if args.rack_out is not None:
            print(HELP.say(finding("cli.wrote-rack", file=args.rack_out)))
    return HELD if held else OK


def _sensible_time(seconds: float) -> None:
    """Raise Faults where no time is given to look for a plan in."""
    if not seconds > 0.0:
        fault = Fault("out-of-range", "seconds", "cli.no-time-to-look", "cli.write-more-than-nothing")
        raise on_the_command_line(fault)


def _sensible(args: argparse.Namespace) -> None:
    _sensible_time(args.seconds)
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
