"""The command line: one verb a stage of thought. It reads, asks for a plan, and prints; it computes nothing.

Exit codes: 0 when it ran, 1 when a check holds the job's stage, 2 on bad input.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from stringline import __version__
from stringline.faults import Fault, Faults

if TYPE_CHECKING:
    import datetime

    from stringline.job.model import Job
    from stringline.plan import Plan
    from stringline.system.model import System

OK, HELD, BAD_INPUT = 0, 1, 2


def main(argv: Sequence[str] | None = None) -> int:
    """Run one verb and return its exit code."""
    parser = build_parser()
    args = parser.parse_args(argv)
    if args.verb is None:
        parser.print_help()
        return OK
    run: Callable[[argparse.Namespace], int] = args.run
    try:
        return run(args)
    except Faults as faults:
        return _report_faults(faults, as_json=getattr(args, "json", False))
    except BrokenPipeError:
        # The reader of a pipe went away (`| head`): not a fault of the input.
        sys.stderr.close()
        return OK


class _Parser(argparse.ArgumentParser):
    """argparse, with the same one-line shape of complaint as everything else."""

    def error(self, message: str) -> NoReturn:
        self.exit(BAD_INPUT, f"{self.prog}: {message}; `{self.prog} --help` lists what it takes.\n")


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
    new.set_defaults(run=_new)

    demo = verbs.add_parser("demo", help="copy an invented job into a folder and run all of it")
    demo.add_argument("--out", default="stringline-demo", metavar="DIR", help="folder to write (default: %(default)s)")
    demo.add_argument("--no-serve", action="store_true", help="do not open anything afterwards")
    demo.add_argument("--json", action="store_true", help="print the plan as JSON")
    demo.set_defaults(run=_demo)

    survey = _job_verb(
        verbs.add_parser, "survey", "adjust the readings: coordinates, the misread one, what to tape next"
    )
    survey.set_defaults(run=_survey)
    plan = _job_verb(verbs.add_parser, "plan", "everything that follows from the job, and what holds its stage")
    plan.set_defaults(run=_plan)

    book = _job_verb(verbs.add_parser, "book", "write the book (PDF), drawings (SVG, DXF) and tables (CSV)")
    book.add_argument("--out", default=None, metavar="DIR", help="folder to write (default: the job's name)")
    book.add_argument("--paper", choices=["letter", "a4"], default=None, help="default: letter for feet, A4 for metric")
    book.add_argument("--revision", default="A", help="revision mark for the title blocks (default: %(default)s)")
    book.set_defaults(run=_book)

    cuts = verbs.add_parser("cuts", help="the cut list of a job with its working, or stock for a list of pieces")
    cuts.add_argument("job", nargs="?", metavar="JOB", help="job file, or - for standard input")
    cuts.add_argument("--pieces", metavar="FILE.csv", help="pieces to cut: name,length,count")
    cuts.add_argument(
        "--sticks", metavar="FILE.csv", help="sticks to cut from: name,length,count (no count: any number)"
    )
    cuts.add_argument("--kerf", default="0", help="width of a saw cut, in the lengths' unit (default: %(default)s)")
    cuts.add_argument("--seconds", type=float, default=30.0, help="how long to look for a proof (default: %(default)s)")
    cuts.add_argument("--json", action="store_true", help="print JSON")
    cuts.set_defaults(run=_cuts)

    systems = verbs.add_parser("systems", help="list hardware catalogues, or show one")
    systems.add_argument("system", nargs="?", help="a catalogue's key or path")
    systems.add_argument("--template", action="store_true", help="print a commented catalogue to fill in")
    systems.add_argument("--json", action="store_true", help="print JSON")
    systems.set_defaults(run=_systems)

    sources = verbs.add_parser("sources", help="every standard, handbook, practice and memory that a number leans on")
    sources.add_argument("key", nargs="?", help="one source's key")
    sources.add_argument("--json", action="store_true", help="print JSON")
    sources.set_defaults(run=_sources)
    return parser


def _job_verb(add: Callable[..., argparse.ArgumentParser], name: str, text: str) -> argparse.ArgumentParser:
    verb = add(name, help=text)
    verb.add_argument("job", metavar="JOB", help="job file, or - for standard input")
    verb.add_argument("--json", action="store_true", help="print JSON (schema 1, docs/json.md)")
    return verb


def _new(args: argparse.Namespace) -> int:
    from stringline.files import write_atomic
    from stringline.job.template import job_template

    path = Path(args.file)
    if path.exists():
        raise Faults(str(path), [Fault("file-exists", str(path), "this file is there already", "choose another name")])
    _need_folder(path.parent)
    write_atomic(path, job_template(args.name or path.stem.replace("-", " ").title(), args.unit))
    print(f"Wrote {path}. Fill it in, then: stringline survey {path}")
    return OK


def _demo(args: argparse.Namespace) -> int:
    from stringline.book.write import write_book
    from stringline.demo import demo_job_text
    from stringline.files import write_atomic
    from stringline.report import json as as_json
    from stringline.report import text

    folder = Path(args.out)
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / "job.toml"
    if not path.exists():
        write_atomic(path, demo_job_text())
    plan = _plan_of(str(path))
    progress = _Progress()
    written = write_book(plan, folder, paper=_paper(plan), revision="A", today=_today(), progress=progress)
    progress.done()
    if args.json:
        print(as_json.dumps({**as_json.plan_json(plan), "written": [str(p) for p in written]}))
        return OK
    print("An invented job: no real pool, person, firm or product.\n")
    print(text.plan_text(plan))
    print("\nWritten:")
    for p in [path, *written]:
        print(f"  {p}")
    print(f"\nRead on with: stringline survey {path}")
    return OK


def _survey(args: argparse.Namespace) -> int:
    from stringline.checks.survey import survey_checks
    from stringline.report import json as as_json
    from stringline.report import text
    from stringline.survey.run import survey as adjust_survey

    job = _read_job(args.job)
    with _naming(args.job):
        survey = adjust_survey(job.survey, job.unit)
    checks = survey_checks(survey, job.unit)
    held = any(c.stops and c.stage.rank <= job.stage.rank for c in checks)
    if args.json:
        print(as_json.dumps({**as_json.survey_json(survey), "checks": [as_json.check_json(c) for c in checks]}))
    else:
        print(text.survey_text(job.name, survey, checks, job.stage, job.unit))
    return HELD if held else OK


def _plan(args: argparse.Namespace) -> int:
    from stringline.report import json as as_json
    from stringline.report import text

    plan = _plan_of(args.job)
    print(as_json.dumps(as_json.plan_json(plan)) if args.json else text.plan_text(plan))
    return HELD if plan.held else OK


def _book(args: argparse.Namespace) -> int:
    from stringline.book.write import write_book
    from stringline.report import json as as_json

    plan = _plan_of(args.job)
    out = Path(args.out) if args.out else Path(_slug(plan.job.name))
    progress = _Progress()
    out.mkdir(parents=True, exist_ok=True)
    written = write_book(
        plan, out, paper=args.paper or _paper(plan), revision=args.revision, today=_today(), progress=progress
    )
    progress.done()
    if args.json:
        held = [c.code for c in plan.held]
        print(as_json.dumps({"schema": as_json.SCHEMA, "written": [str(p) for p in written], "held": held}))
    else:
        print("\n".join(f"Wrote {p}" for p in written))
        for c in plan.held:
            print(f"HOLD: {c.title.lower()}: {c.verdict.value}. {c.action}")
    return HELD if plan.held else OK


def _cuts(args: argparse.Namespace) -> int:
    from stringline.report import json as as_json
    from stringline.report import text

    if args.pieces or args.sticks:
        return _stock(args)
    if args.job is None:
        why = Fault(
            "no-job", "cuts", "neither a job nor --pieces and --sticks was given", "name a job file, or both lists"
        )
        raise Faults("command line", [why])
    plan = _plan_of(args.job)
    if args.json:
        print(
            as_json.dumps(
                {"schema": as_json.SCHEMA, **as_json.plan_json(plan)["cuts"], "held": [c.code for c in plan.held]}
            )
        )
    else:
        print(text.cuts_text(plan))
    return HELD if plan.held else OK


def _stock(args: argparse.Namespace) -> int:
    from stringline.cutting.stock_csv import stock_from_csv, stock_json, stock_text
    from stringline.report import json as as_json

    if args.job is not None or not (args.pieces and args.sticks):
        why = Fault("two-lists", "cuts", "stock needs both lists and no job", "give --pieces and --sticks together")
        raise Faults("command line", [why])
    progress = _Progress()
    result = stock_from_csv(
        _read_text(args.pieces), _read_text(args.sticks), kerf=args.kerf, seconds=args.seconds, progress=progress
    )
    progress.done()
    print(as_json.dumps({"schema": as_json.SCHEMA, **stock_json(result)}) if args.json else stock_text(result))
    return OK


def _systems(args: argparse.Namespace) -> int:
    from stringline.report import json as as_json
    from stringline.system import read

    if args.template:
        print(read.template_text(), end="")
        return OK
    if args.system is None:
        rows = [read.load_system(key) for key in read.list_systems()]
        if args.json:
            listed = [{"key": s.key, "name": s.name, "invented": s.invented} for s in rows]
            print(as_json.dumps({"schema": as_json.SCHEMA, "systems": listed}))
        else:
            print("\n".join(f"{s.key:<20} {s.name}{'  (invented)' if s.invented else ''}" for s in rows))
        return OK
    from dataclasses import asdict

    system = read.load_system(args.system, base_dir=Path.cwd())
    print(as_json.dumps({"schema": as_json.SCHEMA, **asdict(system)}))
    return OK


def _sources(args: argparse.Namespace) -> int:
    from dataclasses import asdict

    from stringline.report import json as as_json
    from stringline.sources import ALL

    if args.key is not None and args.key not in ALL:
        why = Fault("unknown-source", args.key, "no source has this key", "`stringline sources` lists them all")
        raise Faults("command line", [why])
    chosen = [s for key, s in sorted(ALL.items()) if args.key in (None, key)]
    if args.json:
        print(as_json.dumps({"schema": as_json.SCHEMA, "sources": [asdict(s) for s in chosen]}))
        return OK
    for s in chosen:
        print(f"{s.key:<24} [{s.standing.value}] {s.title}{', ' + s.where if s.where else ''}")
        if s.note:
            print(f"{'':<24} {s.note}")
    return OK


def _plan_of(name: str) -> Plan:
    from stringline.plan import plan

    job = _read_job(name)
    with _naming(name):
        return plan(job, _system_of(job, Path.cwd() if name == "-" else Path(name).parent))


@contextmanager
def _naming(document: str) -> Iterator[None]:
    """Name the document that a person would open in faults that engineering found in it."""
    try:
        yield
    except Faults as faults:
        if faults.document != "survey":
            raise
        raise Faults("standard input" if document == "-" else document, faults.faults) from None


def _system_of(job: Job, base_dir: Path) -> System | None:
    if not job.system:
        return None
    from stringline.system.read import load_system

    return load_system(job.system, base_dir=base_dir)


def _read_job(name: str) -> Job:
    from stringline.job.read import read_job, read_job_file

    if name == "-":
        return read_job(sys.stdin.buffer.read(), "standard input")
    return read_job_file(Path(name))


def _read_text(name: str) -> str:
    path = Path(name)
    try:
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise Faults(name, [Fault("no-file", name, "there is no such file", "check its name and folder")]) from None
    except (OSError, UnicodeDecodeError) as why:
        raise Faults(name, [Fault("unreadable", name, f"it cannot be read ({why})", "save it as UTF-8 text")]) from None


def _need_folder(folder: Path) -> None:
    if not folder.is_dir():
        raise Faults(str(folder), [Fault("no-folder", str(folder), "there is no such folder", "make it first")])


def _paper(plan: Plan) -> str:
    return "letter" if plan.job.unit.value in ("ft-in", "ft") else "a4"


def _slug(name: str) -> str:
    kept = "".join(c if c.isalnum() else "-" for c in name.lower())
    return "-".join(part for part in kept.split("-") if part) or "book"


def _today() -> datetime.date:
    import datetime
    import os

    # SOURCE_DATE_EPOCH (reproducible-builds.org) makes the same book byte for byte on any day.
    epoch = os.environ.get("SOURCE_DATE_EPOCH")
    if epoch is not None and epoch.isdigit():
        return datetime.datetime.fromtimestamp(int(epoch), datetime.UTC).date()
    return datetime.date.today()


class _Progress:
    """Says on standard error what is under way, where a person is watching; silent in a pipe."""

    def __init__(self) -> None:
        self._shown = False
        self._live = sys.stderr.isatty()

    def __call__(self, step: str) -> None:
        if self._live:
            sys.stderr.write(f"\r\033[K{step} …")
            sys.stderr.flush()
            self._shown = True

    def done(self) -> None:
        if self._shown:
            sys.stderr.write("\r\033[K")
            sys.stderr.flush()


def _report_faults(faults: Faults, *, as_json: bool) -> int:
    if as_json:
        from stringline.report.json import dumps, faults_json

        print(dumps(faults_json(faults)))
    print(faults, file=sys.stderr)
    return BAD_INPUT
