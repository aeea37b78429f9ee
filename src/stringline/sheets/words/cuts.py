"""The cut list, its cards and labels, and the drawings of runs and sticks."""

WORDS: dict[str, str | tuple[str, str]] = {
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
    "cuts.sticks.drawing": "Sticks to cut",
    "cuts.sticks.key": "Scale {scale}; width not to scale; black: factory end",
    "cuts.sticks.alt": "At {scale}: {sticks:;}.",
    "cuts.sticks.gives": "{stick} gives {parts}",
    "cuts.sticks.piece": "{what}, {length_m}",
    "cuts.sticks.offcut": "back on the rack {length_m}",
    "cuts.sticks.scrap": "scrap {length_m}",
}
