"""Verbs on the moving cover: the lead to expect, and why it is crooked."""

from __future__ import annotations

import argparse

from stringline.cli.inputs import HELD, OK, plan_of


def lead_verb(args: argparse.Namespace) -> int:
    """Print how the cover rolls and pulls and the lead to expect."""
    from stringline.report import json as as_json
    from stringline.report.running_text import lead_text

    plan = plan_of(args.job)
    if args.json:
        whole = as_json.plan_json(plan)
        wanted = ("schema", "job", "held", "mechanics", "lead")
        print(as_json.dumps({key: whole[key] for key in wanted}))
    else:
        print(lead_text(plan))
    return HELD if any(c.code in _LEAD_CHECKS for c in plan.held) else OK


def diagnose_verb(args: argparse.Namespace) -> int:
    """Print why the cover runs crooked."""
    from stringline.report import json as as_json
    from stringline.report.running_text import diagnosis_text

    plan = plan_of(args.job)
    if args.json:
        whole = as_json.plan_json(plan)
        print(as_json.dumps({key: whole[key] for key in ("schema", "job", "held", "diagnosis")}))
    else:
        print(diagnosis_text(plan))
    return HELD if any(c.code == "lead-measured" for c in plan.held) else OK


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
