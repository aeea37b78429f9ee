"""The cut list of a job, several jobs cut together, and stock for a list of pieces."""

from __future__ import annotations

import argparse

from stringline.as_json import write as as_json
from stringline.cli.inputs import HELD, OK, Progress, naming, on_the_command_line, plan_of, read_text, sensible_time
from stringline.faults import Fault
from stringline.job.lists import read_stock
from stringline.lengths import Unit
from stringline.nesting.listed import cut_listed
from stringline.terminal import plan_text as text
from stringline.terminal.cuts_text import stock_text


def cuts_verb(args: argparse.Namespace) -> int:
    """Print the cut list of a job, the plan of several cut together, or the stock for two plain lists."""
    if args.pieces or args.sticks:
        return _stock(args)
    if not args.job:
        raise on_the_command_line(Fault("no-job", "cuts", "cli.neither-job-nor-lists", "cli.name-job-or-lists"))
    if len(args.job) > 1 or args.rack is not None or args.rack_out is not None:
        from stringline.cli.together import cut_together

        return cut_together(args)
    plan = plan_of(args.job[0])
    if args.json:
        made = as_json.parts_json(plan, "schema", "cuts", "held")
        print(as_json.dumps({"schema": made["schema"], **made["cuts"], "held": made["held"]}))
    else:
        print(text.cuts_text(plan))
    return HELD if plan.held else OK


def _stock(args: argparse.Namespace) -> int:
    if args.job or args.rack or args.rack_out or not (args.pieces and args.sticks):
        raise on_the_command_line(Fault("two-lists", "cuts", "cli.both-lists", "cli.give-both-lists"))
    sensible_time(args.seconds)
    progress = Progress()
    with naming(f"{args.pieces}, {args.sticks}", Unit.MM):
        lists = read_stock(read_text(args.pieces), read_text(args.sticks), args.kerf)
        found = cut_listed(lists.pieces, lists.sticks, lists.kerf_m, seconds=args.seconds, progress=progress)
    progress.done()
    if args.json:
        print(as_json.dumps({"schema": as_json.SCHEMA, **as_json.stock_json(found)}))
    else:
        print(stock_text(found, Unit.MM))
    return OK
