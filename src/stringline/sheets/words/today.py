"""Sheet one: may the stage go on, what holds it, what nobody may forget; and the checks of any sheet."""

WORDS: dict[str, str | tuple[str, str]] = {
    "today.title": "What must be right today",
    "today.stop": "Stop. {stage:cap} does not go on yet.",
    "today.stop-why": (
        "One check holds it. Do what is written beside it, measure again, and print this sheet again.",
        "{n} checks hold it. Do what is written beside each, measure again, and print this sheet again.",
    ),
    "today.not-yet": "Not yet. Nobody can say whether {stage} may go on.",
    "today.not-yet-why": (
        "No check fails, but one section that this stage leans on cannot be worked out yet; see below.",
        "No check fails, but {n} sections that this stage leans on cannot be worked out yet; see below.",
    ),
    "today.go": "{stage:cap} may go on, as far as these readings tell.",
    "today.go-why": (
        "No check in this book holds it. That says nothing of what was not measured or what local rules ask."
    ),
    "today.held": "What holds it",
    "today.missing-now": "What cannot be worked out yet",
    "today.watch": "Keep an eye on",
    "today.remember": "Do not forget today",
    "today.passed": "In order, as far as measured",
    "today.later": "For later stages",
    "today.missing-later": "Not there yet, and not needed today",
    "today.needs": "{section:cap} needs: {missing:;}.",
    "today.needs-later": "{section:cap} (from {stage}) needs: {missing:;}.",
    "today.follows": "{section:cap} (from {stage}) needs nothing more; it follows.",
    "today.words": "Words",
    "today.promise-title": "What this book does not promise",
    "today.promise": (
        "It states what was measured and what follows from it. It does not say that an installation meets a code or a "
        "standard: that is for the code itself, the licensed trades and the inspector."
    ),
    # rows of checks
    "today.column.verdict": "Verdict",
    "today.column.check": "Check",
    "today.column.value": "Value, ± 2σ",
    "today.column.limit": "Limit",
    "today.title-at-stage": "{title} ({stage})",
    "today.if-ignored": "If ignored: {consequence}",
    "today.do": "Do: {action}",
    "today.holds": "holds {stage}",
    "today.no-reading": "no reading",
    # what words mean
    "today.word.adjusted": (
        "Adjusted: the distance that fits all readings together best; a reading itself is never changed."
    ),
    "today.word.residual": "Residual: adjusted less read: how far the other readings pull this one.",
    "today.word.r": ("r: how well other readings check this one: 0 not at all, 1 wholly. Under 0.2 a slip can hide."),
    "today.word.w": ("w: the residual in units of its own uncertainty. Beyond ±3.3 a reading is hardly an honest one."),
    "today.word.sigma": (
        "σ: standard uncertainty: about two readings in three fall within ±σ, nineteen in twenty within ±2σ."
    ),
    "today.word.cannot-tell": (
        "Cannot tell: the limit lies within ±2σ of the value. Measure better before you decide."
    ),
    "today.word.gauge": "Gauge: distance between the two tracks' centrelines, square across.",
    "today.word.station": "Station: distance along a track from the housing's face.",
    "today.word.diagonals": (
        "Diagonals: corner to corner across the tracks, both ways; equal when the tracks are square to the housing."
    ),
    "today.word.lead": "Lead: how far one end of the leading edge is ahead; + where the drive side is ahead.",
    "today.word.sides": "Left, right: as seen standing at the housing, looking over the water.",
    "today.word.factory-end": (
        "Factory end: the end of a stick as it was delivered: square and clean, so it goes where two sticks meet."
    ),
}
