"""What a check asks, what follows if it is ignored and what to do; what it says of one case beyond that."""

WORDS: dict[str, str | tuple[str, str]] = {
    "check.survey-misread.title": "No reading is contradicted by the others",
    "check.survey-misread.consequence": (
        "A misread tape moves points by as much as the slip; whatever is ordered from it does not fit."
    ),
    "check.survey-misread.action": (
        "Re-tape the line named on the survey sheet, and write the new reading beside the old one."
    ),
    "check.survey-taped.title": "The pool has been taped",
    "check.survey-taped.consequence": "Nothing is known of the pool but a sketch.",
    "check.survey-taped.action": "Set the baseline and pull the lines of the taping plan, in their order.",
    "check.survey-agreement.title": "The readings agree as closely as their tapes allow",
    "check.survey-agreement.consequence": (
        "The stated uncertainty is too small, and every verdict that leans on it is too sure."
    ),
    "check.survey-agreement.action": (
        "Look for a reading that was misread, a point that moved, or a worse tape than stated."
    ),
    "check.survey-controlled.title": "Every reading is checked by others",
    "check.survey-controlled.consequence": "A slip in an unchecked reading would go unseen into the order.",
    "check.survey-controlled.action": "Take the next tapes that the survey sheet lists.",
    "check.survey-precision.title": "Every point is known closely enough",
    "check.survey-precision.consequence": (
        "The cover and the leading edge are made to a width that the survey does not pin down."
    ),
    "check.survey-precision.action": "Take the next tapes that the survey sheet lists.",
    "check.layout-width.title": "The cover is no wider than the catalogue allows",
    "check.layout-width.consequence": "A drum longer than it was made for sags, and the cover rolls unevenly.",
    "check.layout-width.action": "Turn the cover, cut the margins, or choose hardware made for the width.",
    "check.layout-length.title": "The travel is no longer than the catalogue allows",
    "check.layout-length.consequence": "The rolled cover, or the rope on its reels, outgrows the housing.",
    "check.layout-length.action": (
        "Put the housing at the other end pair, cut the end margin, or choose hardware made for the length."
    ),
    "check.layout-overlap.title": "The cover reaches past the water's edge on both sides",
    "check.layout-overlap.consequence": "A gap beside the cover is a way into the water.",
    "check.layout-overlap.action": "Widen the side margin.",
    "check.layout-fits.title": "The cover fits between what stands around the water",
    "check.layout-fits.consequence": "There is no cover to order for this pool as it stands.",
    "check.layout-fits.action": "Choose another end, smaller margins, or have what stands in the way moved.",
    "check.floor-drains.title": "The housing's floor falls to its drain",
    "check.floor-drains.consequence": "Water stands in the housing, around the drum's bearings and the motor.",
    "check.floor-drains.action": "Lay a screed that falls to the drain, and read the rod again.",
    "check.layout-clear.title": "Nothing stands in the way of the cover's parts",
    "check.layout-clear.consequence": (
        "Track, housing or leading edge meets an obstacle that nobody can move after the pour."
    ),
    "check.layout-clear.action": "Move the part, or have the obstacle moved, before the deck is poured.",
    "check.fit-straight-left.title": "The left track is straight",
    "check.fit-straight-left.consequence": "The slider binds where the track bends.",
    "check.fit-straight-left.action": "Shim, wedge or re-set the channel where the drawing marks it.",
    "check.fit-straight-right.title": "The right track is straight",
    "check.fit-straight-right.consequence": "The slider binds where the track bends.",
    "check.fit-straight-right.action": "Shim, wedge or re-set the channel where the drawing marks it.",
    "check.fit-parallel.title": "The tracks are parallel",
    "check.fit-parallel.consequence": "The cover pulls out of one track, or binds between both.",
    "check.fit-parallel.action": "Find the track that leads away from the mean line and bring it back.",
    "check.fit-measured.title": "The gauge was measured after the pour",
    "check.fit-measured.consequence": "Tracks, leading edge and drum would be cut to a pool that nobody has measured.",
    "check.fit-measured.action": "Measure the gauge at a handful of stations and write it under [as_built].",
    "check.fit-gauge.title": "The gauge holds along the whole track",
    "check.fit-gauge.consequence": "Too wide pulls the hems out of the tracks; too narrow binds the leading edge.",
    "check.fit-gauge.action": "Re-set the track at the station that is farthest out.",
    "check.fit-square.title": "The housing is square to the tracks",
    "check.fit-square.consequence": "The cover rolls on at an angle and runs crooked over its whole travel.",
    "check.fit-square.action": "Move one end of the drum, not the tracks, until the run-out is inside the limit.",
    "check.fit-diagonals.title": "The two diagonals agree",
    "check.fit-diagonals.consequence": "The tracks start out of step and the leading edge cannot run square.",
    "check.fit-diagonals.action": "Measure both diagonals again, then square the housing.",
    "check.cut-last-piece.title": "No track run ends in too short a piece",
    "check.cut-last-piece.consequence": "A short last piece cannot be held by its pins and tips at the housing.",
    "check.cut-last-piece.action": "Choose another mix of stick lengths.",
    "check.cut-rope.title": "Both ropes are cut at one point within reach of the housing",
    "check.cut-rope.consequence": "Ropes cut at different points start unequal, and the leading edge starts crooked.",
    "check.cut-rope.action": "Choose one point inside the range and mark both ropes there.",
    "check.order-width.title": "The built gauge is within what the ordered cover can take up",
    "check.order-width.consequence": "The cover is baggy between the tracks or pulls its hems out.",
    "check.order-width.action": "Do not load the cover; settle with the cover maker what can be altered.",
    "check.order-leading-edge.title": "The built gauge is within reach of the leading edge's adjustable ends",
    "check.order-leading-edge.consequence": "The leading edge cannot be set to the tracks.",
    "check.order-leading-edge.action": "Do not drill; order a leading edge for the built gauge or re-set the tracks.",
    "check.order-length.title": "The built travel is within what the ordered cover can take up",
    "check.order-length.consequence": "The cover does not reach the far end, or does not leave enough on the drum.",
    "check.order-length.action": "Do not load the cover; settle with the cover maker what can be altered.",
    "check.order-ready.title": "What is ordered is likely enough to fit what will be built",
    "check.order-ready.consequence": (
        "The cover and the leading edge are made once; one that does not fit is bought twice."
    ),
    "check.order-ready.action": "Take the reading that the order page names, or wait until after the pour and measure.",
    "check.order-changed.title": "The order that went out is still what the survey asks for",
    "check.order-changed.consequence": (
        "The suppliers make what they were told, and what they were told is no longer right."
    ),
    "check.order-changed.action": (
        "Tell every supplier in writing, by part and amount, and write the new order into the job."
    ),
    "check.roll-clearance.title": "The rolled-up cover clears its housing",
    "check.roll-clearance.consequence": "The roll rubs on the housing, wears the cover through and stalls the motor.",
    "check.roll-clearance.action": "Order a larger housing, or a thinner hem, before anything is poured.",
    "check.reel-freeboard.title": "The rope stays below the reel's flange with the cover closed",
    "check.reel-freeboard.consequence": "Rope climbs over the flange, falls off and jams or breaks.",
    "check.reel-freeboard.action": "Order a larger reel.",
    "check.rope-strength.title": "The rope carries its highest pull with the design factor asked for",
    "check.rope-strength.consequence": "The rope parts while the cover runs.",
    "check.rope-strength.action": "Order a stronger rope, or take away drag and guides.",
    "check.motor-torque.title": "The motor can give the torque that the run needs",
    "check.motor-torque.consequence": "The cover stalls part of the way.",
    "check.motor-torque.action": "Order a stronger motor or gearbox, or take away drag.",
    "check.drum-sag.title": "The drum bends no more than the catalogue allows",
    "check.drum-sag.consequence": "The cover rolls unevenly and its middle hangs.",
    "check.drum-sag.action": "Order a stiffer drum.",
    "check.slider-jam.title": "The sliders slide rather than stick",
    "check.slider-jam.consequence": (
        "The slider sticks in its track whatever the pull, and the leading edge swings round."
    ),
    "check.slider-jam.action": "Order sliders with a longer guide, or bring the rope nearer to the track's middle.",
    "check.lead-expected.title": "With usual tolerances the leading edge runs square enough",
    "check.lead-expected.consequence": "The leading edge runs crooked on many jobs built like this one.",
    "check.lead-expected.action": "Keep the tolerance that the lead page names more tightly.",
    "check.lead-measured.title": "The leading edge runs square enough, both ways",
    "check.lead-measured.consequence": "A crooked leading edge wears its tracks and ropes, and in the end binds.",
    "check.lead-measured.action": "Do what the diagnosis says first, run again, and measure again.",
    # What a check says of one case beyond its standing advice, and the figures it holds against a limit.
    "check.measure-closer": (
        "Measure it again and more closely before anything is changed: the limit lies within its uncertainty."
    ),
    "check.effort": "Most of it comes from the {tolerance}: {advice}.",
    "check.highest-lead": "Highest lead measured",
    "check.retape": "Re-tape {frm} to {to}: read {read_m}, the others expect {expected_m}{rivals}{would_tell}.",
    "check.rivals": "; it cannot be told from {rivals}",
    "check.would-tell": "; {would_tell}",
    "check.nothing-checks": "Tape one more line: nothing checks anything yet.",
    "check.contradiction-unplaced": (
        "The readings contradict each other, but not which of them is wrong: the notes say what would tell."
    ),
    "check.slip": "Slip in {frm} to {to}",
    "check.as-read": "as read",
    "check.expected": "expected from all the others",
    "check.squared-residuals": "Weighted sum of squared residuals",
    "check.residuals-over-sigma": "each residual over its σ, squared, added up",
    "check.freedom": "readings more than needed",
    "check.settled-once-retaped": "This is settled once the line named above is taped again.",
    "check.better-than-stated": (
        "The readings agree better than the stated tape would: the uncertainty shown is on the safe side."
    ),
    "check.line": "{frm} to {to}",
    "check.next": "Take next: {lines}.",
    "check.weakest": "Weakest redundancy, {line}",
    "check.half-axis": "Longest half-axis at {point}, two σ",
    "check.twice-half-axis": "twice the standard error ellipse's longer half-axis",
    "check.standard-half-axis": "standard half-axis",
    "check.waits-for-pour": "The order waits for the pour, as the job says: measure, and write [as_built].",
    "check.probability-unchecked": (
        "No reading checks another: the probability holds only if none was misread. Tape one more line."
    ),
    "check.contradiction-first": (
        "The readings contradict each other: settle which is wrong before anything is ordered."
    ),
    "check.order-unreadable": "No figure of the order can be read: write them in.",
    "check.order-moved-most": "{part:cap}: today's plan less the order",
    "check.as-today": "As today's plan would order",
    "check.as-ordered": "As ordered",
    "check.nothing-to-do": "Nothing to do.",
    "check.order-moved": "THE ORDER HAS CHANGED since it went out: {parts:;}.",
    "check.moved": "{part} {change_m:+amount}{tail}",
    "check.rope-left-over": " (what is left over is cut off)",
    "check.within-room": " (of the {room_m:amount} that {by})",
    "check.beyond-room": " (more than the {room_m:amount} that {by})",
    "check.by-hems": "the hems take up",
    "check.by-wraps": "the wraps on the drum take up",
    "check.by-ends": "the adjustable ends take up",
    "check.by-drum": "the drum's ends take up",
    "check.by-cut-point": "the common cut point takes up",
    "check.order-again": "Tell the suppliers today, in writing: order again {parts}.",
    "check.order-may-hold": (
        "Tell the suppliers while nothing is cut; if it is, the parts ordered can still take this up."
    ),
}
