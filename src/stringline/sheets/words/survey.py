"""What readings say of each other: slips and what would tell, points held badly, readings that make no survey."""

WORDS: dict[str, str | tuple[str, str]] = {
    # readings by name
    "survey.line": "{a}–{b}",
    "survey.line-read": "{line} ({read})",
    "survey.off-line": "{point} off {a}–{b}",
    "survey.station-of": "{point} off {a}–{b}, station",
    "survey.offset-of": "{point} off {a}–{b}, offset",
    "survey.x-of": "x of {point}",
    "survey.y-of": "y of {point}",
    "survey.again": "{line} again",
    "survey.as-well": "{line} as well",
    "survey.listed": "{names:and}",
    "survey.listed-more": "{names} and {n} more",
    # slips
    "survey.feet-many": ("a whole foot too many", "{n} feet too many"),
    "survey.feet-few": ("a whole foot too few", "{n} feet too few"),
    "survey.inches-many": ("a whole inch too many", "{n} inches too many"),
    "survey.inches-few": ("a whole inch too few", "{n} inches too few"),
    "survey.metres-many": ("a whole metre too many", "{n} metres too many"),
    "survey.metres-few": ("a whole metre too few", "{n} metres too few"),
    "survey.decimetres-many": ("100 mm too many", "{n} × 100 mm too many"),
    "survey.decimetres-few": ("100 mm too few", "{n} × 100 mm too few"),
    "survey.centimetres-many": ("a whole centimetre too many", "{n} centimetres too many"),
    "survey.centimetres-few": ("a whole centimetre too few", "{n} centimetres too few"),
    "survey.started-foot": "a whole foot too many, as when the tape is started at its 1 ft mark",
    "survey.started-inch": "a whole inch too many, as when the tape is started at its 1 in mark",
    "survey.started-decimetre": "100 mm too many, as when the tape is started at its 100 mm mark",
    "survey.decimal-feet": "feet and inches written as decimal feet: {feet}' {inches}\" meant",
    "survey.feet-inches": "decimal feet written as feet and inches: {feet}.{tenths} ft meant",
    "survey.swapped-feet": "digits swapped: {written}' written, {meant}' meant",
    "survey.swapped-inches": 'digits swapped: {written}" written, {meant}" meant',
    "survey.swapped-number": "digits swapped: {written} written, {meant} meant",
    "survey.misread-feet": "digit misread: {written}' written, {meant}' meant",
    "survey.misread-inches": 'digit misread: {written}" written, {meant}" meant',
    "survey.misread-number": "digit misread: {written} written, {meant} meant",
    "survey.fraction": "eighth or sixteenth misnamed: {a}/{b} written, {c}/{d} meant",
    "survey.unusual-many": "about {off_m} too many, which is no usual misreading",
    "survey.unusual-few": "about {off_m} too few, which is no usual misreading",
    "survey.taped-to": "taped to {held} instead of {meant}",
    "survey.swapped-lines": "readings of {one} and {other} swapped",
    # what cannot be told, and what would tell
    "survey.tells": "{line}: {mine_m} if {name} is the wrong one, {theirs_m} if {rival} is",
    "survey.not-told": "The readings cannot tell for sure a slip in {line} from one in {rivals}.",
    "survey.not-told-but": "The readings cannot tell for sure a slip in {line} from one in {rivals}. Tape {tells}.",
    "survey.unlocated": "The readings contradict each other, but any of {lines} may be the misread one.",
    "survey.unlocated-likely": (
        "The readings contradict each other, but any of {lines} may be the misread one. A usual misreading fits best "
        "on {line}: {slip} ({expected_m} expected)."
    ),
    "survey.tape-to-show": "Tape {line}: a misread line would then show.",
    "survey.tape-to-name": "Tape {line}: a misread line can then be named.",
    "survey.tape-to-narrow": (
        "Tape {line}: it narrows down which line was misread, but no single further tape settles it."
    ),
    "survey.still-disagree": (
        "Even without the lines named, the readings disagree by more than they should: tape more again."
    ),
    "survey.other-slipped": "The reading of {reading} contradicts the others: it seems to be {slip}.",
    "survey.muddled": (
        "More readings contradict each other than can be told apart (they scatter {times:.0} times as much as their σ "
        "allows). Tape again, beginning with {lines}, which lie farthest from what most others agree on."
    ),
    "survey.coarse": (
        "The readings scatter {times:.1} times as much as their σ allows, and no single one is to blame: expect that "
        "much more error in every point, or tape again with more care."
    ),
    # the points
    "survey.not-settled": (
        "The adjustment did not settle: readings contradict each other grossly. Trust no coordinate yet."
    ),
    "survey.corrected": (
        "Taped readings are corrected as asked, by {low_m:amount} to {high_m:amount}; what was read stands as written."
    ),
    "survey.weak": (
        "{point} is weak one way (± {major_m:amount} at {angle_deg:.0}°): the lines from {held_by:and} cross at too "
        "flat an angle there."
    ),
    "survey.weak-readings": (
        "{point} is weak one way (± {major_m:amount} at {angle_deg:.0}°): the lines from its readings cross at too "
        "flat an angle there."
    ),
    "survey.stands-behind": (
        "The readings put {point} behind {a}–{b}, though the job does not: name it in behind if that is right; if it "
        "is not, its readings are wrong."
    ),
    "survey.stands-in-front": (
        "The readings put {point} in front of {a}–{b}, though the job does not: take it out of behind if that is "
        "right; if it is not, its readings are wrong."
    ),
    # the sheet
    "survey.sheet.title": "Survey",
    "survey.sheet.of-job": "{job} – survey",
    "survey.sheet.re-tape-first": "Re-tape {lines:and} before anything is made from this survey.",
    "survey.sheet.disagree": (
        "The readings agree less well than their tapes should allow. Find out why before ordering."
    ),
    "survey.sheet.unchecked": ("Just enough readings to draw it, and none to check it: a misread tape would not show."),
    "survey.sheet.agree": "The readings agree with one another.",
    "survey.sheet.test-none": "No reading is spare, so nothing can be tested; one tape more changes that.",
    "survey.sheet.test": (
        "There is one reading more than the drawing needs. Together the misfits score {score:.1}; honest tapes score "
        "between {low:.1} and {high:.1} in 19 jobs of 20. That is {says}",
        "There are {n} readings more than the drawing needs. Together the misfits score {score:.1}; honest tapes score "
        "between {low:.1} and {high:.1} in 19 jobs of 20. That is {says}",
    ),
    "survey.sheet.test-inside": "inside: the readings scatter as their tapes should.",
    "survey.sheet.test-above": "above: at least one reading is misread, or the tapes are worse than stated.",
    "survey.sheet.test-below": (
        "below: the readings agree better than stated, so the stated uncertainty is on the safe side."
    ),
    "survey.sheet.re-tape": "RE-TAPE {line}.",
    "survey.sheet.re-tape-in-file": "RE-TAPE {line} (line {at} of the job's file).",
    "survey.sheet.expected": "Read {read_m}; the other readings expect {expected_m} {sigma_m:spread}.",
    "survey.sheet.slip": "Most likely slip: {slip}.",
    "survey.sheet.slip-showed": "Most likely slip: {slip}; the tape probably showed {likely_m}.",
    "survey.sheet.odds": "Odds for this against everything else: {odds:odds}.",
    "survey.sheet.rivals": "It cannot be told from {rivals:or}.",
    "survey.sheet.would-tell": "This reading would tell: {reading}.",
    "survey.sheet.not-corrected": (
        "Nothing was corrected. The reading stays as it was written until somebody tapes the line again."
    ),
    "survey.sheet.next": "Tapes to take next",
    "survey.sheet.enough": (
        "Tape next: nothing. Every reading is checked by the others; more tapes would change little."
    ),
    "survey.sheet.cannot-tell": "What it cannot tell",
    "survey.sheet.readings": "Readings",
    "survey.sheet.points": "Points",
    "survey.sheet.struck": "Struck readings, not used",
    "survey.sheet.line": "Line",
    "survey.sheet.read": "Read",
    "survey.sheet.expect": "Expect",
    "survey.sheet.buys": "What it buys",
    "survey.sheet.adjusted": "Adjusted",
    "survey.sheet.residual": "Residual",
    "survey.sheet.r": "r",
    "survey.sheet.w": "w",
    "survey.sheet.shows": "Shows",
    "survey.sheet.none": "none",
    "survey.sheet.flag-re-tape": "RE-TAPE",
    "survey.sheet.flag-unchecked": "unchecked",
    "survey.sheet.flag-strained": "strained",
    "survey.sheet.flag-weak": "weak",
    "survey.sheet.columns": (
        "Residual: adjusted less read. r: how far the others check it, 0 not at all, 1 wholly; weak: under 0.2. "
        "w: the residual in its own σ; strained: beyond ± 3.3. Shows: the least slip that the others would show; a "
        "smaller one may pass unnoticed."
    ),
    "survey.sheet.bent": "The contradicted reading strains others too: take it again before you doubt them.",
    "survey.sheet.point": "Point",
    "survey.sheet.x": "x",
    "survey.sheet.y": "y",
    "survey.sheet.sx": "σx",
    "survey.sheet.sy": "σy",
    "survey.sheet.ellipse": "Ellipse, 1 σ",
    "survey.sheet.axes": "{major_m:small} × {minor_m:small}",
    "survey.sheet.held": "held fixed",
    "survey.sheet.sigmas": (
        "σx, σy: how well the point is known along x and along y, 1 σ. Ellipse: the same along its worst direction and "
        "across it."
    ),
    "survey.sheet.why-struck": "Why it was struck",
    # its drawing
    "survey.picture.key-water": "water's edge",
    "survey.picture.key-taped": "taped",
    "survey.picture.key-unchecked": "taped, hardly checked by the others",
    "survey.picture.key-suspect": "contradicted by the others: re-tape",
    "survey.picture.key-next": "tape next",
    "survey.picture.key-struck": "set aside",
    "survey.picture.key-residual": "residual, adjusted less read",
    "survey.picture.key-ellipse": "error ellipse, 1 σ, {factor} times; longest {longest_m:small}",
    "survey.picture.scale": "Scale {scale}",
    "survey.picture.bent": "residuals: see the table; the contradicted reading bends them all",
    "survey.picture.no-room": (
        "1 reading without room here: see the table",
        "{n} readings without room here: see the table",
    ),
    "survey.picture.next": "next {number}: {expected_m}",
    "survey.picture.next-short": "next {number}",
    "survey.picture.struck": "set aside {read}",
    "survey.picture.struck-short": "set aside",
    "survey.picture.re-tape": "re-tape {line}",
    "survey.picture.read": "read {read_m}",
    "survey.picture.expected": "expected {expected_m} {sigma_m:spread}",
    "survey.picture.alt": "{parts:;}.",
    "survey.picture.alt-drawn": "Survey at {scale}: {points} points and {tapes} taped lines",
    "survey.picture.alt-suspect": "the line {a} to {b} reads {read_m} where the others expect {expected_m}",
    "survey.picture.alt-next": "to tape next: {lines}",
    "survey.picture.alt-line": "{a} to {b}",
    "survey.picture.alt-ellipses": "error ellipses drawn {factor} times too large",
    # what makes no survey, and what would
    "survey.no-tape-class": "there is no tape class '{name}'",
    "survey.use-classes": "use {classes}",
    "survey.sigma-of-all": "a standard deviation must be above zero",
    "survey.write-sigma-of-all": "write how sure a reading is",
    "survey.sigma-of-one": "its standard deviation is not above zero",
    "survey.write-sigma-of-one": "write how sure it is",
    "survey.to-itself": "a tape from {point} to itself",
    "survey.both-ends": "both ends are {point}",
    "survey.name-two": "name two different points",
    "survey.offset-from": "{point} is offset from a stringline {a}–{b}",
    "survey.name-three": "name three different points",
    "survey.reads": "{line} reads {read}",
    "survey.above-zero": "a distance is above zero",
    "survey.no-reading-at-all": "there is no reading at all",
    "survey.write-distances": "write the distances taped",
    "survey.not-reached": "no reading reaches {points:and}",
    "survey.tape-from-two": "tape it from two placed points",
    "survey.only-struck": "no reading but the struck {a}–{b} reaches {point}",
    "survey.take-struck-again": "take its struck reading again",
    "survey.baseline-end": "{point} is an end of the baseline",
    "survey.off-baseline-only": "only points off the baseline lie behind it",
    "survey.one-known": "{point} alone is known, so the whole survey can turn about it",
    "survey.place-a-second": "give the place of a second point",
    "survey.hangs-on": "{point} hangs on {reading} alone and can swing about",
    "survey.moves": "{point} can move although {readings:and} reach it",
    "survey.move-together": "{points:and} can move together: the readings do not tie them to the rest",
    "survey.and-struck": ("{wrong} ({lines} is struck)", "{wrong} ({lines:and} are struck)"),
    "survey.tape-line": "tape {lines:and}",
    "survey.mirror": (
        "{points} fits the readings just as well in another place",
        "{points:and} fit the readings just as well in another place",
    ),
    "survey.mirror-about": (
        "{points} fits the readings just as well in another place, turned over about the line {a}–{b}",
        "{points:and} fit the readings just as well in another place, turned over about the line {a}–{b}",
    ),
    "survey.sketch": "give rough places of {points:and} in sketch",
    "survey.tape-or-sketch": "tape {line} (about {first_m} one way, {second_m} the other), or {sketch}",
    "survey.in-line": (
        "{point} lies on one line with {held_by:and}, and tapes along a line cannot tell how far off it a point stands"
    ),
    "survey.tape-from-off": "tape it from a point off that line",
    "survey.gross": "{reading} reads {read}, but the other readings put it near {expected_m}",
    "survey.gross-value": "{reading} reads {read_m}, but the other readings put it near {expected_m}",
    "survey.tape-gross-again": "tape it again; with it nothing can be adjusted",
    "survey.triangle": ("{sides:and} together are {gap_m} shorter than {long}, so one of the three is misread"),
    "survey.tape-all-three": "tape all three again",
}
