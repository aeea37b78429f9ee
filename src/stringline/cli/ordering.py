"""Verbs on the order: what to order and whether to, that it went out, and what the pour changed."""

from __future__ import annotations

import argparse
import datetime
from pathlib import Path
from typing import Any

from stringline.as_json import write as as_json
from stringline.cli.inputs import HELD, OK, needed, on_the_command_line, plan_of, today
from stringline.faults import Fault, Faults
from stringline.files import write_atomic
from stringline.finding import finding
from stringline.job.edit_order import place_order
from stringline.judging import Stage
from stringline.ordering.placed import record
from stringline.ordering.result import Order
from stringline.plan.checking import holding
from stringline.terminal.order_text import difference_text, order_text


def order_verb(args: argparse.Namespace) -> int:
    """Print what to order and whether to; with ``--place`` write into the job that it went out."""
    _sensible(args)
    plan = plan_of(args.job)
    held = holding(plan, Stage.ORDER)  # whatever stage the job says it is at
    made = record(plan.order, plan.job, _date(args)) if isinstance(plan.order, Order) else None
    if args.place:
        if made is None:
            right = needed(plan) or "cli.finish-the-layout"
            raise Faults(args.job, [Fault("no-order", "order", "cli.nothing-to-order", right)], plan.job.unit)
        if not held or args.anyway:
            _write(args.job, made, again=args.again)
    written = bool(args.place and (not held or args.anyway))
    if args.json:
        found = as_json.parts_json(plan, "schema", "job", "order", "parts", "ready", "placed", "difference")
        print(as_json.dumps({**found, "held": [c.code for c in held], "record": made, "written": written}))
    else:
        print(order_text(plan, made, args.job, asked=args.place, written=written))
    return HELD if held else OK


def difference_verb(args: argparse.Namespace) -> int:
    """Print what was designed, ordered and built, line by line."""
    plan = plan_of(args.job)
    held = holding(plan, Stage.SERVICE, of=("ordered",))
    if args.json:
        found = as_json.parts_json(plan, "schema", "job", "placed", "difference")
        print(as_json.dumps({**found, "held": [c.code for c in held]}))
    else:
        print(difference_text(plan))
    return HELD if held else OK


def _sensible(args: argparse.Namespace) -> None:
    faults = []
    if args.place and args.job == "-":
        faults.append(Fault("no-file", "order", "cli.order-into-standard-input", "cli.name-the-job-or-paste"))
    if args.date is not None:
        try:
            datetime.date.fromisoformat(args.date)
        except ValueError:
            faults.append(Fault("out-of-range", "date", finding("cli.no-date", text=args.date), "cli.write-date"))
    if faults:
        raise on_the_command_line(*faults)


def _date(args: argparse.Namespace) -> str:
    return args.date or today().isoformat()


def _write(file: str, made: dict[str, Any], *, again: bool) -> None:
    path = Path(file)
    write_atomic(path, place_order(path.read_bytes().decode("utf-8"), made, again=again, document=file))
