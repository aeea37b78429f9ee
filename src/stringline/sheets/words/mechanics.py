"""Words on how the cover rolls and pulls: its figures, what they are made of, and parts that cannot do the job."""

WORDS: dict[str, str | tuple[str, str]] = {
    # The roll.
    "mechanics.roll-open": "Roll over the hems, cover open",
    "mechanics.roll-closed": "Roll over the hems, cover closed",
    "mechanics.roll-rule": "square root of (drum diameter² + 4 × hem thickness × length on the drum ÷ π)",
    "mechanics.roll-middle": "Roll in the middle, cover open",
    "mechanics.roll-middle-rule": "drum diameter + 2 × turns × sheet thickness",
    "mechanics.roll-turns": "Turns on the drum, cover open",
    "mechanics.roll-turns-rule": "(roll radius over the hems − drum radius) ÷ hem thickness",
    "mechanics.middle-slack": "Cover that the middle winds up loosely, at most",
    "mechanics.middle-slack-rule": "length on the drum − π × turns × (drum diameter + turns × sheet thickness)",
    "mechanics.clearance-open": "Roll to the housing's nearest wall, cover open",
    "mechanics.clearance-closed": "Roll to the housing's nearest wall, cover closed",
    "mechanics.drum-diameter": "drum diameter",
    "mechanics.drum-radius": "drum radius",
    "mechanics.hem-thickness": "hem thickness × packing",
    "mechanics.sheet-thickness": "sheet thickness × packing",
    "mechanics.on-the-drum": "on the drum",
    "mechanics.turns": "turns",
    "mechanics.roll-radius": "roll radius over the hems",
    "mechanics.half-the-inside": "half the housing's smaller inside",
    # The reels and their ropes.
    "mechanics.reel-layers": "Layers of rope on a reel, cover closed",
    "mechanics.reel-layers-rule": "turns on the reel ÷ turns a layer, begun layers counted; layers stacked",
    "mechanics.reel-fill": "Reel full, cover closed",
    "mechanics.reel-fill-rule": "rope on the reel ÷ rope that fits below the freeboard, layers stacked",
    "mechanics.reel-depth-rule": "depth of the rope ÷ depth of the flange: not one layer fits below the freeboard",
    "mechanics.reel-freeboard": "Flange over the rope, cover closed",
    "mechanics.rope-length": "Each rope, slider to its end on the reel",
    "mechanics.turns-on-the-reel": "turns on the reel",
    "mechanics.turns-a-layer": "turns a layer",
    "mechanics.rope-on-the-reel": "rope on the reel",
    "mechanics.freeboard": "freeboard",
    "mechanics.rope-outside": "outside of the rope",
    "mechanics.barrel-radius": "barrel radius",
    "mechanics.flange-radius": "flange radius",
    "mechanics.rope-to-the-pulley": "open slider to the far-end pulley",
    "mechanics.rope-round-the-pulley": "half turn of the pulley",
    "mechanics.rope-back": "pulley back to the housing's face",
    "mechanics.rope-behind": "behind the face, with the turns that stay on",
    # Pulls, torque, current, time.
    "mechanics.peak-pull": "Highest pull in a rope",
    "mechanics.peak-pull-rule": (
        "(hem pull + drag) × jam factor × guide factor ÷ pulley efficiency, at the station where it is highest"
    ),
    "mechanics.rope-factor": "Design factor of the rope",
    "mechanics.rope-factor-rule": "break load × knot efficiency ÷ highest pull",
    "mechanics.torque-closing": "Highest torque, closing",
    "mechanics.torque-closing-rule": "2 × pull of one side at the reel × reel radius there",
    "mechanics.torque-opening": "Highest torque, opening",
    "mechanics.torque-opening-rule": "2 × pull of one side at the drum × roll radius there",
    "mechanics.motor-margin": "Motor torque to spare",
    "mechanics.motor-while-closing": "rated torque ÷ highest torque, which comes while closing",
    "mechanics.motor-while-opening": "rated torque ÷ highest torque, which comes while opening",
    "mechanics.peak-current": "Highest motor current while running",
    "mechanics.peak-current-rule": ("no-load current + (full-load − no-load current) × highest torque ÷ rated torque"),
    "mechanics.time-closing": "Time for closing",
    "mechanics.time-opening": "Time for opening",
    "mechanics.time-rule": "travel ÷ speed, added up along the run; speed = shaft speed × radius",
    "mechanics.hem-pull": "hem pull from the drum's brake",
    "mechanics.drag-of-one-side": "drag of one side",
    "mechanics.jam-factor": "jam factor of the slider",
    "mechanics.guide-factor": "guide factor e^(μβ)",
    "mechanics.pulley-efficiency": "pulley efficiency",
    "mechanics.break-load": "break load",
    "mechanics.knot-efficiency": "knot efficiency",
    "mechanics.highest-pull": "highest pull",
    "mechanics.pull-of-one-side": "pull of one side",
    "mechanics.radius": "radius",
    "mechanics.rated-torque": "rated torque",
    "mechanics.highest-torque": "highest torque",
    "mechanics.full-load-current": "full-load current",
    "mechanics.no-load-share": "no-load share",
    "mechanics.travel": "travel",
    "mechanics.lowest-speed": "lowest speed",
    "mechanics.highest-speed": "highest speed",
    # The drum and the sliders.
    "mechanics.drum-sag": "Drum bends in its middle by",
    "mechanics.drum-sag-rule": (
        "5 × load a metre × span⁴ ÷ (384 × E × I), weight and pull at a right angle, all spread evenly"
    ),
    "mechanics.drum-sag-ratio": "Drum bends by this share of its span",
    "mechanics.drum-sag-ratio-rule": "bend in the middle ÷ span",
    "mechanics.drum-twist": "Drum twists from end to end by",
    "mechanics.drum-twist-rule": "torque of the idle end × span ÷ (G × J)",
    "mechanics.jam-margin": "Slider's margin against jamming",
    "mechanics.jam-margin-rule": "guided length ÷ (2 × friction × eccentricity); 1 is jammed",
    "mechanics.tube-weight": "weight of tube a metre",
    "mechanics.cover-weight": "weight of cover a metre",
    "mechanics.pull-a-metre": "pull a metre",
    "mechanics.span": "span",
    "mechanics.modulus": "E",
    "mechanics.inertia": "I",
    "mechanics.bend": "bend in the middle",
    "mechanics.idle-torque": "torque of the idle end",
    "mechanics.shear-modulus": "G",
    "mechanics.polar-inertia": "J",
    "mechanics.guided-length": "guided length",
    "mechanics.friction": "friction",
    "mechanics.eccentricity": "eccentricity",
    # Parts that cannot do this job, and the nearest that would.
    "mechanics.part-reel": "rope reel",
    "mechanics.part-housing": "housing",
    "mechanics.part-motor": "motor",
    "mechanics.part-rope": "rope",
    "mechanics.reel-full": (
        "the reel would be {full_share:percent} full, counted to its freeboard; at this width it would take a flange "
        "of {flange_m} radius"
    ),
    "mechanics.housing-small": (
        "the rolled-up cover is larger than the housing's inside; it would take {across_m} each way, and room to turn "
        "in"
    ),
    "mechanics.motor-weak": "the run needs {needed_nm} at the shaft; the motor is rated {rated_nm}",
    "mechanics.rope-weak": "the rope's knotted strength is below its highest pull",
    "mechanics.reel-of": "the reel of '{system}'",
    "mechanics.housing-of": "the housing of '{system}'",
    "mechanics.order-nearest": "Order {nearest}: the nearest {part} that works.",
    "mechanics.slider-jams": ("the slider jams whatever the pull; its guided length is too short for its eccentricity"),
    "mechanics.no-travel": "the leading edge must stop short of the far-end pulley, and must travel at all",
    "mechanics.no-pull": "a design factor needs a pull",
    # What a reader should know.
    "mechanics.steady-pulls": (
        "Pulls are for both sides alike, moving steadily, hems wet: starting, wind and ice come on top."
    ),
    "mechanics.nobody-in-the-water": "Nobody in the water, and the operator sees all of it, while the cover runs.",
    "mechanics.loose-middle": (
        "The hems build up faster than the sheet, so the middle winds up loosely: expect it baggy on the drum."
    ),
    # The drawings.
    "mechanics.drawing.section": "Section through the housing",
    "mechanics.drawing.section-alt": (
        "Section through the housing at {scale}: inside {deep_m} deep and {high_m} high; the roll over its hems "
        "{open_m} across with the cover open and {closed_m} closed."
    ),
    "mechanics.drawing.lid": "lid",
    "mechanics.drawing.cover": "cover, to the water",
    "mechanics.drawing.inside": "inside {inside_m}",
    "mechanics.drawing.open-hems": "roll open, over the hems",
    "mechanics.drawing.open-middle": "roll open, in the middle",
    "mechanics.drawing.closed-hems": "roll closed, over the hems",
    "mechanics.drawing.drum": "drum",
    "mechanics.drawing.diameter": "diameter {across_m}",
    "mechanics.drawing.run": "Torque and speed",
    "mechanics.drawing.run-alt": (
        "Torque and speed over the travel: at most {closing_nm} closing and {opening_nm} opening; closing takes "
        "{closing_s}, opening {opening_s}."
    ),
    "mechanics.drawing.torque": "Torque at reels or drum",
    "mechanics.drawing.speed": "Speed of the leading edge",
    "mechanics.drawing.rated": "motor's rated torque",
    # The sheet.
    "mechanics.sheet.title": "How it rolls and pulls",
    "mechanics.sheet.refused": "This {part} does not do: {why}.",
    "mechanics.sheet.nearest": "Nearest that would: {nearest}.",
    "mechanics.sheet.none-known": "nothing in the catalogue at hand",
    "mechanics.sheet.works": "Roll, reels, rope and motor can do this job, each by itself, as far as worked out.",
    "mechanics.sheet.in-short": (
        "Highest pull in a rope {pull_n}, design factor {factor:.1}; the motor is rated for {margin:.1} times the "
        "highest torque; it closes in {closing_s} and opens in {opening_s}. The checks hold each against its limit."
    ),
    "mechanics.sheet.figure": "Figure",
    "mechanics.sheet.value": "Value",
    "mechanics.sheet.rule": "How it is worked",
    "mechanics.sheet.notes": "Notes",
}
