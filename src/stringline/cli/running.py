"""Verbs on the moving cover: the lead to expect, and why it is crooked."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from stringline.cli.inputs import HELD, OK, need_folder, plan_of, today
from stringline.faults import Fault, Faults
from stringline.sheets.voice import Voice

if TYPE_CHECKING:
    from stringline.drawing.canvas import Drawing
    from stringline.plan import Plan


def lead_verb(args: argparse.Namespace) -> int:
    """Print how the cover rolls and pulls and the lead to expect."""
    from stringline.as_json import write as as_json
    from stringline.terminal.running_text import lead_text

    plan = plan_of(args.job)
    if args.json:
        print(as_json.dumps(as_json.parts_json(plan, "schema", "job", "held", "mechanics", "lead")))
    else:
        print(lead_text(plan))
    if args.svg is not None:
        from stringline.sheets.pictures.moving_drawings import lead_expected

        _draw(args.svg, plan, lead_expected(plan), "lead")
    return HELD if any(c.code in _LEAD_CHECKS for c in plan.held) else OK


def diagnose_verb(args: argparse.Namespace) -> int:
    """Print why the cover runs crooked."""
    from stringline.as_json import write as as_json
    from stringline.terminal.running_text import diagnosis_text

    plan = plan_of(args.job)
    if args.json:
        print(as_json.dumps(as_json.parts_json(plan, "schema", "job", "held", "diagnosis")))
    else:
        print(diagnosis_text(plan))
    if args.svg is not None:
        from stringline.sheets.pictures.moving_drawings import lead_explained

        _draw(args.svg, plan, lead_explained(plan), "diagnosis")
    return HELD if any(c.code == "lead-measured" for c in plan.held) else OK


def _draw(name: str, plan: Plan, drawing: Drawing | None, section: str) -> None:
    """Write a drawing in its frame. Raises Faults where the plan has nothing to draw or the file cannot be written."""
    from stringline.book.write import alone_svg
    from stringline.files import write_atomic

    path = Path(name)
    need_folder(path.parent)
    if drawing is None:
        needs = next((n for n in plan.needs if n.section == section), None)
        wanted = (
            "; ".join(Voice(plan.job.unit).all(needs.missing))
            if needs is not None and needs.missing
            else f"what the {section} needs"
        )
        raise Faults(name, [Fault("no-drawing", section, "there is nothing to draw yet", f"the plan needs {wanted}")])
    try:
        write_atomic(path, alone_svg(plan, drawing, date=today()))
    except OSError as why:
        raise Faults(
            name, [Fault("not-written", name, f"it cannot be written ({why.strerror})", "name another file")]
        ) from None
    print(f"Wrote {path}", file=sys.stderr)


_LEAD_CHECKS = {
    "roll-clearance",
    "reel-freeboard",
    "rope-strength",
    "motor-torque",
    "drum-sag",
    "slider-jam",
    "lead-expected",
    "lead-measured",
}
