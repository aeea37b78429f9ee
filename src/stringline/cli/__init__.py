"""The command line: one verb a stage of thought. It reads, asks for a plan, and prints; it computes nothing.

Exit codes: 0 when it ran, 1 when a check holds the job's stage, 2 on bad input, 130 when it was stopped by hand.
"""

from __future__ import annotations

import argparse
import contextlib
import difflib
import gc
import io
import os
import re
import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import NoReturn, TextIO

from stringline import __version__
from stringline.cli.inputs import BAD_INPUT, HELP, OK, on_the_command_line
from stringline.faults import Fault, Faults
from stringline.finding import finding
from stringline.sheets.faults import faults_text

STOPPED = 130


def main(argv: Sequence[str] | None = None) -> int:
    """Run one verb and return its exit code."""
    # Our matrices are small: a thread pool for them costs more than it gives. Whoever sets it otherwise is heard.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    if argv is None:
        # A process of its own keeps nearly all it makes until its end: looking for what it dropped finds nothing.
        gc.set_threshold(200_000, 50, 100)
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
        print(f"\n{HELP.say('cli.stopped')}", file=sys.stderr)
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
    name = str(why.filename2 or why.filename or HELP.say("cli.output"))
    wrong = finding("cli.out-of-reach", reason=(why.strerror or str(why)).lower())
    return Faults(name, [Fault("not-written", name, wrong, "cli.look-at-the-room")])


class _Parser(argparse.ArgumentParser):
    """argparse, with the same shape of complaint as everything else."""

    def error(self, message: str) -> NoReturn:
        wrong = finding("cli.usage", said=message)
        if unknown := re.match(r"argument VERB: invalid choice: '(.*?)'", message):
            near = difflib.get_close_matches(unknown[1], re.findall(r"'([a-z]+)'", message)[1:], 1)
            wrong = finding("cli.no-verb", verb=unknown[1])
            if near:
                wrong = finding("cli.no-verb-but", verb=unknown[1], near=near[0])
        raise on_the_command_line(Fault("usage", self.prog, wrong, finding("cli.see-help", program=self.prog)))


