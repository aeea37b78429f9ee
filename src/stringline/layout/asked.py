"""What a gauge, a travel and a channel ask of the parts: one rule each, to compare ends, to order and to cut by."""

from __future__ import annotations

from stringline.finding import Code, finding
from stringline.system.model import Drum, System, Track
from stringline.worked import Figure, Origin, Term


def track_run(label: Code, channel: Term, track: Track) -> Figure:
    """Length of one track: from its cut end in the housing to its factory end at the pulley."""
    terms = [
        channel,
        Term("layout.into-housing", track.into_housing_m, Origin.CATALOGUE, "track-into-housing"),
    ]
    if track.channels == 2:
        terms.append(Term("layout.less-pulley-spacer", -track.pulley_spacer_m, Origin.CATALOGUE, "pulley-spacer"))
    return Figure.sum(label, terms)


def drum_length(gauge: Term, drum: Drum) -> Figure:
    """Length of the drum, which lies between the tracks."""
    less = Term("layout.less-than-gauge", -drum.deduct_m, Origin.CATALOGUE, "catalogue")
    return Figure.sum("layout.drum", [gauge, less], source="gauge-at-housing")


def cover_width(system: System, *gauge: Term) -> Figure:
    """Width of the sheet: the gauge, in one term or more, and a hem on each side."""
    hem = system.fabric.hem_each_side_m
    hems = (Term(finding("layout.hem", side=side), hem, Origin.CATALOGUE, "catalogue") for side in ("left", "right"))
    return Figure.sum("layout.cover-width", [*gauge, *hems])


def cover_length(system: System, *travel: Term) -> Figure:
    """Length of the sheet: the travel, in one term or more, the way on to the drum, what stays there, the front hem."""
    fabric = system.fabric
    return Figure.sum(
        "layout.cover-length",
        [
            *travel,
            Term("layout.face-to-drum", system.housing.drum_behind_m, Origin.CATALOGUE, "catalogue"),
            Term("layout.stays-on-drum", fabric.on_drum_m, Origin.CATALOGUE, "catalogue"),
            Term("layout.front-hem", fabric.front_hem_m, Origin.CATALOGUE, "catalogue"),
        ],
    )
