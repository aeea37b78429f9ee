"""Which stick each part of the tracks comes from: whole ones, those opened for last pieces, and the rack."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from stringline.cutting.along import SIDES, tracks
from stringline.cutting.basis import Given
from stringline.finding import finding
from stringline.form.result import Fit
from stringline.job.model import Job
from stringline.layout.result import Layout
from stringline.nesting.diagram import Strip, track_strip
from stringline.nesting.grain import to_m
from stringline.system.model import System


@dataclass(frozen=True)
class Sticks:
    """Sticks that are laid whole, by length and side; and strips that are cut. Lengths in metres.

    ``back_m`` are the offcuts that go back on the rack: those with a factory end that are long enough to be used.
    """

    whole: tuple[tuple[float, str, int], ...]
    strips: tuple[Strip, ...]
    back_m: tuple[float, ...]
    profile: str


def sticks_of(job: Job, system: System, layout: Layout, fit: Fit | None) -> Sticks:
    """The sticks of one job's tracks, as its cut list takes them."""
    plan = tracks(Given(job, system, layout, fit)).plan
    called = {f"track-{side}": finding("cutting.track-last", side=side) for side in SIDES}
    whole = Counter((w, r.run.key.removeprefix("track-")) for r in plan.runs for w in r.variant.wholes)
    strips = tuple(track_strip(o, system.track.min_last_piece_m, called) for o in plan.opened)
    back = tuple(s.length_m for strip in strips for s in strip.spans if s.kind == "offcut")
    laid = tuple((to_m(w), side, n) for (w, side), n in sorted(whole.items(), key=lambda x: (x[0][1], -x[0][0])))
    return Sticks(laid, strips, back, system.track.name)
