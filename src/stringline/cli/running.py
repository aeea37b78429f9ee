"""Verbs on the moving cover: the lead to expect, and why it is crooked."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from stringline.as_json import write as as_json
from stringline.cli.inputs import HELD, HELP, OK, need_folder, needed, plan_of, today
from stringline.faults import Fault, Faults
from stringline.files import write_atomic
from stringline.finding import finding
from stringline.plan import Plan
from stringline.plan.checking import holding
from stringline.sheets.voice import Voice
from stringline.terminal.running_text import diagnosis_text, lead_text

if TYPE_CHECKING:
    from stringline.drawing.canvas import Drawing


def lead_verb(args: argparse.Namespace) -> int:
    """Print how the cover rolls and pulls and the lead to expect."""
    plan = plan_of(args.job)
    if args.json:
        print(as_json.dumps(as_json.parts_json(plan, "schema", "job", "held", "mechanics", "lead")))
    else:
        print(lead_text(plan))
    if args.svg is not None:
        from stringline.sheets.pictures.moving_drawings import lead_expected

        _draw(args.svg, plan, lead_expected(plan, Voice(plan.job.unit)), "lead")
    return HELD if holding(plan, of=("parts", "run")) else OK


def diagnose_verb(args: argparse.Namespace) -> int:
    """Print why the cover runs crooked."""
    plan = plan_of(args.job)
    if args.json:
        print(as_json.dumps(as_json.parts_json(plan, "schema", "job", "held", "diagnosis")))
    else:
        print(diagnosis_text(plan))
    if args.svg is not None:
        from stringline.sheets.pictures.moving_drawings import lead_explained

        _draw(args.svg, plan, lead_explained(plan, Voice(plan.job.unit)), "diagnosis")
    return HELD if holding(plan, of=("run",)) else OK


_WHAT_IT_NEEDS = {"lead": "cli.what-lead-needs", "diagnosis": "cli.what-diagnosis-needs"}


def _draw(name: str, plan: Plan, drawing: Drawing | None, section: str) -> None:
    """Write a drawing in its frame. Raises Faults where the plan has nothing to draw or the file cannot be written."""
    from stringline.book.write import alone_svg

    path = Path(name)
    need_folder(path.parent)
    if drawing is None:
        right = finding("cli.plan-needs", needs=needed(plan, section) or finding(_WHAT_IT_NEEDS[section]))
        raise Faults(name, [Fault("no-drawing", section, "cli.nothing-to-draw", right)], plan.job.unit)
    try:
        write_atomic(path, alone_svg(plan, drawing, date=today()))
    except OSError as why:
        wrong = finding("cli.cannot-be-written", reason=str(why.strerror))
        raise Faults(name, [Fault("not-written", name, wrong, "cli.name-another-file")]) from None
    print(HELP.say(finding("cli.wrote", file=str(path))), file=sys.stderr)
