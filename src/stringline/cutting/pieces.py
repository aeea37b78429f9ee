"""Every piece of a job, each with its working."""

from __future__ import annotations

from stringline.cutting.across import drum, fascia, leading_edge, lid
from stringline.cutting.along import SIDES, tracks
from stringline.cutting.basis import Given
from stringline.cutting.result import CutList
from stringline.cutting.ropes import ropes
from stringline.cutting.sheet import cover
from stringline.cutting.strips import filler
from stringline.cutting.wedges import wedges
from stringline.form.result import Fit
from stringline.job.model import Job
from stringline.layout.result import Layout
from stringline.system.model import System


def cut_list(job: Job, system: System, layout: Layout, fit: Fit | None = None) -> CutList:
    """All pieces of a job, in the order in which a crew comes to them.

    What is cut after the pour is cut from the as-built readings where there are any; the cover, which is made to
    measure, keeps the survey's figures. Raises ValueError where the catalogue's lengths leave nothing to cut.
    """
    given = Given(job, system, layout, fit)
    laid = tracks(given)
    sides = SIDES if given.in_channel else ()
    cords, rope_notes = ropes(given)
    edge, edge_notes = leading_edge(given)
    pieces = (
        *cover(given),
        *laid.pieces,
        *(wedges(given, side) for side in sides),
        *(filler(given, side) for side in sides),
        drum(given),
        *cords,
        edge,
        *fascia(given),
        *lid(given),
    )
    deck = () if given.in_channel else ("cutting.on-deck",)
    notes = (*laid.notes, *deck, *rope_notes, *edge_notes)
    return CutList(pieces, notes)
