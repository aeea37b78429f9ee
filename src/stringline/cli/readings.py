"""Verbs that add to a job without an editor: a new tape reading, and setting one aside. Nothing is ever overwritten."""

from __future__ import annotations

import argparse
import shlex
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stringline.cli.inputs import OK, read_bytes
from stringline.faults import Fault, Faults

if TYPE_CHECKING:
    from stringline.job.edit import Written


def tape_verb(args: argparse.Namespace) -> int:
    """Append a tape reading to a job file, with who, when and on which tape."""
    from stringline.job.edit import append_tape, readings_of

    text = _text_of(args.job)
    before = readings_of(text, document=args.job)
    a, b = args.a, args.b
    when = args.at if args.at is not None else _now()
    try:
        after = append_tape(
            text,
            a,
            b,
            " ".join(args.reading),
            sigma=args.sigma,
            by=args.by,
            at=when,
            device=args.device,
            document=args.job,
        )
    except Faults as told:
        # Nothing was written, so the line it would have stood on is nowhere to be seen.
        raise Faults(told.document, [_of_the_new(f) for f in told.faults]) from None
    _write(args.job, after)
    new = readings_of(after, document=args.job)[-1]
    others = [r for r in before if {r.a, r.b} == {a, b} and r.struck is None]
    known = {name for r in before for name in (r.a, r.b)}
    unseen = [name for name in (a, b) if before and name not in known]
    if args.json:
        _print_json(args.job, "added", new, others)
        return OK
    print(f"Added to {args.job}, line {new.line}: {_line_of(a, b)} {new.reading}")
    for name in unseen:
        print(f"{name} is in no tape before this one: a new point, or a slip of the pen?")
    for r in others:
        print(f"{_line_of(a, b)} was taped before: {r.reading} (line {r.line}). Both count until one is set aside:")
        print(f"  {_strike_command(args.job, r)}")
    print("Nothing else was touched. If this line itself is wrong, set it aside; nothing is ever taken out:")
    print(f"  {_strike_command(args.job, new)}")
    print(f"Next: stringline survey {shlex.quote(args.job)}")
    return OK


def strike_verb(args: argparse.Namespace) -> int:
    """Set a tape reading aside, with the reason; it stays in the file and takes no part."""
    from stringline.job.edit import readings_of, strike_reading

    text = _text_of(args.job)
    reading = _the_one(args, readings_of(text, document=args.job))
    _write(args.job, strike_reading(text, reading.index, args.reason, document=args.job))
    left = [
        r
        for r in readings_of(text, document=args.job)
        if {r.a, r.b} == {args.a, args.b} and r.struck is None and r.index != reading.index
    ]
    if args.json:
        _print_json(args.job, "struck", reading, left)
        return OK
    was = f"{_line_of(reading.a, reading.b)} {reading.reading}"
    print(f"Set aside in {args.job}, line {reading.line}: {was} ({args.reason})")
    if left:
        print(f"{_line_of(args.a, args.b)} still counts as: " + "; ".join(f"{r.reading} (line {r.line})" for r in left))
    else:
        print(f"No reading of {_line_of(args.a, args.b)} counts now. Take it again, then:")
        print(f"  stringline tape {shlex.quote(args.job)} {shlex.quote(args.a)} {shlex.quote(args.b)} READING")
    print("The reading stays in the file. To have it count again, take its struck = … out with an editor.")
    return OK


def _of_the_new(fault: Fault) -> Fault:
    new = str(fault.where).startswith("survey.tapes[")
    return replace(fault, line=None, where="the new reading") if new else fault


def _the_one(args: argparse.Namespace, readings: list[Written]) -> Written:
    """The reading that is meant. Raises Faults where there is none, or more than one."""

    here = [r for r in readings if {r.a, r.b} == {args.a, args.b}]
    open_ones = [r for r in here if r.struck is None and (args.line is None or r.line == args.line)]
    name = _line_of(args.a, args.b)
    if len(open_ones) == 1:
        return open_ones[0]
    if open_ones:
        lines = ", ".join(f"--line {r.line} for {r.reading}" for r in open_ones)
        wrong, right = f"{name} has {len(open_ones)} readings that count", f"say which: {lines}"
        if len({r.line for r in open_ones}) < len(open_ones):
            right = "put each on a line of its own first"
    elif here:
        said = "; ".join(f"{r.reading} (line {r.line}{'' if r.struck is None else ', set aside'})" for r in here)
        wrong, right = f"no reading of {name} that counts is there", f"its readings are: {said}"
    else:
        names = ", ".join(sorted({n for r in readings for n in (r.a, r.b)})) or "none"
        wrong, right = f"nobody has taped {name}", f"look at the names; points taped are {names}"
    raise Faults(args.job, [Fault("no-such-reading", "survey.tapes", wrong, right, args.line)])


def _text_of(name: str) -> str:
    from stringline.document.load import decode

    if name == "-":
        wrong = Fault("no-file", "JOB", "nothing can be written into standard input", "name the job file")
        raise Faults("command line", [wrong])
    raw = read_bytes(name)
    decode(raw, name)
    return raw.decode("utf-8")


def _write(name: str, text: str) -> None:
    from stringline.files import write_atomic

    write_atomic(Path(name), text)


def _line_of(a: str, b: str) -> str:
    return f"{a}–{b}"


def _now() -> str:
    import datetime

    return datetime.datetime.now().isoformat(timespec="minutes")


def _strike_command(job: str, r: Written) -> str:
    a, b = shlex.quote(r.a), shlex.quote(r.b)
    return f'stringline strike {shlex.quote(job)} {a} {b} --line {r.line} --reason "why"'


def _print_json(job: str, what: str, reading: Written, others: list[Written]) -> None:
    from stringline.as_json.write import SCHEMA, dumps

    def row(r: Written) -> dict[str, Any]:
        return {"line": r.line, "from": r.a, "to": r.b, "read": r.reading}

    print(dumps({"schema": SCHEMA, "file": job, what: row(reading), "also_count": [row(r) for r in others]}))
