"""What every verb needs: a voice, reading jobs and lists, naming documents in faults, dates and progress."""

from __future__ import annotations

import datetime
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from stringline.faults import Fault, Faults
from stringline.finding import Code, Finding, finding, nested
from stringline.lengths import Unit
from stringline.sheets.voice import Voice

if TYPE_CHECKING:
    from stringline.job.model import Job
    from stringline.plan import Plan
    from stringline.system.model import System

OK, HELD, BAD_INPUT = 0, 1, 2

HELP = Voice(Unit.M)
"""Says what is no job's: help, and what is wrong on the command line."""


def voice_of(job: Job) -> Voice:
    """The voice of a job: lengths in its unit."""
    return Voice(job.unit)


def on_the_command_line(*faults: Fault, unit: Unit | None = None) -> Faults:
    """What is wrong with what was written behind the verb."""
    return Faults(HELP.say("cli.command-line"), faults, unit)


def plan_of(name: str) -> Plan:
    """Read the job called ``name`` (``-`` for standard input) with its catalogue, and plan it. Raises Faults."""
    from stringline.plan import plan

    job = read_job_named(name)
    base_dir = Path.cwd() if name == "-" else Path(name).parent
    system, others = system_of(job, base_dir), others_of(job, base_dir)
    with naming(name, job.unit):
        return plan(job, system, others)


@contextmanager
def naming(document: str, unit: Unit) -> Iterator[None]:
    """Name the document that a person would open, and its unit, in faults that engineering found in it."""
    try:
        yield
    except Faults as faults:
        raise Faults(HELP.say("cli.standard-input") if document == "-" else document, faults.faults, unit) from None


def system_of(job: Job, base_dir: Path) -> System | None:
    """Load the catalogue that a job names, None where it names none. Raises Faults."""
    if not job.system:
        return None
    from stringline.system.read import load_system

    return load_system(job.system, base_dir=base_dir)


def others_of(job: Job, base_dir: Path) -> tuple[System, ...]:
    """The catalogues beside the one that a job names: what else could be had."""
    if not job.system:
        return ()
    from stringline.system.read import neighbours

    return neighbours(job.system, base_dir=base_dir)


def read_job_named(name: str) -> Job:
    """Read a job file, or standard input for ``-``. Raises Faults."""
    from stringline.job.read import beside, read_job, read_job_file

    if name == "-":
        return read_job(sys.stdin.buffer.read(), HELP.say("cli.standard-input"), beside(Path.cwd()))
    return read_job_file(Path(name))


def read_text(name: str) -> str:
    """Read a text file as UTF-8, with or without a byte-order mark. Raises Faults."""
    path = Path(name)
    try:
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise Faults(name, [Fault("no-file", name, "cli.no-such-file", "cli.check-name-and-folder")]) from None
    except (OSError, UnicodeDecodeError) as why:
        raise Faults(name, [Fault("unreadable", name, _unread(why), "cli.save-as-utf8")]) from None


def read_bytes(name: str) -> bytes:
    """Read a file that is not text. Raises Faults."""
    try:
        return Path(name).read_bytes()
    except FileNotFoundError:
        raise Faults(name, [Fault("no-file", name, "cli.no-such-file", "cli.check-name-and-folder")]) from None
    except OSError as why:
        raise Faults(name, [Fault("unreadable", name, _unread(why), "cli.check-what-it-is")]) from None


def _unread(why: Exception) -> Finding:
    return finding("cli.cannot-be-read", reason=str(why))


def need_folder(folder: Path) -> None:
    """Raise Faults where a folder to write into is not there."""
    if not folder.is_dir():
        raise Faults(str(folder), [Fault("no-folder", str(folder), "cli.no-such-folder", "cli.make-it-first")])


def paper_for(plan: Plan) -> str:
    """The paper a job in these units is likely to be printed on."""
    return "letter" if plan.job.unit.value in ("ft-in", "ft") else "a4"


def revision_of(plan: Plan) -> str:
    """The book's revision where nobody chose one: B where it makes earlier cut cards void."""
    return plan.difference.reissued[0].revision if plan.difference is not None and plan.difference.reissued else "A"


def needed(plan: Plan, *sections: str) -> Finding | None:
    """What these sections of a plan lack, all of them where none is named; None where nothing is said to be lacking."""
    missing = [m for n in plan.needs if not sections or n.section in sections for m in n.missing]
    return finding("cli.needs", missing=[nested(m) for m in missing]) if missing else None


def slug(name: str) -> str:
    """A job name as a folder name."""
    kept = "".join(c if c.isalnum() else "-" for c in name.lower())
    return "-".join(part for part in kept.split("-") if part) or "book"


def today() -> datetime.date:
    """Today, or the day that SOURCE_DATE_EPOCH names."""
    # SOURCE_DATE_EPOCH (reproducible-builds.org) makes the same book byte for byte on any day.
    epoch = os.environ.get("SOURCE_DATE_EPOCH")
    if epoch is not None and epoch.isdigit():
        return datetime.datetime.fromtimestamp(int(epoch), datetime.UTC).date()
    return datetime.date.today()


class Progress:
    """Says on standard error what is under way, where a person is watching; silent in a pipe."""

    def __init__(self) -> None:
        self._shown = False
        self._live = sys.stderr.isatty()

    def __call__(self, step: Code) -> None:
        """Say what is under way."""
        if self._live:
            sys.stderr.write(f"\r\033[K{HELP.say(step)} …")
            sys.stderr.flush()
            self._shown = True

    def done(self) -> None:
        """Wipe the line."""
        if self._shown:
            sys.stderr.write("\r\033[K")
            sys.stderr.flush()
