"""Words on the lead: what to expect, why a cover runs crooked, and what to do about it."""

WORDS: dict[str, str | tuple[str, str]] = {
    "lead.side.drive": "drive",
    "lead.side.idle": "idle",
    "lead.side.both": "both",
    # The causes.
    "lead.rope-too-long": "The {side:@lead.side}-side rope is too long",
    "lead.reel-stacks-soon": "The {side:@lead.side}-side reel stacks too soon",
    "lead.reel-winds-more": "The {side:@lead.side}-side reel winds more a turn",
    "lead.rope-stretches": "The {side:@lead.side}-side rope stretches more",
    "lead.hem-drags": "The {side:@lead.side}-side hem drags in its track",
    "lead.slider-drags": "The {side:@lead.side}-side slider drags all the way",
    "lead.track-is-tight": "A tight spot in the {side:@lead.side}-side track",
    "lead.cover-longer": "The cover is longer on the {side:@lead.side} side",
    "lead.hem-winds-thick": "The {side:@lead.side}-side hem winds up thicker",
    "lead.both-drag": "Both sides drag: the tracks stand too close or too far",
    "lead.only-scatter": "Nothing but scatter",
    # What is done about each.
    "lead.take-up-rope": "Take up {amount_m:setting} on the {side:@lead.side}-side rope.",
    "lead.rewind-reel": (
        "Run the {side:@lead.side}-side reel empty and wind it again turn beside turn: it climbs {turns:.1} turns too "
        "soon."
    ),
    "lead.pair-reels": (
        "Measure both reel barrels and both ropes; pair them. The {side:@lead.side}-side reel is {amount_m:setting} "
        "larger in radius."
    ),
    "lead.replace-rope": (
        "Replace the {side:@lead.side}-side rope, or both from one coil: it stretches {amount_share:percent} more than "
        "the {other:@lead.side}-side rope."
    ),
    "lead.clean-track": (
        "Clean and align the {side:@lead.side}-side track along its length: it takes {amount_n_m} more than it should."
    ),
    "lead.look-at-slider": (
        "Look at the {side:@lead.side}-side slider, its guide and its rope: something rubs with {amount_n} all the way."
    ),
    "lead.open-track": "Open the {side:@lead.side}-side track: something holds there with about {amount_n}.",
    "lead.open-track-at": (
        "Open the {side:@lead.side}-side track about {at_m} from the housing: something holds there with about "
        "{amount_n}."
    ),
    "lead.take-up-cover": (
        "Unlace the leading edge and take up {amount_m:setting} on the {side:@lead.side} side of the cover."
    ),
    "lead.rewind-hem": (
        "Look at how the {side:@lead.side}-side hem lies on the drum and wind it again: it builds {amount_m:setting} a "
        "turn more."
    ),
    "lead.measure-gauge": ("Measure the gauge along the tracks: both sides take {amount_n_m} more than they should."),
    "lead.makes-lead": "By itself it makes up to {lead_m} of lead.",
    # The verdict.
    "lead.sure": "{cause} ({main_share:chance} likely the main cause). {action}",
    "lead.likeliest": "{cause} is likeliest, at {main_share:chance}, but nothing is sure.",
    "lead.cannot-tell": "Cannot tell yet: {cause:low}, or {rivals:or}.",
    "lead.rival": "{cause:low}",
    "lead.nothing-wrong": "The readings fit a cover with nothing wrong but its scatter.",
    "lead.no-known-cause": "No known cause stands out.",
    "lead.something-else": (
        "Something that is not on this list is likeliest, at {share:chance}: look over ropes on their reels, hems on "
        "the drum, joints, water on the cover and the marks before anything is changed."
    ),
    "lead.nothing-fits": (
        "Nothing on this list meets the readings. {cause} comes nearest, but something else may be at work: take the "
        "readings again and look the cover over before anything is changed."
    ),
    "lead.closing-again": (
        "The closing lead of {lead_m:setting} read {station_m} from the housing fits nothing else: take this one again."
    ),
    "lead.opening-again": (
        "The opening lead of {lead_m:setting} read {station_m} from the housing fits nothing else: take this one again."
    ),
    "lead.measure-closing": ("Measure the closing lead {station_m} from the housing: it would tell them apart best."),
    "lead.measure-opening": ("Measure the opening lead {station_m} from the housing: it would tell them apart best."),
    "lead.measure-current": (
        "Measure the motor's current while closing {station_m} from the housing: it would tell them apart best."
    ),
    "lead.did-what-was-expected": "The action did what it was expected to.",
    "lead.did-not-do": "The action did not do what was expected: think again.",
    "lead.off-the-travel": "a reading at station {station_m} lies outside the travel",
    "lead.needs-a-lead": "a diagnosis needs a lead, closing or opening, at one station or more",
    # Its figures.
    "lead.amount-of-cause": "{cause}, by",
    "lead.amount-of-cause-rule": "mean over every set of causes that holds it, each with its weight",
    "lead.misfit": "Readings against the explanation",
    "lead.misfit-rule": ("root mean square of (reading − explanation) ÷ σ; about 1 or less where it explains them"),
    "lead.worst-after": "Highest lead to expect after it",
    "lead.worst-after-rule": "the run worked out again with the first cause put right by its amount",
    "lead.sets-weighed": "sets weighed",
    "lead.readings": "readings",
    "lead.put-right": "amount put right",
    # The lead to expect.
    "lead.worst": "Highest lead, 95 in 100 runs stay below",
    "lead.worst-rule": (
        "every tolerance drawn at random {samples} times, the lead run out for each, the 95th in a hundred taken"
    ),
    "lead.over-the-limit": "Lead over the limit somewhere",
    "lead.binds": "Sliders or motor bind somewhere",
    "lead.over-if-tightened": "Lead over the limit, with {tolerance} kept twice as tightly",
    "lead.probability-rule": "runs in which it happens ÷ runs drawn",
    "lead.runs-with-it": "runs in which it happens",
    "lead.runs-drawn": "runs drawn",
    # The tolerances, and what narrows each.
    "lead.rope-lengths": "difference of rope length",
    "lead.cut-ropes-together": "mark both ropes at one point and cut them together",
    "lead.stacking": "reels stacking unlike",
    "lead.wind-by-hand": "wind the first layer by hand, turn beside turn",
    "lead.barrels": "difference of reel barrels",
    "lead.pair-barrels": "measure both barrels and pair them",
    "lead.rope-thickness": "difference of rope thickness",
    "lead.one-coil": "cut both ropes from one coil",
    "lead.stretch-drive": "stretch of the drive-side rope",
    "lead.stretch-idle": "stretch of the idle-side rope",
    "lead.pull-out-ropes": "pull both ropes out before marking them",
    "lead.slider-drive": "drag at the drive-side slider",
    "lead.slider-idle": "drag at the idle-side slider",
    "lead.dress-joints": "dress burrs and joints in that track",
    "lead.hem-drive": "drag of the drive-side hem",
    "lead.hem-idle": "drag of the idle-side hem",
    "lead.align-track": "clean and align that track",
    "lead.out-of-square": "cover out of square",
    "lead.measure-cover": "measure both diagonals of the cover before lacing",
    "lead.hem-thickness": "difference of hem thickness",
    "lead.one-batch": "measure both hems; take them from one batch",
    "lead.friction": "friction altogether",
    "lead.log-current": "log the motor's current",
    "lead.brakes": "brakes",
    "lead.set-brakes": "set both brakes with a spring balance",
    # What a reader should know.
    "lead.tolerances-are-practice": (
        "Tolerances are practice, without a published source; give your own where you have measured them."
    ),
    "lead.friction-from-currents": (
        "Friction is taken from the logged currents: {end_n} {end_sigma_n:spread} at each slider and {per_n_m} "
        "{per_sigma_n_m:spread} of hem."
    ),
    "lead.not-understood": "Not understood, and left out: {line}.",
    "lead.is-understood": "What is understood of what was seen: {phrases}; a side and a station may stand behind it.",
    "lead.no-currents": ("No currents were logged: drag that is alike on both sides cannot be seen without them."),
    "lead.few-readings": "Few readings: leads at five stations both ways tell most causes apart.",
    "lead.power-off": "Switch the power off and lock it out before hands go near drum, reels, ropes or tracks.",
    # The drawings.
    "lead.way.closing": "closing",
    "lead.way.opening": "opening",
    "lead.drawing.title": "Lead",
    "lead.drawing.alt": (
        "Lead of the leading edge against station, {ways:and}: {shown}; limit {limit_m:small} either way."
    ),
    "lead.drawing.of-prediction": "the lead expected with its 95 % band",
    "lead.drawing.of-readings": ("{n} reading", "{n} readings"),
    "lead.drawing.of-explanation": "the explanation found",
    "lead.drawing.of-after": "the lead expected after the first action",
    "lead.drawing.station": "station from the housing, {unit}",
    "lead.drawing.sense": "{unit}; + is the drive side ahead",
    "lead.drawing.limit": "limit {limit_m:small}",
    "lead.drawing.band": "95 in 100 runs expected here",
    "lead.drawing.expected": "expected",
    "lead.drawing.explained": "explained by the causes found",
    "lead.drawing.after": "expected after the first action",
    "lead.drawing.read": "read",
    # The sheet of the lead to expect.
    "lead.sheet.title": "The lead to expect",
    "lead.sheet.within": "95 runs in 100 stay below {worst} of lead. The catalogue allows {limit}.",
    "lead.sheet.about": ("95 runs in 100 stay below {worst} of lead, about as much as the catalogue allows: {limit}."),
    "lead.sheet.over": "95 runs in 100 stay below {worst} of lead, more than the catalogue allows: {limit}.",
    "lead.sheet.chances": "Over the limit somewhere: {over}. Sliders or motor bind somewhere: {bind}.",
    "lead.sheet.effort": "Effort pays most on the {label} ({part_share:percent} of the scatter): {advice}.",
    "lead.sheet.tightened": "With that kept twice as tightly, over the limit somewhere: {over}.",
    "lead.sheet.expected": "What to expect on the way",
    "lead.sheet.sense": (
        "Lead is + where the drive side is ahead in the direction of travel. 95 runs in 100 fall between the two. "
        "Current: closing / opening."
    ),
    "lead.sheet.on-the-card": "Leads and currents to expect at the stations stand on the run-in card.",
    "lead.sheet.station": "Station",
    "lead.sheet.closing": "Lead, closing",
    "lead.sheet.opening": "Lead, opening",
    "lead.sheet.current": "Current",
    "lead.sheet.currents": "{closing:.1} / {opening_a}",
    "lead.sheet.span": "{low} to {high_m:+small}",
    "lead.sheet.shares": "What makes it scatter",
    "lead.sheet.shares-where": (
        "Parts of the scatter where it is widest: {way}, {station_m} from the housing. Parts under 2 % are left out."
    ),
    "lead.sheet.tolerance": "Tolerance",
    "lead.sheet.share": "Part of it",
    "lead.sheet.narrows": "What narrows it",
    "lead.sheet.worked": "How the highest lead is worked: {rule}.",
    "lead.sheet.notes": "Notes",
    # The sheet of why it runs crooked.
    "lead.sheet.why-title": "Why it runs crooked",
    "lead.sheet.fits": (
        "The explanation meets the reading within its uncertainty.",
        "The explanation meets all {n} readings within their uncertainty.",
    ),
    "lead.sheet.misfits": (
        "No explanation meets the reading within its uncertainty: something else is at work, or the reading is wrong.",
        "No explanation meets all {n} readings within their uncertainty: something else is at work, or a reading is "
        "wrong.",
    ),
    "lead.sheet.first": "Do first: {action}",
    "lead.sheet.if-it-stays": "Then, if it is still the likeliest: {action}",
    "lead.sheet.do": "Do: {action}",
    "lead.sheet.worst-after": "Highest lead to expect after it: {worst}.",
    "lead.sheet.next": "The reading that would tell most: {reading}",
    "lead.sheet.read-and-explained": "What was read, and what explains it",
    "lead.sheet.causes": "Causes, each with the chance that it is the main cause",
    "lead.sheet.main": "Main cause",
    "lead.sheet.cause": "Cause",
    "lead.sheet.present": "There at all",
    "lead.sheet.amount": "Amount, ± 2σ",
    "lead.sheet.chance": "{main_share:chance}",
    "lead.sheet.size": "{size_m:tiny}",
    "lead.sheet.at": "{station_m} from the housing.",
    "lead.sheet.after": "Lead to expect after the first action",
    "lead.sheet.measured": "Measured",
    "lead.sheet.earlier": "Earlier: {action}",
    "lead.sheet.run": "Run",
    "lead.sheet.predicted": "Predicted",
    "lead.sheet.fit": "How well the explanation fits",
}
