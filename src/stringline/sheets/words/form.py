"""Words of the tracks' form: straight, parallel, square, to gauge, what puts them right, and what parts take up."""

WORDS: dict[str, str | tuple[str, str]] = {
    # the water's edges, before the pour
    "form.free-of-water": (
        "Tracks in the deck or on it do not follow the water's edge: their form can be told only from readings "
        "taken after they are laid."
    ),
    "form.no-straight-edge": (
        "The water has no straight edge along the {side:@common.side} track, so its form says nothing there."
    ),
    "form.two-points": (
        "Two points along the {side:@common.side} edge ({points:and}) do not show a bow: survey one or more "
        "between them to know how straight it is."
    ),
    "form.edge-straight": "Straightness of the {side:@common.side} edge",
    "form.edge-straight-rule": "width of the narrowest strip that holds every point of the edge; {points} hold it",
    "form.strip": "strip through those points",
    "form.edges-parallel": "Parallelism of the two edges",
    "form.edges-parallel-rule": (
        "width of two equal strips of one direction, one along each edge, as narrow as can be; {points} hold it"
    ),
    "form.strips": "strips through those points",
    "form.edge-square": "Squareness of the housing's edge",
    "form.edge-square-rule": (
        "how far {right} lies ahead of a line from {left} square to the mean of the two edges, carried over the gauge"
    ),
    "form.gauge": "gauge",
    "form.run-out": "run-out",
    "form.diagonals-of-water": "Difference of the diagonals",
    "form.diagonal": "diagonal {frm}–{to}",
    "form.no-diagonals-housing": (
        "The two edges end at different stations at the housing end: no diagonals to compare."
    ),
    "form.no-diagonals-far": "The two edges end at different stations at the far end: no diagonals to compare.",
    "form.gauge-of-water": "Gauge that follows the water here",
    "form.water-across": "water, across",
    "form.margins": "margins and channel on both sides",
    "form.before-pour": (
        "This is the water's edge, before the pour: set the channels to a string and a gauge stick, not along it, and "
        "tell whoever pours where the edge is out."
    ),
    "form.to-measure": "Measure it once the channels stand, and write the readings under [as_built].",
    # the channels, as built
    "form.usual-sigma": "As-built readings are taken to have σ = {sigma_m:tolerance}: the job gives none.",
    "form.past-channel": (
        "The station {station_m} lies past the channels' far end: see whether it was written rightly."
    ),
    "form.too-few-offsets": (
        "One offset of the {side:@common.side} channel does not show a bow: measure three or more.",
        "{n} offsets of the {side:@common.side} channel do not show a bow: measure three or more.",
    ),
    "form.channel-straight": "Straightness of the {side:@common.side} channel",
    "form.channel-straight-rule": (
        "width of the narrowest strip that holds every offset; the string's own lie takes no part"
    ),
    "form.offset-at": "offset at station {station_m}",
    "form.left-taken-straight": ("Parallelism takes the left channel as straight: it has no offsets to say otherwise."),
    "form.channels-parallel": "Parallelism of the channels",
    "form.channels-parallel-rule": (
        "width of two equal strips with one common direction, one along each channel, as narrow as can be"
    ),
    "form.gauge-at": "gauge at station {station_m}",
    "form.channels-as-laid-out": ("Squareness takes both channels at the length laid out: neither was measured."),
    "form.housing-square": "Squareness of the housing",
    "form.housing-square-rule": (
        "(first diagonal² − second diagonal² − right channel² + left channel²) / (2 × both channels together)"
    ),
    "form.diagonal-from-left": "diagonal, housing left to far right",
    "form.diagonal-from-right": "diagonal, housing right to far left",
    "form.channel-left": "channel, left",
    "form.channel-right": "channel, right",
    "form.diagonals-as-built": "Difference of the diagonals",
    "form.gauge-as-built": "Gauge as built",
    "form.gauge-off": "Gauge against the layout",
    "form.gauge-here": "gauge here",
    "form.gauge-laid-out": "gauge as laid out",
    # putting them right
    "form.out.left-straight": "the left track's straightness",
    "form.out.right-straight": "the right track's straightness",
    "form.out.parallel": "parallelism",
    "form.out.gauge": "the gauge",
    "form.three-stations": ("Measure the gauge at three stations or more: from fewer no correction can be worked out."),
    "form.no-moving-does": (
        "No moving of the tracks alone keeps every limit with this σ of reading: measure again, closer."
    ),
    "form.not-square": (
        "The housing is not safely square: its {side:@common.side} end stands {by_m} too far ahead over the gauge. "
        "Turn the drum in its housing by that, or re-set the housing; moving the tracks cannot make up for it."
    ),
    "form.back-to-layout": "Back to the gauge that was laid out",
    "form.least-even-gauge": "To the even gauge that needs least moving",
    "form.move-track": "Move the {side:@common.side} track to the {to:@common.side}",
    "form.least-moves": (
        "the least sum of moves that keeps straightness, direction and gauge within their guarded limits"
    ),
    "form.reading-sigma": "σ of one as-built reading",
    "form.gauge-after": "Gauge after the correction",
    "form.even-change": "even change kept",
    "form.least-correction": "Least correction: {moves:;}.",
    "form.move": ("{side:@common.side} track at {station_m}: {by_m:small} to the {to:@common.side} ({means})"),
    "form.means.wedge": "wedge",
    "form.means.shim": "shim",
    "form.means.re-set": "re-set",
    # what parts take up
    "form.part.cover": "cover",
    "form.part.leading-edge": "leading edge",
    "form.part.drum": "drum",
    "form.cover-will-do": "The cover as ordered will do: its hems take up what the gauge differs.",
    "form.cover-will-not-do": "The cover as ordered will not do: order another cover, or move the tracks.",
    "form.edge-will-do": "The leading edge as ordered will do: its adjustable ends take up what the gauge differs.",
    "form.edge-will-not-do": (
        "The leading edge as ordered will not do: cut the tube anew if the gauge is smaller, order a longer one if it "
        "is larger, or move the tracks."
    ),
    "form.cannot-tell": (
        "Whether the {part} as ordered will do cannot be told from these readings: measure the gauge again."
    ),
    "form.drum-will-do": "The drum as ordered will do: centre it between the tracks at the housing.",
    "form.drum-too-tight": (
        "The drum as ordered leaves too little room at its ends: measure the gauge there again before it is cut."
    ),
    # the sheet of the tracks as built
    "form.sheet.title": "Tracks as built",
    "form.sheet.out": "Not safely within limits: {what}.",
    "form.sheet.tracks-keep": "Straight, parallel and to gauge within their limits; see the notes.",
    "form.sheet.as-is": "Ordered parts if nothing is moved",
    "form.sheet.way": "Way {number}: {title:low}",
    "form.sheet.comes-to": "{total_m:small} of moving in all; the gauge is then {gauge_m}.",
    "form.sheet.track": "Track",
    "form.sheet.station": "Station",
    "form.sheet.move": "Move it",
    "form.sheet.means": "By",
    "form.sheet.move-by": "{by_m:small} to the {to:@common.side}",
    "form.sheet.verdict": "Verdict",
    "form.sheet.part": "Part",
    "form.sheet.off": "Gauge is off",
    "form.sheet.takes-up": "It takes up",
    "form.sheet.so": "So",
    "form.sheet.notes": "Notes",
    "form.sheet.stations": (
        "Stations are from the housing; left and right as one stands at the housing and looks over the water. Between "
        "stations a track follows the string."
    ),
    "form.sheet.moved-by": "Moved by",
    "form.sheet.measured-by": "Measured again by",
    "form.sheet.date": "Date",
}
