"""Verbs on one job: survey, plan, book, cuts; and the demo."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from stringline.cli.inputs import (
    HELD,
    OK,
    Progress,
    naming,
    need_folder,
    paper_for,
    plan_of,
    read_bytes,
    read_job_named,
    revision_of,
    slug,
    today,
)
from stringline.faults import Fault, Faults
from stringline.sheets.voice import Voice

if TYPE_CHECKING:
    from stringline.job.model import Job


def new_verb(args: argparse.Namespace) -> int:
    """Write a commented job file; an existing file is never overwritten."""
    from stringline.files import write_atomic
    from stringline.job.template import job_template

    path = Path(args.file)
    if path.exists():
        raise Faults(str(path), [Fault("file-exists", str(path), "this file is there already", "choose another name")])
    need_folder(path.parent)
    name = args.name or path.stem.replace("-", " ").title()
    if args.from_dxf is not None:
        return _begin_from_drawing(args, path, name)
    write_atomic(path, job_template(name, args.unit))
    print(f"Wrote {path}. Fill it in, then: stringline survey {path}")
    return OK


def _begin_from_drawing(args: argparse.Namespace, path: Path, name: str) -> int:
    from stringline.files import write_atomic
    from stringline.job.dxf_outline import read_outline
    from stringline.job.from_outline import DRAWN_SIGMA, job_from_outline
    from stringline.lengths import LengthError, Unit, parse

    sigma = DRAWN_SIGMA if args.sigma is None else args.sigma
    try:
        positive = parse(sigma, Unit(args.unit)).m > 0.0
    except LengthError as error:
        raise Faults("command line", [Fault("bad-length", "--sigma", error.wrong, error.right)]) from None
    if not positive:
        wrong = Fault("sigma", "--sigma", "no drawing is that good", "say how far a point may stand from its place")
        raise Faults("command line", [wrong])
    drawing = Path(args.from_dxf)
    outline = read_outline(read_bytes(args.from_dxf), args.from_dxf, layer=args.layer, unit=args.drawn_in)
    write_atomic(path, job_from_outline(outline, name, args.unit, drawing.name, sigma))
    arcs = sum(1 for v in outline.vertices if v[2] != 0.0)
    shape = "a smooth curve" if outline.smooth else f"{arcs} of its edges bowed" if arcs else "all edges straight"
    print(f"Wrote {path}: {len(outline.vertices)} points of layer '{outline.layer}', {shape}, σ {sigma} each.")
    if outline.passed_over:
        print(f"Left out, for they are no edge: {', '.join(outline.passed_over)}.")
    print(f"A drawing is no measurement: tape a few lines between its points, then: stringline survey {path}")
    return OK


def demo_verb(args: argparse.Namespace) -> int:
    """Copy the invented job into a folder and run all of it; it exits 0 although the planted slip holds its stage."""
    from stringline.as_json import write as as_json
    from stringline.book.write import write_book
    from stringline.demo import demo_job_text
    from stringline.files import write_atomic
    from stringline.terminal import plan_text as text

    usual = "stringline-demo" if args.job == "tern-cottage" else f"stringline-demo-{args.job}"
    folder = Path(args.out or usual)
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / "job.toml"
    if not path.exists():
        write_atomic(path, demo_job_text(args.job))
    plan = plan_of(str(path))
    progress = Progress()
    written = write_book(
        plan, folder, paper=paper_for(plan), revision=revision_of(plan), today=today(), progress=progress
    )
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


def survey_verb(args: argparse.Namespace) -> int:
    """Adjust the readings of a job and print what they say."""
    from stringline.as_json import write as as_json
    from stringline.plan.checks.survey import survey_checks
    from stringline.sections.untaped import is_untaped
    from stringline.survey.run import survey as adjust_survey
    from stringline.terminal import plan_text as text

    job = read_job_named(args.job)
    if is_untaped(job):
        return _untaped(job, as_json=args.json)
    with naming(args.job, job.unit):
        survey = adjust_survey(job.survey, job.unit)
    checks = survey_checks(survey, job.unit)
    held = any(c.stops and c.stage.rank <= job.stage.rank for c in checks)
    if args.json:
        print(
            as_json.dumps(
                {**as_json.survey_json(survey, job.unit), "checks": [as_json.check_json(c, job.unit) for c in checks]}
            )
        )
    else:
        print(text.survey_text(job.name, survey, checks, job.stage, job.unit))
    return HELD if held else OK


def _untaped(job: Job, *, as_json: bool) -> int:
    """Nothing to adjust yet: say what to tape. The check that holds the stage says the same in the exit code."""
    from stringline.as_json import write as json
    from stringline.plan import plan as make_plan
    from stringline.terminal import plan_text as text

    plan = make_plan(job, None)
    print(json.dumps(json.untaped_json(plan)) if as_json else text.plan_text(plan))
    return HELD if plan.held else OK


def taping_verb(args: argparse.Namespace) -> int:
    """Print where to set the baseline and which lines to pull, from the rough places in the job's sketch."""
    from stringline.as_json import write as as_json
    from stringline.lengths import LengthError, parse
    from stringline.sections.untaped import taping
    from stringline.terminal.site_text import taping_text

    job = read_job_named(args.job)
    try:
        reach = None if args.tape is None else parse(args.tape, job.unit).m
    except LengthError as error:
        raise Faults("command line", [Fault("bad-length", "--tape", error.wrong, error.right)]) from None
    with naming(args.job, job.unit):
        found = taping(job, reach)
    if args.json:
        print(as_json.dumps({"schema": as_json.SCHEMA, "job": job.name, **as_json.taping_json(found, job.unit)}))
    else:
        print(taping_text(job.name, found, job.unit))
    return OK


def plan_verb(args: argparse.Namespace) -> int:
    """Print everything that follows from a job."""
    from stringline.as_json import write as as_json
    from stringline.terminal import plan_text as text

    plan = plan_of(args.job)
    print(as_json.dumps(as_json.plan_json(plan)) if args.json else text.plan_text(plan))
    return HELD if plan.held else OK


def book_verb(args: argparse.Namespace) -> int:
    """Write the book, the drawings and the tables."""
    from stringline.as_json import write as as_json
    from stringline.book.write import write_book

    plan = plan_of(args.job)
    out = Path(args.out) if args.out else Path(slug(plan.job.name))
    progress = Progress()
    out.mkdir(parents=True, exist_ok=True)
    written = write_book(
        plan,
        out,
        paper=args.paper or paper_for(plan),
        revision=args.revision or revision_of(plan),
        today=today(),
        progress=progress,
    )
    progress.done()
    if args.json:
        held = [c.code for c in plan.held]
        print(as_json.dumps({"schema": as_json.SCHEMA, "written": [str(p) for p in written], "held": held}))
    else:
        print("\n".join(f"Wrote {p}" for p in written))
        voice = Voice(plan.job.unit)
        for c in plan.held:
            print(f"HOLD: {voice.say(c.title).lower()}: {c.verdict.value}. {voice.say(c.action)}")
    return HELD if plan.held else OK
