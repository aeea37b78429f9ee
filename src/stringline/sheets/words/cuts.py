"""The cut list, its cards and labels, and the drawings of runs and sticks."""

WORDS: dict[str, str | tuple[str, str]] = {
    # the list and the index
    "cuts.title": "Cut cards",
    "cuts.list-title": "{job} – cut list",
    "cuts.column.mark": "Mark",
    "cuts.column.piece": "Piece",
    "cuts.column.count": "Count",
    "cuts.column.length": "Length",
    "cuts.column.from": "From",
    "cuts.column.sheet": "Sheet",
    "cuts.from.survey": "survey",
    "cuts.from.as-built": "as-built",
    "cuts.from.catalogue": "catalogue",
    "cuts.side.left": "left side",
    "cuts.side.right": "right side",
    "cuts.side.both": "both sides",
    # a card
    "cuts.card.heading": "{mark}  {length}  {name}",
    "cuts.card.about": "{said:sentences}",
    "cuts.card.cover": "Cover sheet, width × length",
    "cuts.card.made-of": "{side} · {material}",
    "cuts.card.times": "cut {count}",
    "cuts.card.stands-on": "Cut at {stage:@common.stage}, {basis}",
    "cuts.card.from.survey": "from the SURVEY",
    "cuts.card.from.as-built": "from the AS-BUILT readings",
    "cuts.card.from.catalogue": "from the catalogue alone",
    "cuts.card.void": "VOID: the card {mark} that says {old}",
    "cuts.card.provisional": (
        "Do not cut from this card. It stands on the survey; it is printed again from the as-built readings."
    ),
    "cuts.card.working": "Working",
    "cuts.card.steps": "Steps",
    "cuts.card.caution": "Caution.",
    "cuts.card.measured-again": "Measured again, reads",
    "cuts.card.cut-by": "Cut by",
    "cuts.card.checked-by": "Checked by",
    # labels
    "cuts.label.title": "Labels",
    "cuts.label.note": (
        "Cut along the corner marks. Each code holds the text: stringline, job, piece, length, revision, "
        "with colons between."
    ),
    "cuts.label.numbered": "{name}, {number}",
    "cuts.label.foot": "{basis}, rev. {revision}{side}",
    "cuts.label.twin-foot": "{number}, rev. {revision}",
    "cuts.label.side": ", {side}",
    "cuts.label.left": "left",
    "cuts.label.right": "right",
    "cuts.label.both": "left and right",
    "cuts.label.one-of": "{number} of {count}",
    "cuts.label.alike": "{count} alike",
    "cuts.label.alt": "QR code that holds: {text}",
    # the strip to scale on a card
    "cuts.strip.cut-end": "cut end",
    "cuts.strip.factory-end": "factory end",
    "cuts.strip.joint": "joint",
    "cuts.strip.pin": "locking pin",
    "cuts.strip.screw": "screw",
    "cuts.strip.scale-from-housing": "{scale}; running lengths from the housing end; width not to scale",
    "cuts.strip.scale-from-left": "{scale}; running lengths from the left; width not to scale",
    "cuts.strip.broken": "Broken into rows: {length_m} in all{made}",
    "cuts.strip.made-of": " = {sticks}",
    "cuts.strip.alt-all": "{parts:;}.",
    "cuts.strip.alt": "{name} ({mark}) at {scale}, {length_m} long",
    "cuts.strip.alt-joints": ("joint at {places_m}", "joints at {places_m}"),
    "cuts.strip.alt-pins": ("{n} locking pin", "{n} locking pins"),
    # the sticks that are cut for last pieces
    "cuts.sticks.title": "Sticks of the tracks",
    "cuts.sticks.rule": (
        "{profile}. Cut at the housing end only; the last piece of each run keeps one factory end, "
        "and that end meets the next stick."
    ),
    "cuts.sticks.whole": "Laid whole, from the pulley: {sides:;}.",
    "cuts.sticks.whole-side": "{side:@common.side} {sticks}",
    "cuts.sticks.back": ("Back on the rack, each with its factory end marked and its length chalked on: {lengths_m}."),
    "cuts.sticks.drawing": "Sticks to cut",
    "cuts.sticks.key": "Scale {scale}; width not to scale; black: factory end",
    "cuts.sticks.alt": "At {scale}: {sticks:;}.",
    "cuts.sticks.gives": "{stick} gives {parts}",
    "cuts.sticks.piece": "{what}, {length_m}",
    "cuts.sticks.offcut": "back on the rack {length_m}",
    "cuts.sticks.scrap": "scrap {length_m}",
}
