"""What is ordered, how likely it is to fit, the order that went out, and what the pour changed."""

WORDS: dict[str, str | tuple[str, str]] = {
    # what to order, and of whom
    "ordering.basis-laid-out": (
        "Survey and layout before the pour: gauge {gauge_m}, channel {channel_m}, travel {travel_m}."
    ),
    "ordering.basis-built": "As-built readings after the pour, and the layout where nothing was measured.",
    "ordering.invented": "The catalogue '{catalogue}' is invented: order nothing from it.",
    "ordering.cover-maker": "cover maker",
    "ordering.track-supplier": "track and hardware",
    "ordering.housing-supplier": "housing and lid",
    "ordering.cover-sheet": "Cover sheet with a hem on each side and a front hem",
    "ordering.cover-note": (
        "Width over the hems; length includes {hem_m:amount} of front hem. Made once: it cannot be made wider."
    ),
    "ordering.stick": "{track}, {stick_m} stick",
    "ordering.stick-length": "Stick",
    "ordering.for-runs": "For runs of {left_m} (left) and {right_m} (right).",
    "ordering.edge-tube": "Leading edge, tube",
    "ordering.edge-note": "With two adjustable ends, {adjust_m:amount} either way each.",
    "ordering.adjustable-end": "Adjustable end with slider",
    "ordering.end-length": "End",
    "ordering.drum-tube": "Drum tube",
    "ordering.rope": "Rope, {diameter_m:amount}",
    "ordering.rope-note": "Both from one coil, so that both stretch alike.",
    "ordering.pulley": "Far-end pulley",
    "ordering.reel": "Rope reel",
    "ordering.motor": "Motor with gearbox and drag brake",
    "ordering.motor-note": "Drive side: {side:@common.side}.",
    "ordering.guide": "Guide at the housing",
    "ordering.wedge": "Wedge",
    "ordering.wedge-length": "Wedge",
    "ordering.filler-stick": "Filler strip, {stick_m}",
    "ordering.filler-length": "Stick",
    "ordering.housing-box": "Housing",
    "ordering.inside": "Inside length.",
    "ordering.lid-panel": "Lid panel",
    "ordering.panel-length": "Panel",
    "ordering.fascia-stick": "Fascia, {stick_m} length",
    "ordering.fascia-ends": "End piece, two",
    "ordering.fascia-note": "The centre piece is cut to the clear distance between the fixed end pieces.",
    # how likely it is to fit
    "ordering.survey-gauge": "σ of the gauge, from the survey",
    "ordering.built-gauge": "σ of the gauge, as builders build",
    "ordering.place-to-place": "σ from place to place",
    "ordering.survey-travel": "σ of the travel, from the survey",
    "ordering.built-channel": "σ of the channel, as builders build",
    "ordering.made-length": "σ of the cover's length, as made",
    "ordering.as-made": "σ as made",
    "ordering.takes-up": "can take up, ±",
    "ordering.width-fits": "Cover's width fits",
    "ordering.edge-fits": "Leading edge fits",
    "ordering.drum-fits": "Drum fits",
    "ordering.length-fits": "Cover's length fits",
    "ordering.all-fit": "All ordered parts fit",
    "ordering.rule-fit": (
        "share of builds, with all scatter normal, in which the difference stays inside what can be taken up"
    ),
    # the advice
    "ordering.now": "Order now",
    "ordering.reading": "Take one more reading, {frm}–{to}, then order",
    "ordering.wait": "Wait until after the pour, measure, then order",
    "ordering.cost": "Cost to expect: {choice:low}",
    "ordering.wrong-order-times-cost": "chance of a wrong order times what one costs",
    "ordering.days-times-cost": "days lost times what a day costs",
    "ordering.contradicted": (
        "Not yet: tape {frm}–{to} again. The others contradict it, and the probabilities below assume that every "
        "reading holds."
    ),
    "ordering.least-cost": "{choice}: the least cost to expect, {cost:.0}, with {fit_share} that all parts fit.",
    "ordering.sure-now": "Order now: {now_share} that all parts fit.",
    "ordering.reading-raises": "{choice}: it raises {now_share} to {then_share}.",
    "ordering.wait-helps": (
        "Wait: only {now_share} that all parts fit if ordered now, {wait_share} after the pour. {tightest} is the "
        "tightest."
    ),
    "ordering.wait-no-help": (
        "Waiting would not help: {now_share} now, {wait_share} after the pour. {tightest} is the tightest: choose "
        "parts that take up more."
    ),
    "ordering.tight-width": "The cover's width",
    "ordering.tight-edge": "The leading edge",
    "ordering.tight-drum": "The drum",
    "ordering.tight-length": "The cover's length",
    # the order that went out: its figures as [order] figures knows them
    "ordering.cover-width": "cover width",
    "ordering.cover-length": "cover length",
    "ordering.leading-edge": "leading edge",
    "ordering.drum": "drum",
    "ordering.rope-left": "rope left",
    "ordering.rope-right": "rope right",
    "ordering.housing": "housing",
    "ordering.lid": "lid",
    "ordering.fascia": "fascia",
    "ordering.as-ordered": "{part}, as ordered",
    # designed, ordered, built: what is compared with what
    "ordering.no-order": ("The job holds no order: compared with what {by} would order (plan {mark}); {built}."),
    "ordering.by-what-was-built": "what was built",
    "ordering.by-todays-survey": "today's survey",
    "ordering.order-went-out": "The order that went out{date}{plan}; today's plan is {mark}; {built}.",
    "ordering.on-date": " on {date}",
    "ordering.from-plan": " from plan {mark}",
    "ordering.built": "as built",
    "ordering.not-built": "not built yet",
    "ordering.if-it-waited": (
        "If the order waited for the pour, write after_pour = true in [order]: it is then made from this."
    ),
    "ordering.survey-changed": "THE SURVEY HAS CHANGED SINCE THE ORDER, most in {most}. Now against then: {moves}.",
    "ordering.moved": "{part} {change_m:+amount}",
    # and its verdict
    "ordering.survey-has-changed": "The survey has changed since the order.",
    "ordering.order-again": "Order again: {items:;}.",
    "ordering.measure-again": "Measure again before cutting: {items:;}.",
    "ordering.nothing-measured": "Nothing is measured after the pour yet.",
    "ordering.measured-fits": "What is measured fits.",
    "ordering.all-fits": "All fits.",
    "ordering.so-far-does": "So far all that was ordered will do.",
    "ordering.all-does": "All that was ordered will do.",
    "ordering.to-cut": "To cut by new cards: {items:;}.",
    "ordering.to-take-up": "To take up: {items:;}.",
    "ordering.not-measured": "Not measured yet: {items:;}.",
    "ordering.step-as-ordered": "As ordered against as built: {says}",
    # its lines
    "ordering.item-width": "Cover, width",
    "ordering.item-length": "Cover, length",
    "ordering.item-edge": "Leading edge",
    "ordering.item-drum": "Drum",
    "ordering.item-track": "Track, {side:@common.side}",
    "ordering.item-rope": "Rope, {side:@common.side}",
    "ordering.item-wedges": "Wedges",
    "ordering.item-filler": "Filler strip",
    "ordering.item-lid": "Lid",
    "ordering.item-fascia": "Fascia, centre piece",
    "ordering.change": "{item}: needed less ordered",
    "ordering.needed-now": "Needed now",
    "ordering.was-ordered": "As ordered",
    "ordering.gauge-at": "Gauge, as built, {station_m} from the housing",
    "ordering.length-built": "Cover length for the built channel",
    "ordering.length-designed": "Cover, length, as designed",
    "ordering.channel-shorter": "Channel as built, the shorter side",
    "ordering.channel-laid-out": "Channel as laid out",
    "ordering.count-ordered": "{item}, ordered",
    "ordering.count-needed": "{item}, needed",
    # what each line asks for
    "ordering.does.fits": "fits",
    "ordering.does.take up": "take up",
    "ordering.does.trim": "trim",
    "ordering.does.measure again": "measure again",
    "ordering.does.not measured": "not measured",
    "ordering.does.order again": "order again",
    "ordering.measure-after": "Measure it after the pour.",
    "ordering.measure-channel": "Measure the channel.",
    "ordering.measure-housing": "Measure it on the built housing.",
    "ordering.fits": "As ordered.",
    "ordering.amount": "{by_m:amount}",
    "ordering.half-of": "half of {by_m:amount}",
    "ordering.too-near": ("{by_m:amount} off; it can take up {room_m:amount}. Too near to tell: measure again, twice."),
    "ordering.width-wider": "The gauge is {by_m:amount} wider at the worst place: the hems take it up.",
    "ordering.width-narrower": "The gauge is {by_m:amount} narrower at the worst place: the hems take it up.",
    "ordering.width-too-wide": (
        "{by_m:amount} too wide at the worst place, more than the hems take up. Move the tracks, or have it taken in."
    ),
    "ordering.width-too-narrow": (
        "{by_m:amount} too narrow at the worst place. A cover cannot be made wider: move the tracks, or order again."
    ),
    "ordering.length-longer": "The run is {by_m:amount} longer: that much less stays on the drum.",
    "ordering.length-shorter": "The run is {by_m:amount} shorter: that much more stays on the drum.",
    "ordering.length-too-long": (
        "{by_m:amount} too long. Cut it off at the drum end, or leave it on the drum if the roll still clears its "
        "housing."
    ),
    "ordering.length-too-short": (
        "{by_m:amount} too short: the drum would run out of wraps. Order again, or bring the far stop in."
    ),
    "ordering.edge-longer": (
        "{by_m:amount} shorter than the tracks ask: leave the tube at {ordered_m}, and set each adjustable end "
        "{half} further out."
    ),
    "ordering.edge-shorter": (
        "{by_m:amount} too long: cut the tube to {needed_m}, or leave it at {ordered_m} and set each adjustable end "
        "{half} further in."
    ),
    "ordering.edge-too-long": "{by_m:amount} too long. Cut the tube to {needed_m}.",
    "ordering.edge-too-short": "{by_m:amount} too short, more than its ends reach. Order a tube of {needed_m}.",
    "ordering.drum-longer": "{by_m:amount} short: its ends have room for that. Leave it at {ordered_m}.",
    "ordering.drum-shorter": "{by_m:amount} long: its ends have room for that. Leave it at {ordered_m}.",
    "ordering.drum-too-long": "{by_m:amount} too long. Cut the drum to {needed_m}.",
    "ordering.drum-too-short": (
        "{by_m:amount} too short, more than its ends have room for. Order a drum of {needed_m}."
    ),
    "ordering.sticks-lack": (
        "The sticks ordered do not make both tracks: order {sticks:and} more, in all for the two."
    ),
    "ordering.so-many-sticks": "{n} × {stick_m}",
    "ordering.track-longer": ("{by_m:amount} longer: cut the last piece by its new card. The sticks ordered do."),
    "ordering.track-shorter": ("{by_m:amount} shorter: cut the last piece by its new card. The sticks ordered do."),
    "ordering.joints-closer": "The joints then come closer than the catalogue's stagger.",
    "ordering.rope-left-over": "Cut at the common point; {by_m:amount} of rope is left over.",
    "ordering.rope-coil-does": "Longer than ordered, but the other is shorter by more: one coil does for both.",
    "ordering.rope-farther": (
        "{by_m:amount} longer than ordered. Where the coil does not hold it, mark both ropes at {new_m} in front of "
        "the housing, not {at_m}."
    ),
    "ordering.rope-short": ("{by_m:amount} longer than ordered. Look what the coil still holds, or order one."),
    "ordering.more": "Order {n} more.",
    "ordering.more-of": "Order {n} more of {item:low}.",
    "ordering.left-over": "{n} left over.",
    "ordering.lid-longer": (
        "{by_m:amount} longer: cut the last panel by its new card, {needed_m} in all. What was ordered does."
    ),
    "ordering.lid-shorter": (
        "{by_m:amount} shorter: cut the last panel by its new card, {needed_m} in all. What was ordered does."
    ),
    "ordering.fascia-longer": (
        "{by_m:amount} longer: cut the centre piece by its new card, {needed_m} in all. What was ordered does."
    ),
    "ordering.fascia-shorter": (
        "{by_m:amount} shorter: cut the centre piece by its new card, {needed_m} in all. What was ordered does."
    ),
    # the sheet of the order
    "ordering.sheet.title": "Order",
    "ordering.sheet.hold": "HOLD: do not place this order yet.",
    "ordering.sheet.held-by": "Held by: {titles:;}.",
    "ordering.sheet.nothing-to-order": "There is nothing to order yet.",
    "ordering.sheet.nothing-holds": "Nothing found here holds the order.",
    "ordering.sheet.line": "{frm}–{to}",
    "ordering.sheet.these-change": (
        "Once {lines:and} is taped again and reads as the others expect, these figures change:"
    ),
    "ordering.sheet.none-changes": (
        "Once {lines:and} is taped again and reads as the others expect, no figure below changes."
    ),
    "ordering.sheet.others-stay": "The others stay as they are.",
    "ordering.sheet.what": "Figure",
    "ordering.sheet.as-read": "As read",
    "ordering.sheet.taped-again": "Taped again",
    "ordering.sheet.made-from": "Made from: {basis}",
    "ordering.sheet.count": "Count",
    "ordering.sheet.item": "Item",
    "ordering.sheet.sizes": "Sizes",
    "ordering.sheet.size": "{label}: {size}",
    "ordering.sheet.ordered-by": "Ordered by",
    "ordering.sheet.reference": "Supplier and reference",
    "ordering.sheet.date": "Date",
    "ordering.sheet.small-parts": "Small parts",
    "ordering.sheet.counted-by": "Counted by",
    "ordering.sheet.notes": "Notes",
    # whether to order
    "ordering.sheet.may-it": "May it be ordered? How likely the ordered parts fit what will be built",
    "ordering.sheet.choice": "What is done",
    "ordering.sheet.fit-all-parts": "All parts fit",
    "ordering.sheet.fit-cost": "Cost to expect",
    "ordering.sheet.have-it-priced": (
        "Write wrong_order_cost, day_cost and days_to_wait in [order] to have the choices priced."
    ),
    # the order once it went out
    "ordering.sheet.written": ("Written into {file}: order of {date}, plan {mark}. Every later reading is held to it."),
    "ordering.sheet.not-written": "Not written: the order is held. Add --anyway if it went out all the same.",
    "ordering.sheet.place-again": (
        "This would be plan {mark}. When it goes out in the place of the earlier order: "
        "`stringline order {file} --place --again`."
    ),
    "ordering.sheet.place": "When it goes out, paste this into the job, or: `stringline order {file} --place`.",
    # the sheet of differences
    "ordering.sheet.what-changed": "What the pour changed",
    "ordering.sheet.what-was-ordered": "What was ordered",
    "ordering.sheet.nothing-to-compare": (
        "Nothing is ordered or built yet: write [order] when it is, [as_built] after the pour."
    ),
    "ordering.sheet.part": "Part",
    "ordering.sheet.designed": "Designed",
    "ordering.sheet.ordered": "Ordered",
    "ordering.sheet.needed-now": "Needed now",
    "ordering.sheet.change": "Change",
    "ordering.sheet.count-change": "{count:+.0}",
    "ordering.sheet.what-to-do": "What to do",
    "ordering.sheet.does": "{does:cap}: {says}",
    "ordering.sheet.void-cards": "Void cards",
    "ordering.sheet.every-earlier-card": (
        "Every earlier card with one of these marks is void, whatever it says: strike it through and throw it away. "
        "The cards drawn now stand for them."
    ),
    "ordering.sheet.mark": "Mark",
    "ordering.sheet.piece": "Piece",
    "ordering.sheet.void": "VOID",
    "ordering.sheet.now": "Now",
}
