"""Cuts and small parts: what figures, terms, pieces and parts are called, and what is noted. Cards have their own."""

WORDS: dict[str, str | tuple[str, str]] = {
    # which reading a piece is cut from
    "cutting.channel-as-built": "Channel, {side:@common.side}, as built",
    "cutting.gauge-as-built": "Gauge, as built",
    "cutting.housing-as-built": "Housing, inside, as built",
    "cutting.housing-inside": "Housing, inside length",
    "cutting.gauge-at-housing": "Gauge at the housing",
    "cutting.past-left": "Past the left track's centreline",
    "cutting.past-right": "Past the right track's centreline",
    "cutting.lid-opening-as-built": "Lid opening, as built",
    "cutting.fascia-clear-as-built": "Clear distance between the end pieces, as built",
    "cutting.fascia-clear": "Clear distance between the end pieces",
    "cutting.left-end-piece": "Left end piece",
    "cutting.right-end-piece": "Right end piece",
    "cutting.gauge-laid-out": "Gauge, from the layout",
    "cutting.smallest-gauge": "Smallest gauge, at {station_m} from the housing",
    "cutting.gauge-at": "Gauge, at {station_m} from the housing",
    "cutting.channel": "Channel, {side:@common.side}",
    # leading edge and drum
    "cutting.leading-edge": "Leading edge, tube",
    "cutting.left-reach": "Left end's reach, at mid adjustment",
    "cutting.right-reach": "Right end's reach, at mid adjustment",
    "cutting.gauge-varies": (
        "Leading edge: the gauge varies by {spread_m:amount} along the run, more than the adjustable ends' "
        "{room_m:amount} in all. Put the channel right before the tube is cut."
    ),
    "cutting.drum": "Drum",
    # lid and fascia
    "cutting.lid-whole": "Lid, whole panel",
    "cutting.lid-last": "Lid, last panel",
    "cutting.lid-total": "Lid, all panels",
    "cutting.overlap-left": "Overlap, left",
    "cutting.overlap-right": "Overlap, right",
    "cutting.whole-panels": ("{n} whole panel", "{n} whole panels"),
    "cutting.panel-gaps": ("{n} gap", "{n} gaps"),
    "cutting.fascia-end": "Fascia, end piece",
    "cutting.fascia-centre": "Fascia, centre piece",
    # tracks
    "cutting.track": "Track, {side:@common.side}",
    "cutting.track-last": "Track, {side:@common.side}, last piece",
    "cutting.track-run": "Track run, {side:@common.side}",
    "cutting.channel-far-end": "Channel, {side:@common.side}, housing face to far end",
    "cutting.last-piece": "Last piece, {side:@common.side}",
    "cutting.whole-stick": "Whole stick {number} from the pulley",
    "cutting.joints-close": (
        "Left and right joints come within {gap_m:amount} of each other; the catalogue asks for {stagger_m:amount}. "
        "No mix of its stick lengths keeps to it."
    ),
    "cutting.last-short": (
        "Track, {side:@common.side}: the last piece is {length_m}, under the catalogue's {least_m}. "
        "No mix of its stick lengths gives a longer one: ask for another."
    ),
    "cutting.pins-moved": (
        "Track, {side:@common.side}: 1 pin stands aside of a joint, at {places_m} from the track's housing end.",
        "Track, {side:@common.side}: {n} pins stand aside of a joint, at {places_m} from the track's housing end.",
    ),
    "cutting.on-deck": "The tracks lie on the deck: no channel, so no wedges and no filler strip.",
    "cutting.shortest-last": "Shortest last piece, {piece}",
    "cutting.run-less-wholes": "the run less its whole sticks",
    "cutting.one-last": "last piece",
    # ropes
    "cutting.rope": "Rope, {side:@common.side}",
    "cutting.rope-cut-point": "Cut point, in front of the housing",
    "cutting.rope-stays": "Turns that stay on the reel, up to the housing face",
    "cutting.rope-wound": "Wound on besides, for the way home from the cut point",
    "cutting.rope-out": "Out along the channel",
    "cutting.rope-pulley": "Half way round the pulley",
    "cutting.rope-back": "Back along the channel",
    "cutting.rope-spacer": "Pulley spacer, out and back",
    "cutting.rope-to-cut": "As far as the cut point",
    "cutting.rope-off-practice": (
        "Ropes: the cut point is {point_m} in front of the housing; practice is {low_m} to {high_m}."
    ),
    # cover sheet
    "cutting.cover-width": "Cover, width over the hems",
    "cutting.cover-length": "Cover, length with front hem",
    "cutting.half-smallest": "Half the smallest gauge, at {station_m} from the housing",
    "cutting.half-largest": "Half the largest gauge, at {station_m} from the housing",
    "cutting.channel-shorter": "Channel as built, the shorter side",
    "cutting.channel-laid-out": "Channel as laid out",
    "cutting.travel": "Travel of the leading edge",
    # filler strip and wedges
    "cutting.filler": "Filler strip, {side:@common.side}",
    "cutting.strip-no-length": "a strip needs a length and a stick length above zero",
    "cutting.end-gap": "End gap",
    "cutting.wedge": "Wedge, {side:@common.side}",
    "cutting.wedges": "Wedges, {side:@common.side}",
    "cutting.last-wedge": "Last wedge, {side:@common.side}",
    "cutting.wedge-stop": "Short of the channel's end",
    "cutting.whole-wedges": ("{n} whole wedge", "{n} whole wedges"),
    # small parts: the item, the figure that counts it, its rule and terms
    "cutting.part-pin": "Locking pin",
    "cutting.part-splice": "Splice",
    "cutting.part-screw": "Screw",
    "cutting.part-wedge": "Wedge",
    "cutting.part-filler": "Filler stick",
    "cutting.part-end": "Adjustable end with slider",
    "cutting.part-pulley": "Far-end pulley",
    "cutting.part-guide": "Guide at the housing",
    "cutting.count-pins": "Locking pins",
    "cutting.count-splices": "Splices",
    "cutting.count-screws": "Screws",
    "cutting.count-wedges": "Wedges",
    "cutting.count-filler": "Filler sticks",
    "cutting.count-ends": "Adjustable ends",
    "cutting.count-pulleys": "Far-end pulleys",
    "cutting.count-guides": "Guides",
    "cutting.rule-pins": (
        "pins evenly spaced between both ends of each channel, nowhere further apart than the catalogue says"
    ),
    "cutting.rule-splices": "joints on both sides times splices a joint",
    "cutting.rule-screws": "splices times screws a splice, and the screws of two adjustable ends",
    "cutting.rule-wedges": "whole wedges on both sides, and one more on each for the one that is cut",
    "cutting.rule-filler": "sticks on both sides",
    "cutting.rule-one-a-side": "one on each side",
    "cutting.pins-along": "Pins along the {side:@common.side} track",
    "cutting.spacing-most": "Spacing, at most",
    "cutting.joints": "Joints",
    "cutting.splices-each": "Splices a joint",
    "cutting.screws-each": "Screws a splice",
    "cutting.screws-end": "Screws an adjustable end",
    "cutting.whole-wedges-side": "Whole wedges, {side:@common.side}",
    "cutting.cut-wedges": "Cut wedges",
    "cutting.sticks-side": "Sticks, {side:@common.side}",
    "cutting.sides": "Sides",
    # several jobs together
    "cutting.run-of-job": "{job}: {run}",
    "cutting.mark-of-job": "{job}: {mark}",
    "cutting.whole-of-job": "{job}: {mark} whole",
    "cutting.end-of-job": "{job}: {mark} {side:@common.side}",
    "cutting.gave-way": "{runs:and}: {rules}. No mix of the stick lengths does better.",
    "cutting.gave-way-short": "a last piece is under the minimum",
    "cutting.gave-way-close": "left and right joints come closer than the stagger",
    "cutting.gave-way-pins": ("1 pin stands aside of a joint", "{n} pins stand aside of a joint"),
}
