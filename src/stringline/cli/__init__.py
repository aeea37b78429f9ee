"""The command line: one verb a stage of thought. It reads, asks for a plan, and prints; it computes nothing.

Exit codes: 0 when it ran, 1 when a check holds the job's stage, 2 on bad input, 130 when it was stopped by hand.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import os
import re
import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import NoReturn, TextIO

from stringline import __version__
from stringline.faults import Fault, Faults

OK, BAD_INPUT, STOPPED = 0, 2, 130


def main(argv: Sequence[str] | None = None) -> int:
    """Run one verb and return its exit code."""
    # Our matrices are small: a thread pool for them costs more than it gives. Whoever sets it otherwise is heard.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    _soften(sys.stdout)
    _soften(sys.stderr)
    as_json = "--json" in (sys.argv[1:] if argv is None else argv)
    try:
        code = _run(argv)
        sys.stdout.flush()
    except Faults as faults:
        return _report_faults(faults, as_json=as_json)
    except BrokenPipeError:
        # The reader of a pipe went away (`| head`): not a fault of the input. What is left to print goes nowhere.
        _let_go()
        return OK
    except KeyboardInterrupt:
        print("\nstopped; every file is as it was or as it was to be", file=sys.stderr)
        return STOPPED
    except OSError as why:
        _let_go()
        return _report_faults(_out_of_reach(why), as_json=as_json)
    return code


def _run(argv: Sequence[str] | None) -> int:
    parser = build_parser()
    args = parser.parse_args(argv)
    if args.verb is None:
        parser.print_help()
        return OK
    room, name = args.run.split(".")
    run: Callable[[argparse.Namespace], int] = getattr(import_module(f"stringline.cli.{room}"), name)
    return run(args)


def _soften(stream: TextIO) -> None:
    """Let a terminal without our signs (σ, −, ′) show a ? for them rather than stop in the middle."""
    if isinstance(stream, io.TextIOWrapper) and stream.errors == "strict":
        stream.reconfigure(errors="replace")


def _let_go() -> None:
    """Where standard output takes no more, send what is left of it nowhere."""
    try:
        sys.stdout.flush()
    except OSError:
        with contextlib.suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _out_of_reach(why: OSError) -> Faults:
    """What the system would not read or write, as a fault like any other."""
    name = str(why.filename2 or why.filename or "the output")
    reason = (why.strerror or str(why)).lower()
    right = "look at the name, at who may write there, and at the room that is left"
    return Faults(name, [Fault("not-written", name, f"it cannot be read or written ({reason})", right)])


class _Parser(argparse.ArgumentParser):
    """argparse, with the same shape of complaint as everything else."""

    def error(self, message: str) -> NoReturn:
        if unknown := re.match(r"argument VERB: invalid choice: '(.*?)'", message):
            from difflib import get_close_matches

            near = get_close_matches(unknown[1], re.findall(r"'([a-z]+)'", message)[1:], 1)
            message = f"there is no verb '{unknown[1]}'" + (f"; write {near[0]} if that is meant" if near else "")
        right = f"`{self.prog} --help` lists what it takes"
        raise Faults("command line", [Fault("usage", self.prog, message, right)])


def build_parser() -> argparse.ArgumentParser:
    """Build the parser; imports nothing heavy, so that --help answers at once."""
    parser = _Parser(
        prog="stringline",
        description="From tape readings at a pool to a layout, an order, every cut with its working, and a book.",
        epilog="Exit code 0: ran. 1: a check holds the stage. 2: bad input. JOB may be - for standard input.",
    )
    parser.add_argument("--version", action="version", version=f"stringline {__version__}")
    verbs = parser.add_subparsers(dest="verb", metavar="VERB", title="verbs")

    new = verbs.add_parser("new", help="write a commented job file to fill in")
    new.add_argument("file", help="where to write it; an existing file is never overwritten")
    new.add_argument("--name", help="name of the job (the file's name where not given)")
    new.add_argument(
        "--unit", choices=["ft-in", "ft", "m", "mm"], default="ft-in", help="unit of bare numbers and results"
    )
    new.add_argument("--from-dxf", metavar="DRAWING", help="begin from the water's edge in a DXF drawing")
    new.add_argument("--layer", help="the drawing's layer that holds the water's edge alone")
    new.add_argument("--drawn-in", choices=["mm", "cm", "m", "in", "ft"], help="unit of a drawing that does not say")
    new.add_argument("--sigma", help="how far a point may stand from where it is drawn, one σ (default: 10 mm)")
    new.set_defaults(run="jobs.new_verb")

    demo = verbs.add_parser("demo", help="copy an invented job into a folder and run all of it")
    demo.add_argument(
        "--job", choices=["tern-cottage", "heron-yard"], default="tern-cottage", help="which one (default: %(default)s)"
    )
    demo.add_argument("--out", metavar="DIR", help="folder to write (default: stringline-demo, or with its name)")
    demo.add_argument("--no-serve", action="store_true", help="do not open anything afterwards")
    demo.add_argument("--json", action="store_true", help="print the plan as JSON")
    demo.set_defaults(run="jobs.demo_verb")

    tape = _job_verb(verbs.add_parser, "tape", "add a tape reading to a job file; earlier readings stay as they are")
    tape.add_argument("a", metavar="FROM", help="the point that the tape was hooked at")
    tape.add_argument("b", metavar="TO", help="the point that was read at")
    tape.add_argument(
        "reading", metavar="READING", nargs="+", help="what the tape said, as 24-6-1/2, 24ft 6.5in or 7.48m"
    )
    tape.add_argument("--by", help="who read it")
    tape.add_argument("--device", help="which tape")
    tape.add_argument("--at", help="when (default: now)")
    tape.add_argument("--sigma", help="how far this one reading may be off, one σ (default: as the job says)")
    tape.set_defaults(run="readings.tape_verb")
    strike = _job_verb(verbs.add_parser, "strike", "set a tape reading aside; it stays in the file and takes no part")
    strike.add_argument("a", metavar="FROM", help="one end of the line")
    strike.add_argument("b", metavar="TO", help="its other end")
    strike.add_argument("--reason", required=True, help="why it is set aside; stands beside it from then on")
    strike.add_argument("--line", type=int, help="which line of the file, where it was taped more than once")
    strike.set_defaults(run="readings.strike_verb")

    survey = _job_verb(
        verbs.add_parser, "survey", "adjust the readings: coordinates, the misread one, what to tape next"
    )
    survey.set_defaults(run="jobs.survey_verb")
    taping = _job_verb(verbs.add_parser, "taping", "what to tape at a pool that has only been sketched, in which order")
    taping.add_argument("--tape", metavar="LENGTH", help="how far the tape reaches (default: as the job says)")
    taping.set_defaults(run="jobs.taping_verb")
    plan = _job_verb(verbs.add_parser, "plan", "everything that follows from the job, and what holds its stage")
    plan.set_defaults(run="jobs.plan_verb")

    book = _job_verb(verbs.add_parser, "book", "write the book (PDF), drawings (SVG, DXF) and tables (CSV)")
    book.add_argument("--out", default=None, metavar="DIR", help="folder to write (default: the job's name)")
    book.add_argument("--paper", choices=["letter", "a4"], default=None, help="default: letter for feet, A4 for metric")
    book.add_argument(
        "--revision", default=None, help="revision mark (default: A, or B once the pour makes cards void)"
    )
    book.set_defaults(run="jobs.book_verb")

    order = _job_verb(verbs.add_parser, "order", "what to order and whether to yet; keeps in the job what went out")
    order.add_argument("--place", action="store_true", help="write into the job that this order went out")
    order.add_argument("--date", metavar="YYYY-MM-DD", help="the day it went out (default: today)")
    order.add_argument("--again", action="store_true", help="with --place: an earlier order is kept as such")
    order.add_argument("--anyway", action="store_true", help="with --place: although a check holds the order")
    order.set_defaults(run="ordering.order_verb")
    built = _job_verb(
        verbs.add_parser, "difference", "designed, ordered and built: what fits, what to trim or re-order"
    )
    built.set_defaults(run="ordering.difference_verb")

    cuts = verbs.add_parser(
        "cuts", help="the cut list of a job, several jobs cut together, or stock for a list of pieces"
    )
    cuts.add_argument(
        "job", nargs="*", metavar="JOB", help="job file, or - for standard input; several are cut together"
    )
    cuts.add_argument("--rack", metavar="FILE.csv", help="offcuts with one factory end: label,length,count,profile")
    cuts.add_argument("--rack-out", metavar="FILE.csv", help="write the rack as it is afterwards")
    cuts.add_argument("--pieces", metavar="FILE.csv", help="pieces to cut: name,length,count")
    cuts.add_argument(
        "--sticks", metavar="FILE.csv", help="sticks to cut from: name,length,count (no count: any number)"
    )
    cuts.add_argument("--kerf", default="0", help="width of a saw cut, in the lengths' unit (default: %(default)s)")
    cuts.add_argument("--seconds", type=float, default=30.0, help="how long to look for a proof (default: %(default)s)")
    cuts.add_argument("--json", action="store_true", help="print JSON")
    cuts.set_defaults(run="stock.cuts_verb")

    lead = _job_verb(verbs.add_parser, "lead", "how the cover rolls and pulls, and the lead to expect over its travel")
    lead.add_argument("--svg", metavar="FILE.svg", help="also draw the lead over the travel, with its band and limit")
    lead.set_defaults(run="running.lead_verb")
    diagnose = _job_verb(verbs.add_parser, "diagnose", "why the cover runs crooked, from the leads measured in [run]")
    diagnose.add_argument("--svg", metavar="FILE.svg", help="also draw the readings against what explains them")
    diagnose.set_defaults(run="running.diagnose_verb")

    systems = verbs.add_parser("systems", help="list hardware catalogues, or show one")
    systems.add_argument("system", nargs="?", help="a catalogue's key or path")
    systems.add_argument("--template", action="store_true", help="print a commented catalogue to fill in")
    systems.add_argument("--json", action="store_true", help="print JSON")
    systems.set_defaults(run="lists.systems_verb")

    sources = verbs.add_parser("sources", help="every standard, handbook, practice and memory that a number leans on")
    sources.add_argument("key", nargs="?", help="one source's key")
    sources.add_argument("--json", action="store_true", help="print JSON")
    sources.set_defaults(run="lists.sources_verb")
    return parser


def _job_verb(add: Callable[..., argparse.ArgumentParser], name: str, text: str) -> argparse.ArgumentParser:
    verb = add(name, help=text)
    verb.add_argument("job", metavar="JOB", help="job file, or - for standard input")
    verb.add_argument("--json", action="store_true", help="print JSON (schema 1, docs/json.md)")
    return verb


def _report_faults(faults: Faults, *, as_json: bool) -> int:
    if as_json:
        from stringline.as_json.write import dumps, faults_json

        print(dumps(faults_json(faults)))
    from stringline.sheets.faults import faults_text

    print(faults_text(faults), file=sys.stderr)
    return BAD_INPUT
