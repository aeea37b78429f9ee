"""What a gauge, a travel and a channel ask of the parts: one rule each, to compare ends, to order and to cut by.

===== ==================================================================================================
part  length
===== ==================================================================================================
track channel + what it runs past it into the housing − the pulley spacer, where the rope has a channel
      of its own
drum  gauge at the housing − the catalogue's deduction
cover width: gauge + a hem on each side; length: travel + from the housing's face to the drum + what
      stays on the drum + the front hem
===== ==================================================================================================

All in metres. The catalogue's lengths are taken as exact, so a part is as sure as the gauge, travel or channel that it
follows: σ is the root sum of squares of the terms given.
"""

from __future__ import annotations

from stringline.finding import Code, finding
from stringline.system.model import Drum, System, Track
from stringline.worked import Figure, Origin, Term


def track_run(label: Code, channel: Term, track: Track) -> Figure:
    """Length of one track: from its cut end in the housing to its factory end at the pulley.

    ``channel`` runs from the housing's face to the channel's far end. Sources ``track-into-housing`` and
    ``pulley-spacer``, both practice.

    >>> from stringline.system.read import load_system
    >>> channel = Term("layout.of-channel", 12.0, Origin.MEASURED, sigma=0.003)
    >>> run = track_run("layout.track", channel, load_system("invented-18").track)  # + 1 in − 2 1/4 in
    >>> round(run.value, 5), run.sigma
    (11.96825, 0.003)
    """
    terms = [channel, Term("layout.into-housing", track.into_housing_m, Origin.CATALOGUE, "track-into-housing")]
    if track.channels == 2:
        terms.append(Term("layout.less-pulley-spacer", -track.pulley_spacer_m, Origin.CATALOGUE, "pulley-spacer"))
    return Figure.sum(label, terms)


def drum_length(gauge: Term, drum: Drum) -> Figure:
    """Length of the drum, which lies between the tracks at the housing. Source ``gauge-at-housing``, practice.

    >>> from stringline.system.read import load_system
    >>> gauge = Term("layout.of-gauge", 5.5, Origin.MEASURED, sigma=0.002)
    >>> round(drum_length(gauge, load_system("invented-18").drum).value, 4)  # − 4 in
    5.3984
    """
    less = Term("layout.less-than-gauge", -drum.deduct_m, Origin.CATALOGUE, "catalogue")
    return Figure.sum("layout.drum", [gauge, less], source="gauge-at-housing")


def cover_width(system: System, *gauge: Term) -> Figure:
    """Width of the sheet: the gauge, in one term or more, and a hem on each side.

    >>> from stringline.system.read import load_system
    >>> gauge = Term("layout.of-gauge", 5.5, Origin.MEASURED, sigma=0.002)
    >>> round(cover_width(load_system("invented-18"), gauge).value, 4)  # + 2 × 1 1/4 in
    5.5635
    """
    hem = system.fabric.hem_each_side_m
    hems = (Term(finding("layout.hem", side=side), hem, Origin.CATALOGUE, "catalogue") for side in ("left", "right"))
    return Figure.sum("layout.cover-width", [*gauge, *hems])


def cover_length(system: System, *travel: Term) -> Figure:
    """Length of the sheet: the travel, in one term or more, the way on to the drum, what stays there, the front hem.

    The drum stands in the middle of the housing, half its inside depth behind its face.

    >>> from stringline.system.read import load_system
    >>> travel = Term("layout.of-travel", 11.0, Origin.MEASURED)
    >>> round(cover_length(load_system("invented-18"), travel).value, 4)  # + 8 in + 48 in + 6 in
    12.5748
    """
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
