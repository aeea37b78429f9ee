"""What rod readings say: heights, falls, twist, flatness, and the housing's floor."""

WORDS: dict[str, str | tuple[str, str]] = {
    "levels.height": "height of {point}",
    "levels.height-share": "height of {point} × {factor:+.3}",
    "levels.fall": "fall from {high} to {low}",
    "levels.fall-along": "fall along",
    "levels.fall-across": "fall across, to the right",
    "levels.fall-rule": "slope of the best plane times the length it runs",
    "levels.slope": "slope of the best plane, downwards",
    "levels.run": "length it runs",
    "levels.out-of-plane": "out of plane",
    "levels.above-plane": "{point} above the best plane",
    "levels.below-plane": "{point} below it",
    "levels.flatness": "flatness",
    "levels.twist": "twist: {corner} above the plane of {others}",
    "levels.floor-fall": "floor's least fall to the drain, from {point}",
    "levels.floor-fall-rule": "height of {point} less height of {drain}, over the run between them",
    "levels.run-between": "run from {high} to {low}",
    # the sheet
    "levels.sheet.title": "Levels",
    "levels.sheet.above": (
        "Heights are above {datum}. Along is {along}, across is to its right; a fall is positive downwards."
    ),
    "levels.sheet.along-cover": "from the housing over the water",
    "levels.sheet.along-points": "where the points reach farthest",
    "levels.sheet.figure": "Falls and flatness",
    "levels.sheet.value": "Value",
    "levels.sheet.point": "Point",
    "levels.sheet.height": "Height",
    "levels.sheet.datum": "datum",
    "levels.sheet.one-in": "{percent:.2} % (1 in {run})",
    "levels.sheet.no-fall": "{percent:.2} % (level)",
    "levels.sheet.away": "{percent:.2} % (away from the drain)",
    # what stands in the way
    "levels.no-place": "No position is known for {points}: height only.",
    "levels.no-falls": "No falls or flatness yet: {why}.",
    "levels.no-twist": "No twist: {why}.",
    "levels.plane-points": "a plane needs three levelled points",
    "levels.plane-line": "a plane needs points that are not all in one line",
    "levels.flatness-points": "flatness needs three levelled points",
    "levels.corners-in-line": "three of the corners are in one line",
    "levels.floor-without-points": "a floor needs at least one levelled point besides its drain",
    "levels.floor-at-drain": "a point of the floor stands at the drain itself",
    "levels.floor-run": "How far {points} lies from the drain is not known: tape it and write it behind the name.",
    "levels.nothing-spare": (
        "No rod reading is to spare: read the first point again at the end, to see that nothing has moved."
    ),
    "levels.contradicted": (
        "The rod readings contradict each other by about {off_m:amount}: read {point} again ({read} written); the "
        "instrument may have moved, or a reading is wrong."
    ),
    # what is wrong, and what would be right
    "levels.loose": "nothing ties the height of {points} to the other points",
    "levels.level-from-tied": "level to them from a point already tied",
    "levels.no-readings": "there are no rod readings",
    "levels.read-some": "read some points",
    "levels.datum-not-read": "'{point}' has no rod reading",
    "levels.name-read": "name a point that was read",
    "levels.loose-point": "nothing ties the height of {point}",
    "levels.read-from-both": "read one point from both places where the instrument stood",
}
