"""Words of the cards that a crew fills in: after the pour, and while the cover is run in."""

WORDS: dict[str, str | tuple[str, str]] = {
    "fill.station": "Station",
    "fill.reading": "Reading",
    "fill.expected": "Expected",
    "fill.last": "Last reading",
    "fill.measured": "Measured",
    "fill.by": "By",
    "fill.done-by": "Done by",
    "fill.date": "Date",
    # after the pour
    "fill.fit-out.title": "Fit-out card",
    "fill.fit-out.gauge": "Gauge between the tracks",
    "fill.fit-out.gauge-allowed": "Expected {gauge_m}, allowed ± {allowed}.",
    "fill.fit-out.gauge-how": ("Station 0 is the housing's face. Tape square across, at the same pull each time."),
    "fill.fit-out.gauge-measured": "Gauge measured",
    "fill.fit-out.off-string-left": "Off string, left",
    "fill.fit-out.off-string-right": "Off string, right",
    "fill.fit-out.off-string": (
        "Off string: each channel's offset from a string along it, + to the right, looking over the water."
    ),
    "fill.fit-out.readings": "Channels, diagonals, housing",
    "fill.fit-out.channel-left": "Channel, left: housing face to far end",
    "fill.fit-out.channel-right": "Channel, right: housing face to far end",
    "fill.fit-out.diagonal-from-left": "Diagonal, housing left to far right",
    "fill.fit-out.diagonal-from-right": "Diagonal, housing right to far left",
    "fill.fit-out.housing": "Housing, inside length",
    "fill.fit-out.fascia": "Fascia, clear between its end pieces",
    "fill.fit-out.lid": "Lid opening",
    "fill.fit-out.order-of-work": "Order of work",
    "fill.fit-out.step-swept": ("Channels swept, dry and clear from end to end; nothing stands proud of their walls."),
    "fill.fit-out.step-string": (
        "A string pulled along each channel; readings above taken, written down and read back."
    ),
    "fill.fit-out.step-enter": ("Readings entered and the book printed again: every cut card now says AS-BUILT."),
    "fill.fit-out.step-tracks": (
        "Tracks in from the far end, factory ends tight at each joint; each runs {into_m:amount} past its channel "
        "into the housing."
    ),
    "fill.fit-out.step-wedges": "Wedges driven; the last one stops {short_m:amount} short of the channel's end.",
    "fill.fit-out.step-pins": (
        "Locking pins: one {hole_m:drill} hole through channel top, track and channel bottom, clear of every joint."
    ),
    "fill.fit-out.step-ropes": (
        "Ropes through tracks, round the far-end pulleys and back; nothing twisted, nothing crossed."
    ),
    "fill.fit-out.step-hem": "About {hem_m:amount} of hem led into each track before the leading edge is laced.",
    "fill.fit-out.step-ends": (
        "Adjustable ends screwed {screw_m:amount} from their inner ends, after a {pilot_m:drill} pilot through the "
        "leading edge alone."
    ),
    "fill.fit-out.step-cut-ropes": (
        "Both ropes cut at one and the same point, {low_m} to {high_m} in front of the housing."
    ),
    "fill.fit-out.step-pivots": "Pivot hardware tightened snug, then backed off slightly so that it turns.",
    # while it is run in
    "fill.run-in.title": "Run-in card",
    "fill.run-in.before": "Before and while it moves",
    "fill.run-in.step-water": "Water looked over, end to end: nobody in it, nothing afloat, barrier up.",
    "fill.run-in.step-control": "One person holds the control, sees all of the water, and does nothing else.",
    "fill.run-in.step-closing": (
        "Closing: stop at each station below, measure both sliders from the housing, write down the difference."
    ),
    "fill.run-in.step-opening": "Opening: the same, at the same stations.",
    "fill.run-in.step-current": (
        "Current read at each station while moving, where a licensed electrician has fitted the means."
    ),
    "fill.run-in.step-enter": ("Readings entered under [run]; the cause and the cure read before anything is turned."),
    "fill.run-in.leads": "Leads and current",
    "fill.run-in.how": (
        "Lead is + where the {drive:@common.side} (drive) side is ahead, − where it is behind. Allowed: ± {allowed}. "
        "The motor's full-load current is {full_a} in the catalogue; its nameplate decides."
    ),
    "fill.run-in.closing": "Closing lead",
    "fill.run-in.opening": "Opening lead",
    "fill.run-in.closing-expected": "Closing, expected",
    "fill.run-in.opening-expected": "Opening, expected",
    "fill.run-in.current": "Current",
    "fill.run-in.current-read": "Read",
    "fill.run-in.current-closing": "Current, closing",
    "fill.run-in.current-opening": "Current, opening",
    "fill.run-in.what-was-seen": "What was seen",
    "fill.run-in.expected": ("Expected: 95 runs in 100 fall between the two. Current: expected closing / opening."),
    "fill.run-in.taken": "Taken so far",
    "fill.run-in.mark": (
        "Mark each lead where it belongs; outside the hatching, or beyond the limit, stop and find out why"
    ),
    "fill.run-in.seen": "Seen so far",
    "fill.run-in.held-by": "Control held by",
    "fill.run-in.taken-by": "Leads taken by",
    "fill.run-in.date-water": "Date and water level",
}
