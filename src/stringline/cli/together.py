"""The tracks and other linear stock of several jobs cut together, from sticks and from the firm's rack."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stringline.cli.inputs import HELD, OK, Progress, need_folder, plan_of, read_text
from stringline.faults import Fault, Faults
from stringline.sheets.voice import Voice

if TYPE_CHECKING:
    from stringline.cutting.jobs import JobsPlan
    from stringline.cutting.rack_csv import RackPiece
    from stringline.plan import Plan


def cut_together(args: argparse.Namespace) -> int:
    """Cut the jobs of ``args`` together, print the plan, and write the rack where that was asked for.

    The rack is written only once everything else is done: a plan that fails leaves it as it was.
    """
    from stringline.as_json import write as as_json
    from stringline.cutting.jobs import cut_jobs

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
    except (ValueError, TimeoutError) as why:
        right = "look at the job's cut list alone, or allow more seconds"
        raise Faults("command line", [Fault("cannot-cut", "cuts", str(why), right)]) from None
    finally:
        progress.done()
    used, after, fresh = _rack_afterwards(found, rack, plans)
    held = {name: [c.code for c in p.held] for name, p in plans.items() if p.held}
    if args.rack_out is not None:
        from stringline.cutting.rack_csv import rack_csv
        from stringline.files import write_atomic

        write_atomic(args.rack_out, rack_csv(after))
    if args.json:
        print(as_json.dumps(_json(found, plans, used, after, fresh, held)))
    else:
        from stringline.cutting.jobs_report import jobs_text

        print("\n".join([jobs_text(found, unit), *_rack_text(used, fresh, after, args.rack_out), *_held_text(held)]))
    return HELD if held else OK


def _sensible(args: argparse.Namespace) -> None:
    faults = []
    if not args.seconds > 0.0:
        faults.append(Fault("out-of-range", "seconds", "there is no time to look in", "write a number above 0"))
    if len(set(args.job)) < len(args.job):
        twice = next(j for j in args.job if args.job.count(j) > 1)
        faults.append(Fault("name-twice", "cuts", f"{twice} is given twice", "name each job once"))
    if faults:
        raise Faults("command line", faults)
    if args.rack_out is not None:
        need_folder(Path(args.rack_out).parent)


def _plans(files: Sequence[str], progress: Progress) -> dict[str, Plan]:
    """The plans by job name; every job's faults at once. A job without a layout cannot be cut and is a fault."""
    from stringline.plan import Needs

    plans: dict[str, Plan] = {}
    faults: list[Fault] = []
    for k, file in enumerate(files, 1):
        progress(f"job {k} of {len(files)}")
        try:
            plan = plan_of(file)
        except Faults as found:
            faults += [Fault(f.code, f"{file}: {f.where}", f.wrong, f.right, f.line) for f in found.faults]
            continue
        if isinstance(plan.layout, Needs):
            right = "; ".join(Voice(plan.job.unit).all(plan.layout.missing))
            faults.append(Fault("no-layout", file, "it has no layout yet, so there is nothing to cut", right))
            continue
        name = plan.job.name
        plans[name if name not in plans else f"{name} ({file})"] = plan
    if faults:
        progress.done()
        raise Faults("the jobs", faults)
    return plans


def _given(plan: Plan) -> Any:
    from stringline.cutting.basis import Given
    from stringline.form.result import Fit
    from stringline.layout.result import Layout

    assert plan.system is not None
    assert isinstance(plan.layout, Layout)
    return Given(plan.job, plan.system, plan.layout, plan.fit if isinstance(plan.fit, Fit) else None)


def _profiles(plans: dict[str, Plan]) -> list[str]:
    return list(dict.fromkeys(p.system.track.name for p in plans.values() if p.system is not None))


def _rack(file: str | None, plans: dict[str, Plan]) -> tuple[RackPiece, ...]:
    """The rack's pieces. Where the jobs have several profiles, every piece has to say which it is of."""
    if file is None:
        return ()
    from stringline.cutting.rack_csv import read_rack

    rack = read_rack(read_text(file), file, next(iter(plans.values())).job.unit)
    profiles = _profiles(plans)
    if len(profiles) > 1 and any(not p.profile for p in rack):
        nameless = next(p for p in rack if not p.profile)
        wrong = f"'{nameless.label}' does not say its profile, and the jobs have {len(profiles)}"
        right = f"write in the column profile: {' or '.join(profiles)}"
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
    from stringline.cutting.rack_csv import rack_after

    profiles = _profiles(plans)
    used: list[RackPiece] = []
    back: dict[str, list[float]] = {}
    seen: set[str] = set()
    for t in found.tracks:
        own = [] if t.profile in seen else [p for p in rack if (p.profile or profiles[0]) == t.profile]
        seen.add(t.profile)
        used += [own[i] for i in t.plan.rack_used if i < len(own)]
        back.setdefault(t.profile, []).extend(t.back_on_rack_m)
    unit = next(iter(plans.values())).job.unit
    after, fresh = rack_after(rack, [p.label for p in used], back, unit)
    return used, after, fresh


def _json(
    found: JobsPlan,
    plans: dict[str, Plan],
    used: Sequence[RackPiece],
    after: Sequence[RackPiece],
    fresh: Sequence[RackPiece],
    held: dict[str, list[str]],
) -> dict[str, Any]:
    from stringline.as_json import write as as_json
    from stringline.cutting.jobs_report import jobs_json

    def row(p: RackPiece) -> dict[str, Any]:
        return {"label": p.label, "length_m": p.length_m, "text": p.text, "profile": p.profile}

    return {
        "schema": as_json.SCHEMA,
        "jobs": list(plans),
        **jobs_json(found),
        "rack": {
            "take": [row(p) for p in used],
            "back": [row(p) for p in fresh],
            "after": [row(p) for p in after],
        },
        "held": held,
    }


def _rack_text(
    used: Sequence[RackPiece], fresh: Sequence[RackPiece], after: Sequence[RackPiece], out: str | None
) -> list[str]:
    def named(pieces: Sequence[RackPiece]) -> str:
        return ", ".join(f"{p.label} ({p.text})" for p in pieces)

    lines = [""]
    if used:
        lines.append(f"Take from the rack: {named(used)}.")
    if fresh:
        lines.append(f"Label and put on the rack: {named(fresh)}.")
    lines.append(f"The rack afterwards: {named(after) or 'empty'}.")
    return [*lines, f"Wrote {out}."] if out is not None else lines


def _held_text(held: dict[str, list[str]]) -> list[str]:
    if not held:
        return []
    return [
        "",
        *(
            f"HOLD {name}: {', '.join(codes)}. `stringline plan` says why; cut nothing of it before."
            for name, codes in held.items()
        ),
    ]
