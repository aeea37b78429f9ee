"""The verb that begins a job: a commented file to fill in, empty or from the water's edge in a drawing."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from stringline.cli.inputs import HELP, OK, need_folder, on_the_command_line, read_bytes
from stringline.faults import Fault, Faults
from stringline.files import write_atomic
from stringline.finding import Code, finding, nested
from stringline.job.from_outline import DRAWN_SIGMA, begun_from
from stringline.lengths import LengthError, Unit, parse
from stringline.sheets.job_file import begun_job_text, new_job_text

if TYPE_CHECKING:
    from stringline.job.dxf_outline import DrawnOutline


def new_verb(args: argparse.Namespace) -> int:
    """Write a commented job file; an existing file is never overwritten."""
    path = Path(args.file)
    if path.exists():
        raise Faults(str(path), [Fault("file-exists", str(path), "cli.file-is-there", "cli.choose-another-name")])
    need_folder(path.parent)
    name = args.name or path.stem.replace("-", " ").title()
    if args.from_dxf is not None:
        return _begin_from_drawing(args, path, name)
    write_atomic(path, new_job_text(name, args.unit))
    print(HELP.say(finding("cli.wrote-job", file=str(path))))
    return OK


def _begin_from_drawing(args: argparse.Namespace, path: Path, name: str) -> int:
    from stringline.job.dxf_outline import read_outline

    sigma = DRAWN_SIGMA if args.sigma is None else args.sigma
    try:
        positive = parse(sigma, Unit(args.unit)).m > 0.0
    except LengthError as error:
        raise on_the_command_line(Fault("bad-length", "--sigma", error.wrong, error.right)) from None
    if not positive:
        raise on_the_command_line(Fault("sigma", "--sigma", "cli.no-drawing-is-that-good", "cli.say-how-far"))
    drawing = Path(args.from_dxf)
    outline = read_outline(read_bytes(args.from_dxf), args.from_dxf, layer=args.layer, unit=args.drawn_in)
    write_atomic(path, begun_job_text(begun_from(outline), name, args.unit, drawing.name, sigma))
    values = {"file": str(path), "points": len(outline.vertices), "layer": outline.layer, "sigma": sigma}
    print(HELP.say(finding("cli.wrote-outline", shape=nested(_shape(outline)), **values)))
    if outline.passed_over:
        print(HELP.say(finding("cli.passed-over", kinds=outline.passed_over)))
    print(HELP.say(finding("cli.drawing-no-measurement", file=str(path))))
    return OK


def _shape(outline: DrawnOutline) -> Code:
    """What the drawing has for the water's edge."""
    arcs = sum(1 for v in outline.vertices if v[2] != 0.0)
    if outline.smooth:
        return "cli.shape-curve"
    return finding("cli.shape-bowed", n=arcs) if arcs else "cli.shape-straight"
