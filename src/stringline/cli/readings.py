"""Verbs that add to a job without an editor: a new tape reading, and setting one aside. Nothing is ever overwritten."""

from __future__ import annotations

import argparse
import datetime
import shlex
from dataclasses import replace
from pathlib import Path
from typing import Any

from stringline.cli.inputs import HELP, OK, on_the_command_line, read_bytes
from stringline.document.load import decode
from stringline.faults import Fault, Faults
from stringline.files import write_atomic
from stringline.finding import Code, Finding, finding
from stringline.job.edit import Written, append_tape, readings_of, strike_reading


def tape_verb(args: argparse.Namespace) -> int:
    """Append a tape reading to a job file, with who, when and on which tape."""
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
    _tell(finding("cli.added", file=args.job, place=new.line, a=a, b=b, reading=new.reading))
    for name in unseen:
        _tell(finding("cli.new-point", point=name))
    for r in others:
        _tell(finding("cli.taped-before", a=a, b=b, reading=r.reading, place=r.line))
        _show(_strike_command(args.job, r))
    _tell("cli.nothing-else-touched")
    _show(_strike_command(args.job, new))
    _tell(finding("cli.next-survey", job=shlex.quote(args.job)))
    return OK


def strike_verb(args: argparse.Namespace) -> int:
    """Set a tape reading aside, with the reason; it stays in the file and takes no part."""
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
    was = {"place": reading.line, "a": reading.a, "b": reading.b, "reading": reading.reading}
    _tell(finding("cli.set-aside", file=args.job, **was, reason=args.reason))
    line = {"a": args.a, "b": args.b}
    if left:
        _tell(finding("cli.still-counts", **line, readings=[_as_listed(r) for r in left]))
    else:
        _tell(finding("cli.none-counts", **line))
        _show(finding("cli.tape-command", **_quoted(args.job, args.a, args.b)))
    _tell("cli.reading-stays")
    return OK


def _tell(said: Code) -> None:
    print(HELP.say(said))


def _show(command: Code) -> None:
    print(f"  {HELP.say(command)}")


def _as_listed(r: Written) -> Finding:
    code = "cli.listed" if r.struck is None else "cli.listed-aside"
    return finding(code, reading=r.reading, place=r.line)


def _of_the_new(fault: Fault) -> Fault:
    new = str(fault.where).startswith("survey.tapes[")
    return replace(fault, line=None, where=finding("cli.new-reading")) if new else fault


def _the_one(args: argparse.Namespace, readings: list[Written]) -> Written:
    """The reading that is meant. Raises Faults where there is none, or more than one."""
    here = [r for r in readings if {r.a, r.b} == {args.a, args.b}]
    open_ones = [r for r in here if r.struck is None and (args.line is None or r.line == args.line)]
    line = {"a": args.a, "b": args.b}
    right: Code
    if len(open_ones) == 1:
        return open_ones[0]
    if open_ones:
        wrong = finding("cli.several-count", **line, readings=len(open_ones))
        right = finding("cli.say-which", choices=[_choice(r) for r in open_ones])
        if len({r.line for r in open_ones}) < len(open_ones):
            right = "cli.one-on-a-line"
    elif here:
        wrong = finding("cli.none-that-counts", **line)
        right = finding("cli.its-readings", readings=[_as_listed(r) for r in here])
    else:
        wrong = finding("cli.nobody-taped", **line)
        names = sorted({n for r in readings for n in (r.a, r.b)})
        right = finding("cli.points-taped", points=names) if names else "cli.no-point-taped"
    raise Faults(args.job, [Fault("no-such-reading", "survey.tapes", wrong, right, args.line)])


def _choice(r: Written) -> Finding:
    return finding("cli.choice", place=r.line, reading=r.reading)


def _text_of(name: str) -> str:
    if name == "-":
        raise on_the_command_line(Fault("no-file", "JOB", "cli.writing-into-standard-input", "cli.name-the-job-file"))
    raw = read_bytes(name)
    decode(raw, name)
    return raw.decode("utf-8")


def _write(name: str, text: str) -> None:
    write_atomic(Path(name), text)


def _now() -> str:
    return datetime.datetime.now().isoformat(timespec="minutes")


def _strike_command(job: str, r: Written) -> Finding:
    return finding("cli.strike-command", **_quoted(job, r.a, r.b), place=r.line)


def _quoted(job: str, a: str, b: str) -> dict[str, str]:
    """Names as a shell takes them."""
    return {"job": shlex.quote(job), "a": shlex.quote(a), "b": shlex.quote(b)}


def _print_json(job: str, what: str, reading: Written, others: list[Written]) -> None:
    from stringline.as_json.write import SCHEMA, dumps

    def row(r: Written) -> dict[str, Any]:
        return {"line": r.line, "from": r.a, "to": r.b, "read": r.reading}

    print(dumps({"schema": SCHEMA, "file": job, what: row(reading), "also_count": [row(r) for r in others]}))
