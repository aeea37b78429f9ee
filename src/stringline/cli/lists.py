"""Verbs that list what the program knows: catalogues and sources."""

from __future__ import annotations

import argparse
from dataclasses import asdict
from pathlib import Path

from stringline.as_json import write as as_json
from stringline.cli.inputs import HELP, OK, on_the_command_line
from stringline.faults import Fault
from stringline.finding import finding
from stringline.sources import ALL
from stringline.system import read


def systems_verb(args: argparse.Namespace) -> int:
    """List the catalogues, show one, or print the template."""
    if args.template:
        print(read.template_text(), end="")
        return OK
    if args.system is None:
        rows = [read.load_system(key) for key in read.list_systems()]
        if args.json:
            listed = [{"key": s.key, "name": s.name, "invented": s.invented} for s in rows]
            print(as_json.dumps({"schema": as_json.SCHEMA, "systems": listed}))
        else:
            for s in rows:
                name = HELP.say(finding("cli.invented", name=s.name)) if s.invented else s.name
                print(f"{s.key:<20} {name}")
        return OK
    system = read.load_system(args.system, base_dir=Path.cwd())
    print(as_json.dumps({"schema": as_json.SCHEMA, **asdict(system)}))
    return OK


def sources_verb(args: argparse.Namespace) -> int:
    """List the sources, or show one."""
    if args.key is not None and args.key not in ALL:
        raise on_the_command_line(Fault("unknown-source", args.key, "cli.no-such-source", "cli.see-sources"))
    chosen = [s for key, s in sorted(ALL.items()) if args.key in (None, key)]
    if args.json:
        print(as_json.dumps({"schema": as_json.SCHEMA, "sources": [asdict(s) for s in chosen]}))
        return OK
    for s in chosen:
        print(f"{s.key:<24} [{s.standing.value}] {s.title}{', ' + s.where if s.where else ''}")
        if s.note:
            print(f"{'':<24} {s.note}")
    return OK
