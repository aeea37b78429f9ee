"""What to tape: the next tapes and what each buys, and the plan for a pool that nobody has taped."""

WORDS: dict[str, str | tuple[str, str]] = {
    # what a further tape buys
    "taping.buys": "{parts:;}",
    "taping.ties": "ties {point} {times} as well: its worst axis goes from {was_m:tolerance} to {now_m:tolerance}",
    "taping.twice": "twice",
    "taping.times": "{times:.1} times",
    "taping.then-checked": (
        "the reading {readings} can then be checked",
        "the readings {readings} can then be checked",
    ),
    "taping.then-checked-in-part": (
        "the reading {readings} can then be checked in part",
        "the readings {readings} can then be checked in part",
    ),
    "taping.readings": "{readings}",
    "taping.and-more": "{readings} and {n} more",
    "taping.checked-better": "the weakest reading {reading} is checked better: r {was:.2} → {now:.2}",
    "taping.shrinks-all": "shrinks every ellipse a little",
    "taping.other-end": "it was taped before: start from the other end",
    # the plan
    "taping.no-stakes": "Use {a} and {b} as the baseline: no stakes are needed.",
    "taping.stakes": "Set A and B about {apart_m:roughly} apart, outside the pool: A {a}; B {b}.",
    "taping.stake-from": "about {first_m:roughly} from {first} and about {second_m:roughly} from {second}",
    "taping.reach-feet": "The tape is taken to reach 100 ft: write tape_length in [survey] if yours does not.",
    "taping.reach-metric": "The tape is taken to reach 30 m: write tape_length in [survey] if yours does not.",
    "taping.sketch-bare": "The sketch has no unit: its numbers are taken as {unit:@taping.bare}.",
    "taping.bare.ft-in": "feet",
    "taping.bare.ft": "feet",
    "taping.bare.m": "metres",
    "taping.bare.mm": "millimetres",
    "taping.left-out": "{points:and} of the sketch: left out, for A and B are the stakes placed here.",
    "taping.keep-sketch": (
        "Keep the rough positions in the job's sketch: they decide which side of a line a point lies on."
    ),
    "taping.weakest": "The weakest line has a redundancy of only {r:.2}: a slip there may go unnoticed.",
    # the sheet
    "taping.sheet.title": "What to tape",
    "taping.sheet.of-job": "{job} – what to tape",
    "taping.sheet.pull": "Pull these {lines} lines in this order; together they tie every point.",
    "taping.sheet.pull-then-check": (
        "Pull these {lines} lines in this order; the first {needed} tie every point, the others check them."
    ),
    "taping.sheet.worth": "The point known worst, {point}, then has σ {checked_m:small} in its worst direction.",
    "taping.sheet.worth-checked": (
        "The point known worst, {point}, then has σ {checked_m:small} in its worst direction ({known_m:small} after "
        "the first {needed} lines)."
    ),
    "taping.sheet.two-stakes": "Every point from two stakes alone would leave it at {alone_m:small}.",
    "taping.sheet.weakest": "The line that the others check least has a redundancy of {r:.2}.",
    "taping.sheet.places": "Rough places",
    "taping.sheet.signs": (
        "Numbers: the order to pull in. Black squares: stakes to set. Dashed: lines that check others."
    ),
    "taping.sheet.lines": "Lines in order",
    "taping.sheet.number": "No.",
    "taping.sheet.line": "Line",
    "taping.sheet.about": "About",
    "taping.sheet.why": "Why",
    "taping.sheet.read": "Read",
    "taping.sheet.read-again": "Read again",
    "taping.sheet.by": "By",
    "taping.sheet.checks": "checks others",
    "taping.sheet.needed": "needed",
    "taping.sheet.as-it-says": (
        'Write what the tape says, also where it looks wrong; read it aloud and hear it back. "About" is from the '
        "sketch: no reading."
    ),
    "taping.sheet.in-the-job": 'In the job: baseline = ["{a}", "{b}"], and a row of tapes for each reading.',
    "taping.sheet.taped-by": "Taped by",
    "taping.sheet.tape": "Tape: number and class",
    "taping.sheet.date": "Date, weather",
    # its drawing
    "taping.picture.alt": "What to tape, at {scale}, rough places: baseline {a} to {b}, then {lines}.",
    "taping.picture.line": "{number} {a} to {b}",
    # what is wrong, and what would be right
    "taping.few-points": "there are fewer than two points",
    "taping.give-places": "give every point's rough place",
    "taping.point-called": "a point is called {name}",
    "taping.stakes-names": "A and B are the baseline's ends",
    "taping.no-length": "the tape has no length",
    "taping.give-length": "give its length",
    "taping.few-lines": "{lines} lines cannot tie {points} points",
    "taping.allow-lines": "allow at least {least}",
    "taping.short-tape": "a tape of {tape_m} cannot tie every point to a baseline outside the pool",
    "taping.longer-tape": "use a longer tape, or plan in two parts",
}