def build_parser() -> argparse.ArgumentParser:
    """Build the parser; imports nothing heavy, so that --help answers at once."""
    say = HELP.say
    parser = _Parser(
        prog="stringline",
        description=say("cli.description"),
        epilog=say("cli.exit-codes"),
    )
    parser.add_argument("--version", action="version", version=f"stringline {__version__}")
    verbs = parser.add_subparsers(dest="verb", metavar="VERB", title=say("cli.verbs"))

    new = verbs.add_parser("new", help=say("cli.new"))
    new.add_argument("file", help=say("cli.new.file"))
    new.add_argument("--name", help=say("cli.new.name"))
    new.add_argument("--unit", choices=["ft-in", "ft", "m", "mm"], default="ft-in", help=say("cli.new.unit"))
    new.add_argument("--from-dxf", metavar="DRAWING", help=say("cli.new.from-dxf"))
    new.add_argument("--layer", help=say("cli.new.layer"))
    new.add_argument("--drawn-in", choices=["mm", "cm", "m", "in", "ft"], help=say("cli.new.drawn-in"))
    new.add_argument("--sigma", help=say("cli.new.sigma"))
    new.set_defaults(run="new.new_verb")

    demo = verbs.add_parser("demo", help=say("cli.demo"))
    demo.add_argument("--job", choices=["tern-cottage", "heron-yard"], default="tern-cottage", help=say("cli.demo.job"))
    demo.add_argument("--out", metavar="DIR", help=say("cli.demo.out"))
    demo.add_argument("--no-serve", action="store_true", help=say("cli.demo.no-serve"))
    demo.add_argument("--json", action="store_true", help=say("cli.demo.json"))
    demo.set_defaults(run="jobs.demo_verb")

    tape = _job_verb(verbs.add_parser, "tape", say("cli.tape"))
    tape.add_argument("a", metavar="FROM", help=say("cli.tape.a"))
    tape.add_argument("b", metavar="TO", help=say("cli.tape.b"))
    tape.add_argument("reading", metavar="READING", nargs="+", help=say("cli.tape.reading"))
    tape.add_argument("--by", help=say("cli.tape.by"))
    tape.add_argument("--device", help=say("cli.tape.device"))
    tape.add_argument("--at", help=say("cli.tape.at"))
    tape.add_argument("--sigma", help=say("cli.tape.sigma"))
    tape.set_defaults(run="readings.tape_verb")
    strike = _job_verb(verbs.add_parser, "strike", say("cli.strike"))
    strike.add_argument("a", metavar="ID|FROM", help=say("cli.strike.a"))
    strike.add_argument("b", metavar="TO", nargs="?", help=say("cli.strike.b"))
    strike.add_argument("--reason", required=True, help=say("cli.strike.reason"))
    strike.add_argument("--line", type=int, help=say("cli.strike.line"))
    strike.set_defaults(run="readings.strike_verb")

    survey = _job_verb(verbs.add_parser, "survey", say("cli.survey"))
    survey.set_defaults(run="jobs.survey_verb")
    taping = _job_verb(verbs.add_parser, "taping", say("cli.taping"))
    taping.add_argument("--tape", metavar="LENGTH", help=say("cli.taping.tape"))
    taping.set_defaults(run="jobs.taping_verb")
    plan = _job_verb(verbs.add_parser, "plan", say("cli.plan"))
    plan.set_defaults(run="jobs.plan_verb")

    book = _job_verb(verbs.add_parser, "book", say("cli.book"))
    book.add_argument("--out", default=None, metavar="DIR", help=say("cli.book.out"))
    book.add_argument("--paper", choices=["letter", "a4"], default=None, help=say("cli.book.paper"))
    book.add_argument("--revision", default=None, help=say("cli.book.revision"))
    book.set_defaults(run="jobs.book_verb")

    order = _job_verb(verbs.add_parser, "order", say("cli.order"))
    order.add_argument("--place", action="store_true", help=say("cli.order.place"))
    order.add_argument("--date", metavar="YYYY-MM-DD", help=say("cli.order.date"))
    order.add_argument("--again", action="store_true", help=say("cli.order.again"))
    order.add_argument("--anyway", action="store_true", help=say("cli.order.anyway"))
    order.set_defaults(run="ordering.order_verb")
    built = _job_verb(verbs.add_parser, "difference", say("cli.difference"))
    built.set_defaults(run="ordering.difference_verb")

    cuts = verbs.add_parser("cuts", help=say("cli.cuts"))
    cuts.add_argument("job", nargs="*", metavar="JOB", help=say("cli.cuts.job"))
    cuts.add_argument("--rack", metavar="FILE.csv", help=say("cli.cuts.rack"))
    cuts.add_argument("--rack-out", metavar="FILE.csv", help=say("cli.cuts.rack-out"))
    cuts.add_argument("--pieces", metavar="FILE.csv", help=say("cli.cuts.pieces"))
    cuts.add_argument("--sticks", metavar="FILE.csv", help=say("cli.cuts.sticks"))
    cuts.add_argument("--kerf", default="0", help=say("cli.cuts.kerf"))
    cuts.add_argument("--seconds", type=float, default=30.0, help=say("cli.cuts.seconds"))
    cuts.add_argument("--json", action="store_true", help=say("cli.as-json"))
    cuts.set_defaults(run="cuts.cuts_verb")

    lead = _job_verb(verbs.add_parser, "lead", say("cli.lead"))
    lead.add_argument("--svg", metavar="FILE.svg", help=say("cli.lead.svg"))
    lead.set_defaults(run="running.lead_verb")
    diagnose = _job_verb(verbs.add_parser, "diagnose", say("cli.diagnose"))
    diagnose.add_argument("--svg", metavar="FILE.svg", help=say("cli.diagnose.svg"))
    diagnose.set_defaults(run="running.diagnose_verb")

    systems = verbs.add_parser("systems", help=say("cli.systems"))
    systems.add_argument("system", nargs="?", help=say("cli.systems.system"))
    systems.add_argument("--template", action="store_true", help=say("cli.systems.template"))
    systems.add_argument("--json", action="store_true", help=say("cli.as-json"))
    systems.set_defaults(run="lists.systems_verb")

    sources = verbs.add_parser("sources", help=say("cli.sources"))
    sources.add_argument("key", nargs="?", help=say("cli.sources.key"))
    sources.add_argument("--json", action="store_true", help=say("cli.as-json"))
    sources.set_defaults(run="lists.sources_verb")
    return parser


def _job_verb(add: Callable[..., argparse.ArgumentParser], name: str, text: str) -> argparse.ArgumentParser:
    say = HELP.say
    verb = add(name, help=text)
    verb.add_argument("job", metavar="JOB", help=say("cli.job"))
    verb.add_argument("--json", action="store_true", help=say("cli.as-json-schema"))
    return verb


def _report_faults(faults: Faults, *, as_json: bool) -> int:
    if as_json:
        from stringline.as_json.write import dumps, faults_json

        print(dumps(faults_json(faults)))
    print(faults_text(faults), file=sys.stderr)
    return BAD_INPUT
