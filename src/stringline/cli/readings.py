"""Verbs that add to a job without an editor: a new tape reading, and setting any one aside. Nothing is overwritten."""

from __future__ import annotations

import argparse
import datetime
import secrets
import shlex
from dataclasses import replace
from pathlib import Path
from typing import Any

from stringline.cli.inputs import HELP, OK, on_the_command_line, read_bytes
from stringline.document.load import decode
from stringline.faults import Fault, Faults
from stringline.files import write_atomic
from stringline.finding import Code, Finding, finding
from stringline.job.edit import Written, append_tape, fresh_id, readings_of, strike


def tape_verb(args: argparse.Namespace) -> int:
    """Append a tape reading to a job file, with who, when and on which tape, and an id of its own."""
    text = _text_of(args.job)
    every = readings_of(text, document=args.job)
    before = [r for r in every if r.kind == "tape"]
    a, b = args.a, args.b
    behind = {
        "id": fresh_id((r.id for r in every), secrets.randbelow),
        "sigma": args.sigma,
        "by": args.by,
        "at": args.at if args.at is not None else _now(),
        "device": args.device,
    }
    try:
        after = append_tape(text, a, b, " ".join(args.reading), document=args.job, **behind)
    except Faults as told:
        # Nothing was written, so the line it would have stood on is nowhere to be seen.
        raise Faults(told.document, [_of_the_new(f) for f in told.faults], told.unit) from None
    write_atomic(Path(args.job), after)
    new = next(r for r in readings_of(after, document=args.job) if r.id == behind["id"])
    others = [r for r in before if set(r.items[:2]) == {a, b} and r.struck is None]
    known = {name for r in before for name in r.items[:2]}
    unseen = [name for name in (a, b) if before and name not in known]
    if args.json:
        _print_json(args.job, "added", new, others)
        return OK
    _tell(finding("cli.added", file=args.job, place=new.line, what=_said(new), id=new.id))
    for name in unseen:
        _tell(finding("cli.new-point", point=name))
    for r in others:
        _tell(finding("cli.taped-before", a=a, b=b, reading=r.items[2], place=r.line))
        _show(_strike_command(args.job, r))
    _tell("cli.nothing-else-touched")
    _show(_strike_command(args.job, new))
    _tell(finding("cli.next-survey", job=shlex.quote(args.job)))
    return OK


def strike_verb(args: argparse.Namespace) -> int:
    """Set a reading aside, with the reason; it stays in the file and takes no part."""
    text = _text_of(args.job)
    every = readings_of(text, document=args.job)
    reading = _by_id(args, every) if args.b is None else _the_one(args, [r for r in every if r.kind == "tape"])
    write_atomic(Path(args.job), strike(text, reading.path, args.reason, document=args.job))
    ends = set(reading.items[:2]) if reading.kind == "tape" else set()
    left = [r for r in every if r.kind == "tape" and set(r.items[:2]) == ends and r.struck is None and r != reading]
    if args.json:
        _print_json(args.job, "struck", reading, left)
        return OK
    _tell(finding("cli.set-aside", file=args.job, place=reading.line, what=_said(reading), reason=args.reason))
    if ends:
        a, b = reading.items[:2]
        if left:
            _tell(finding("cli.still-counts", a=a, b=b, readings=[_as_listed(r) for r in left]))
        else:
            _tell(finding("cli.none-counts", a=a, b=b))
            _show(finding("cli.tape-command", **_quoted(args.job, a, b)))
    _tell("cli.reading-stays")
    return OK


def _said(r: Written) -> Finding:
    """A reading as a person would name it."""
    if r.kind == "tape":
        return finding("cli.a-tape", a=r.items[0], b=r.items[1], reading=r.items[2])
    return finding("cli.a-reading", kind=r.kind, items=r.items)


def _tell(said: Code) -> None:
    print(HELP.say(said))


def _show(command: Code) -> None:
    print(f"  {HELP.say(command)}")


def _as_listed(r: Written) -> Finding:
    code = "cli.listed" if r.struck is None else "cli.listed-aside"
    return finding(code, reading=r.items[2], place=r.line)


def _of_the_new(fault: Fault) -> Fault:
    new = str(fault.where).startswith("survey.tapes[")
    return replace(fault, line=None, where=finding("cli.new-reading")) if new else fault


def _by_id(args: argparse.Namespace, readings: list[Written]) -> Written:
    """The reading with the id that is named. Raises Faults where there is none."""
    for r in readings:
        if r.id == args.a:
            return r
    ids = [r.id for r in readings if r.id is not None]
    right = finding("cli.ids-are", ids=ids) if ids else finding("cli.no-ids")
    raise Faults(args.job, [Fault("no-such-reading", "survey", finding("cli.no-such-id", id=args.a), right)])


def _the_one(args: argparse.Namespace, readings: list[Written]) -> Written:
    """The tape reading that is meant. Raises Faults where there is none, or more than one."""
    here = [r for r in readings if set(r.items[:2]) == {args.a, args.b}]
    open_ones = [r for r in here if r.struck is None and (args.line is None or r.line == args.line)]
    line = {"a": args.a, "b": args.b}
    right: Code
    if len(open_ones) == 1:
        return open_ones[0]
    if open_ones:
        wrong = finding("cli.several-count", **line, readings=len(open_ones))
        right = finding("cli.say-which", choices=[_choice(r) for r in open_ones])
        if len({r.line for r in open_ones}) < len(open_ones) and any(r.id is None for r in open_ones):
            right = "cli.one-on-a-line"
    elif here:
        wrong = finding("cli.none-that-counts", **line)
        right = finding("cli.its-readings", readings=[_as_listed(r) for r in here])
    else:
        wrong = finding("cli.nobody-taped", **line)
        names = sorted({n for r in readings for n in r.items[:2]})
        right = finding("cli.points-taped", points=names) if names else "cli.no-point-taped"
    raise Faults(args.job, [Fault("no-such-reading", "survey.tapes", wrong, right, args.line)])


def _choice(r: Written) -> Finding:
    if r.id is not None:
        return finding("cli.choice-id", id=r.id, reading=r.items[2])
    return finding("cli.choice", place=r.line, reading=r.items[2])


def _text_of(name: str) -> str:
    if name == "-":
        raise on_the_command_line(Fault("no-file", "JOB", "cli.writing-into-standard-input", "cli.name-the-job-file"))
    raw = read_bytes(name)
    decode(raw, name)
    return raw.decode("utf-8")


def _now() -> str:
    return datetime.datetime.now().isoformat(timespec="minutes")


def _strike_command(job: str, r: Written) -> Finding:
    if r.id is not None:
        return finding("cli.strike-id-command", job=shlex.quote(job), id=shlex.quote(r.id))
    return finding("cli.strike-command", **_quoted(job, *r.items[:2]), place=r.line)


def _quoted(job: str, a: str, b: str) -> dict[str, str]:
    """Names as a shell takes them."""
    return {"job": shlex.quote(job), "a": shlex.quote(a), "b": shlex.quote(b)}


def _print_json(job: str, what: str, reading: Written, others: list[Written]) -> None:
    from stringline.as_json.write import SCHEMA, dumps

    def row(r: Written) -> dict[str, Any]:
        if r.kind == "tape":
            return {"line": r.line, "id": r.id, "from": r.items[0], "to": r.items[1], "read": r.items[2]}
        return {"line": r.line, "id": r.id, "kind": r.kind, "items": list(r.items)}

    print(dumps({"schema": SCHEMA, "file": job, what: row(reading), "also_count": [row(r) for r in others]}))
