"""Verbs on one job: survey, taping, plan and book; and the demo, which runs all of them."""

from __future__ import annotations

import argparse
from pathlib import Path

from stringline.as_json import write as as_json
from stringline.cli.inputs import (
    HELD,
    HELP,
    OK,
    Progress,
    naming,
    on_the_command_line,
    paper_for,
    plan_of,
    read_job_named,
    revision_of,
    slug,
    today,
    voice_of,
)
from stringline.demo import demo_job_text
from stringline.faults import Fault
from stringline.files import write_atomic
from stringline.finding import finding, nested
from stringline.job.model import Job
from stringline.lengths import LengthError, parse
from stringline.plan import plan as make_plan
from stringline.terminal import plan_text as text


def demo_verb(args: argparse.Namespace) -> int:
    """Copy the invented job into a folder and run all of it; it exits 0 although the planted slip holds its stage."""
    from stringline.book.write import write_book

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
    print(f"{HELP.say('cli.invented-job')}\n\n{text.plan_text(plan)}\n\n{HELP.say('cli.written')}")
    for p in [path, *written]:
        print(f"  {p}")
    print(f"\n{HELP.say(finding('cli.read-on', file=str(path)))}")
    return OK


def survey_verb(args: argparse.Namespace) -> int:
    """Adjust the readings of a job and print what they say."""
    from stringline.plan.checks.survey import survey_checks
    from stringline.survey.design.untaped import is_untaped
    from stringline.survey.run import survey as adjust_survey

    job = read_job_named(args.job)
    if is_untaped(job):
        return _untaped(job, data=args.json)
    with naming(args.job, job.unit):
        survey = adjust_survey(job.survey)
    checks = survey_checks(survey)
    held = any(c.stops and c.stage.rank <= job.stage.rank for c in checks)
    if args.json:
        said = [as_json.check_json(c, job.unit) for c in checks]
        print(as_json.dumps({**as_json.survey_json(survey, job.unit), "checks": said}))
    else:
        print(text.survey_text(job.name, survey, checks, job.stage, job.unit))
    return HELD if held else OK


def _untaped(job: Job, *, data: bool) -> int:
    """Nothing to adjust yet: say what to tape. The check that holds the stage says the same in the exit code."""
    plan = make_plan(job, None)
    print(as_json.dumps(as_json.untaped_json(plan)) if data else text.plan_text(plan))
    return HELD if plan.held else OK


def taping_verb(args: argparse.Namespace) -> int:
    """Print where to set the baseline and which lines to pull, from the rough places in the job's sketch."""
    from stringline.survey.design.untaped import taping

    job = read_job_named(args.job)
    try:
        reach = None if args.tape is None else parse(args.tape, job.unit).m
    except LengthError as error:
        raise on_the_command_line(Fault("bad-length", "--tape", error.wrong, error.right), unit=job.unit) from None
    with naming(args.job, job.unit):
        found = taping(job, reach)
    if args.json:
        print(as_json.dumps({"schema": as_json.SCHEMA, "job": job.name, **as_json.taping_json(found, job.unit)}))
    else:
        print(text.taping_text(job.name, found, job.unit))
    return OK


def plan_verb(args: argparse.Namespace) -> int:
    """Print everything that follows from a job."""
    plan = plan_of(args.job)
    print(as_json.dumps(as_json.plan_json(plan)) if args.json else text.plan_text(plan))
    return HELD if plan.held else OK


def book_verb(args: argparse.Namespace) -> int:
    """Write the book, the drawings and the tables."""
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
        codes = [c.code for c in plan.held]
        print(as_json.dumps({"schema": as_json.SCHEMA, "written": [str(p) for p in written], "held": codes}))
    else:
        voice = voice_of(plan.job)
        for p in written:
            print(voice.say(finding("cli.wrote", file=str(p))))
        for c in plan.held:
            held = {"title": nested(c.title), "verdict": c.verdict, "action": nested(c.action)}
            print(voice.say(finding("cli.hold", **held)))
    return HELD if plan.held else OK
