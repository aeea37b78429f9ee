"""What a cut card says: steps, cautions, marks and segments, materials."""

WORDS: dict[str, str | tuple[str, str]] = {
    # cautions, each printed where the step is that can hurt someone
    "cards.saw": "Saw: clamp the piece, keep both hands clear of the blade, wear eye and ear protection.",
    "cards.drill": (
        "Before drilling, know what lies behind: live conduit, bonding wire, water or gas line. "
        "If unsure, do not drill."
    ),
    "cards.pinch": "Pinch point: keep fingers out from between drum, hem and track while anyone can turn it.",
    "cards.power": (
        "Electricity isolated and locked off at the disconnect, key in your pocket, before hands go into the housing."
    ),
    "cards.entrapment": (
        "Nobody in or under the water's edge while the cover moves. A person under a closed cover drowns."
    ),
    "cards.rope": "A loaded rope whips when it lets go. Take the load off before cutting; stand out of its line.",
    "cards.lift": "Long and heavy: two people or a lift. Do not walk on a drum or on a lid that is not fixed.",
    # materials
    "cards.of-edge-tube": "leading-edge tube",
    "cards.of-drum-tube": "drum tube",
    "cards.of-lid-panel": "lid panel",
    "cards.of-fascia": "fascia",
    "cards.of-filler": "filler strip",
    "cards.of-wedge": "wedge",
    "cards.of-sheet": "cover sheet",
    "cards.of-track": "{profile}",
    "cards.of-rope": "rope, {diameter_m:amount}",
    # marks along a piece
    "cards.left-end": "Left end",
    "cards.right-end": "Right end",
    "cards.screw-left": "Screw, left end, at mid adjustment",
    "cards.screw-right": "Screw, right end, at mid adjustment",
    "cards.housing-end": "Housing end",
    "cards.channel-begins": "Channel begins",
    "cards.pulley-end": "Pulley end",
    "cards.joint": "Joint {number}",
    "cards.pin": "Pin {number}",
    "cards.pin-moved": "Pin {number}, moved clear of a joint",
    "cards.pin-moved-short": "moved",
    "cards.screw-short": "Screw",
    "cards.cut-end-housing": "Cut end, in the housing",
    "cards.factory-end-joint": "Factory end, at the joint",
    "cards.factory-end-pulley": "Factory end, at the pulley",
    "cards.reel": "Reel",
    "cards.cut-point": "Cut point, leading-edge end",
    "cards.towards-housing": "Towards the housing",
    "cards.against-wedges": "Against the whole wedges",
    # segments
    "cards.segment": "{mark} {number}",
    "cards.segment-last": "{mark} last piece",
    "cards.segment-last-shared": "{mark} last piece; same stick as {mate}",
    "cards.segment-whole": "{mark} whole stick {number}",
    # steps: leading edge
    "cards.edge-cut": "Cut the tube to {length_m}. File both ends smooth.",
    "cards.edge-ends": "Slide an adjustable end into each end of the tube. Set both to mid adjustment.",
    "cards.edge-set": (
        "Set the edge in the tracks at the narrowest place. Adjust both ends alike until the sliders run free."
    ),
    "cards.edge-mark-screw": "Mark a screw {from_end_m:amount} from the inner end of each adjustable end.",
    "cards.edge-pilot": (
        "Drill a pilot of {drill_m:drill} through the leading edge alone, not through the adjustable end."
    ),
    "cards.edge-screw": "Drive the screw.",
    "cards.edge-pivot": "Tighten the pivot hardware snug, then back it off slightly.",
    "cards.edge-lead-in": "Lead about {lead_in_m:amount} of hem into each track before you lace.",
    "cards.edge-lace": "Lace the front hem to the leading edge.",
    # steps: drum
    "cards.drum-cut": "Cut the drum tube to {length_m}, both ends square.",
    "cards.drum-file": "File the ends smooth, inside and out.",
    "cards.drum-isolate": "Isolate and lock the power before the drum goes into the housing.",
    "cards.drum-lift": ("Lift it in with two people or a lift. Set it level, middle on the middle of the gauge."),
    # steps: lid
    "cards.lid-isolate": "Isolate and lock the power before the lid is off.",
    "cards.lid-lay": (
        "Lay {n} whole panel from the left, {gap_m:amount} apart.",
        "Lay {n} whole panels from the left, {gap_m:amount} apart.",
    ),
    "cards.lid-measure": "Measure the gap that is left; it should be near {length_m}.",
    "cards.lid-cut": "Cut the last panel to {length_m}.",
    "cards.lid-fix": "Fix every panel before anyone steps on it.",
    # steps: fascia
    "cards.fascia-ends-cut": "Cut two end pieces to {length_m}.",
    "cards.fascia-ends-fix": "Fix one at each end of the housing first.",
    "cards.fascia-measure": "Measure the clear distance between the fixed end pieces.",
    "cards.fascia-near": "It should be near {length_m}. Where it is not, cut to what you measure.",
    "cards.fascia-cut": "Cut the centre piece to {length_m}.",
    "cards.fascia-make-up": "Make the centre piece up to {length_m} from {count} lengths.",
    "cards.fascia-set": "Set it between the end pieces without forcing them apart.",
    # steps: tracks
    "cards.track-start": "Start the {side:@common.side} track at the pulley, factory end first.",
    "cards.track-spacer": "Leave {spacer_m:amount} at the far end for the pulley spacer.",
    "cards.track-whole": "Lay whole stick {number}: {length_m}.",
    "cards.track-last": "Lay the last piece: {length_m}, cut end towards the housing.",
    "cards.track-splice": ("Join factory end to factory end with splices. Never cut at a joint or at the pulley."),
    "cards.track-housing": "See that {length_m:amount} of track stands past its channel in the housing.",
    "cards.track-drill-channel": (
        "Drill each pin hole, {hole_m:amount}, through channel top, track and channel bottom."
    ),
    "cards.track-drill-deck": "Drill each pin hole, {hole_m:amount}, through the track into the deck.",
    "cards.track-pins": "Drive {count} locking pins.",
    # steps: a track's last piece
    "cards.last-from-rack": "Take the {stick_m} piece from the rack.",
    "cards.last-from-stick": "Take one {stick_m} stick.",
    "cards.last-mark": "Mark it {mark} last piece, and mark which end is the factory end.",
    "cards.last-whole": "Use it whole: no cut.",
    "cards.last-measure": "Measure {length_m} from the factory end.",
    "cards.last-square": "Square the line across. Check the length a second time, from the other side.",
    "cards.last-cut": "Cut on the far side of the line, so that the blade eats the offcut.",
    "cards.last-file": "File the cut end smooth inside and out, where the hem runs.",
    "cards.last-lay": "Lay it with the cut end in the housing.",
    "cards.last-mate": "Keep the other end: its factory end makes the last piece of {mate}.",
    "cards.last-offcut": "Write {left_m} and the track's name on the offcut; it goes back on the rack.",
    # steps: ropes
    "cards.rope-fix": "Fix the {side:@common.side} rope on its reel with the turns that stay on.",
    "cards.rope-wind": "Wind {length_m} more on, turn beside turn: the reel gives it out again while the cover opens.",
    "cards.rope-run": ("Run it out along the return channel, round the far-end pulley and back along the track."),
    "cards.rope-slack": "Pull out the slack by hand. Pull both ropes alike.",
    "cards.rope-mark": "Mark both ropes at one same point, {length_m} in front of the housing.",
    "cards.rope-cut": "Cut. From reel to cut the rope is {length_m}.",
    "cards.rope-seal": "Seal the end so that it does not fray.",
    "cards.rope-compare": ("Lay left and right side by side as a check: with equal channels they are equally long."),
    # steps: cover
    "cards.sheet-width": "Order {length_m} over the hems.",
    "cards.sheet-length": "Order {length_m}; {on_drum_m} of it stays on the drum.",
    "cards.sheet-check": (
        "Lay the cover out flat and dry when it comes. Check width and length before it goes on the drum."
    ),
    # steps: filler strip
    "cards.filler-take": (
        "Take {n} filler stick for the {side:@common.side} side.",
        "Take {n} filler sticks for the {side:@common.side} side.",
    ),
    "cards.filler-cut": "Cut one {stick_m} stick to {length_m}.",
    "cards.filler-butt": "Start at the far end with a whole stick; butt each to the next.",
    "cards.filler-lay": "Lay it from the far end.",
    "cards.filler-press": "Press the strip in by hand. Do not strike the track.",
    "cards.filler-short": "See that it ends {gap_m:amount} short.",
    # steps: wedges
    "cards.wedge-start": "Start at the far end of the channel.",
    "cards.wedge-tap": "Tap each wedge home with a block; do not strike the track.",
    "cards.wedge-spaced": "Set {count} whole wedges, {spacing_m} from the start of one to the start of the next.",
    "cards.wedge-row": "Drive {count} whole wedges end to end.",
    "cards.wedge-row-uncut": "Drive {count} whole wedges end to end. The last one needs no cut.",
    "cards.wedge-cut": "Cut the last wedge to {length_m}.",
    "cards.wedge-drive": "Drive it. It stops {short_m:amount} short of the channel's end at the housing.",
}
