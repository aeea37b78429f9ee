"""Every check by its code: what it asks, what follows if it is ignored, what to do, and the stage it holds.

The numbers come from the job and its catalogue; the words come from here, so that the documentation lists them all.
"""

from __future__ import annotations

from dataclasses import dataclass

from stringline.finding import Code
from stringline.judging import Check, Limit, Stage, Verdict
from stringline.worked import Figure


@dataclass(frozen=True, slots=True)
class Wording:
    """The fixed words of one check."""

    title: str
    stage: Stage
    consequence: str
    action: str
    holds: bool = True


CODES: dict[str, Wording] = {
    "survey-misread": Wording(
        "No reading is contradicted by the others",
        Stage.SURVEY,
        "A misread tape moves points by as much as the slip; whatever is ordered from it does not fit.",
        "Re-tape the line named on the survey sheet, and write the new reading beside the old one.",
    ),
    "survey-taped": Wording(
        "The pool has been taped",
        Stage.SURVEY,
        "Nothing is known of the pool but a sketch.",
        "Set the baseline and pull the lines of the taping plan, in their order.",
    ),
    "survey-agreement": Wording(
        "The readings agree as closely as their tapes allow",
        Stage.SURVEY,
        "The stated uncertainty is too small, and every verdict that leans on it is too sure.",
        "Look for a reading that was misread, a point that moved, or a worse tape than stated.",
    ),
    "survey-controlled": Wording(
        "Every reading is checked by others",
        Stage.ORDER,
        "A slip in an unchecked reading would go unseen into the order.",
        "Take the next tapes that the survey sheet lists.",
    ),
    "survey-precision": Wording(
        "Every point is known closely enough",
        Stage.ORDER,
        "The cover and the leading edge are made to a width that the survey does not pin down.",
        "Take the next tapes that the survey sheet lists.",
    ),
    "layout-width": Wording(
        "The cover is no wider than the catalogue allows",
        Stage.LAYOUT,
        "A drum longer than it was made for sags, and the cover rolls unevenly.",
        "Turn the cover, cut the margins, or choose hardware made for the width.",
    ),
    "layout-length": Wording(
        "The travel is no longer than the catalogue allows",
        Stage.LAYOUT,
        "The rolled cover, or the rope on its reels, outgrows the housing.",
        "Put the housing at the other end pair, cut the end margin, or choose hardware made for the length.",
    ),
    "layout-overlap": Wording(
        "The cover reaches past the water's edge on both sides",
        Stage.LAYOUT,
        "A gap beside the cover is a way into the water.",
        "Widen the side margin.",
    ),
    "layout-fits": Wording(
        "The cover fits between what stands around the water",
        Stage.LAYOUT,
        "There is no cover to order for this pool as it stands.",
        "Choose another end, smaller margins, or have what stands in the way moved.",
    ),
    "floor-drains": Wording(
        "The housing's floor falls to its drain",
        Stage.ROUGH_IN,
        "Water stands in the housing, around the drum's bearings and the motor.",
        "Lay a screed that falls to the drain, and read the rod again.",
    ),
    "layout-clear": Wording(
        "Nothing stands in the way of the cover's parts",
        Stage.LAYOUT,
        "Track, housing or leading edge meets an obstacle that nobody can move after the pour.",
        "Move the part, or have the obstacle moved, before the deck is poured.",
    ),
    "fit-straight-left": Wording(
        "The left track is straight",
        Stage.FIT_OUT,
        "The slider binds where the track bends.",
        "Shim, wedge or re-set the channel where the drawing marks it.",
    ),
    "fit-straight-right": Wording(
        "The right track is straight",
        Stage.FIT_OUT,
        "The slider binds where the track bends.",
        "Shim, wedge or re-set the channel where the drawing marks it.",
    ),
    "fit-parallel": Wording(
        "The tracks are parallel",
        Stage.FIT_OUT,
        "The cover pulls out of one track, or binds between both.",
        "Find the track that leads away from the mean line and bring it back.",
    ),
    "fit-measured": Wording(
        "The gauge was measured after the pour",
        Stage.FIT_OUT,
        "Tracks, leading edge and drum would be cut to a pool that nobody has measured.",
        "Measure the gauge at a handful of stations and write it under [as_built].",
    ),
    "fit-gauge": Wording(
        "The gauge holds along the whole track",
        Stage.FIT_OUT,
        "Too wide pulls the hems out of the tracks; too narrow binds the leading edge.",
        "Re-set the track at the station that is farthest out.",
    ),
    "fit-square": Wording(
        "The housing is square to the tracks",
        Stage.FIT_OUT,
        "The cover rolls on at an angle and runs crooked over its whole travel.",
        "Move one end of the drum, not the tracks, until the run-out is inside the limit.",
    ),
    "fit-diagonals": Wording(
        "The two diagonals agree",
        Stage.FIT_OUT,
        "The tracks start out of step and the leading edge cannot run square.",
        "Measure both diagonals again, then square the housing.",
    ),
    "cut-last-piece": Wording(
        "No track run ends in too short a piece",
        Stage.FIT_OUT,
        "A short last piece cannot be held by its pins and tips at the housing.",
        "Choose another mix of stick lengths.",
    ),
    "cut-rope": Wording(
        "Both ropes are cut at one point within reach of the housing",
        Stage.FIT_OUT,
        "Ropes cut at different points start unequal, and the leading edge starts crooked.",
        "Choose one point inside the range and mark both ropes there.",
    ),
    "order-width": Wording(
        "The built gauge is within what the ordered cover can take up",
        Stage.FIT_OUT,
        "The cover is baggy between the tracks or pulls its hems out.",
        "Do not load the cover; settle with the cover maker what can be altered.",
    ),
    "order-leading-edge": Wording(
        "The built gauge is within reach of the leading edge's adjustable ends",
        Stage.FIT_OUT,
        "The leading edge cannot be set to the tracks.",
        "Do not drill; order a leading edge for the built gauge or re-set the tracks.",
    ),
    "order-length": Wording(
        "The built travel is within what the ordered cover can take up",
        Stage.FIT_OUT,
        "The cover does not reach the far end, or does not leave enough on the drum.",
        "Do not load the cover; settle with the cover maker what can be altered.",
    ),
    "order-ready": Wording(
        "What is ordered is likely enough to fit what will be built",
        Stage.ORDER,
        "The cover and the leading edge are made once; one that does not fit is bought twice.",
        "Take the reading that the order page names, or wait until after the pour and measure.",
    ),
    "order-changed": Wording(
        "The order that went out is still what the survey asks for",
        Stage.ORDER,
        "The suppliers make what they were told, and what they were told is no longer right.",
        "Tell every supplier in writing, by part and amount, and write the new order into the job.",
    ),
    "roll-clearance": Wording(
        "The rolled-up cover clears its housing",
        Stage.ORDER,
        "The roll rubs on the housing, wears the cover through and stalls the motor.",
        "Order a larger housing, or a thinner hem, before anything is poured.",
    ),
    "reel-freeboard": Wording(
        "The rope stays below the reel's flange with the cover closed",
        Stage.ORDER,
        "Rope climbs over the flange, falls off and jams or breaks.",
        "Order a larger reel.",
    ),
    "rope-strength": Wording(
        "The rope carries its highest pull with the design factor asked for",
        Stage.ORDER,
        "The rope parts while the cover runs.",
        "Order a stronger rope, or take away drag and guides.",
    ),
    "motor-torque": Wording(
        "The motor can give the torque that the run needs",
        Stage.ORDER,
        "The cover stalls part of the way.",
        "Order a stronger motor or gearbox, or take away drag.",
    ),
    "drum-sag": Wording(
        "The drum bends no more than the catalogue allows",
        Stage.ORDER,
        "The cover rolls unevenly and its middle hangs.",
        "Order a stiffer drum.",
    ),
    "slider-jam": Wording(
        "The sliders slide rather than stick",
        Stage.ORDER,
        "The slider sticks in its track whatever the pull, and the leading edge swings round.",
        "Order sliders with a longer guide, or bring the rope nearer to the track's middle.",
    ),
    "lead-expected": Wording(
        "With usual tolerances the leading edge runs square enough",
        Stage.RUN_IN,
        "The leading edge runs crooked on many jobs built like this one.",
        "Keep the tolerance that the lead page names more tightly.",
        holds=False,
    ),
    "lead-measured": Wording(
        "The leading edge runs square enough, both ways",
        Stage.HANDOVER,
        "A crooked leading edge wears its tracks and ropes, and in the end binds.",
        "Do what the diagnosis says first, run again, and measure again.",
    ),
}


CLOSER = "Measure it again and more closely before anything is changed: the limit lies within its uncertainty. "


def check(
    code: str,
    verdict: Verdict,
    *,
    figure: Figure | None = None,
    limit: Limit | None = None,
    detail: Code = "",
    stage: Stage | None = None,
    holds: bool | None = None,
) -> Check:
    """Make a check from its code's wording; KeyError for a code that is not in :data:`CODES`.

    ``detail`` replaces the standing advice where the particular case allows a better one. Where only the uncertainty
    of a figure keeps it from a verdict, the first advice is to measure it more closely.
    """
    words = CODES[code]
    doubtful = verdict is Verdict.CANNOT_TELL and figure is not None and bool(figure.sigma)
    return Check(
        code=code,
        title=words.title,
        verdict=verdict,
        stage=words.stage if stage is None else stage,
        figure=figure,
        limit=limit,
        consequence=words.consequence,
        action=detail or (CLOSER + words.action if doubtful else words.action),
        holds=words.holds if holds is None else holds,
    )
