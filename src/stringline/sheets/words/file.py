"""Job files written for somebody to fill in: a new one, one begun from a drawing, one made from a job that is held."""

WORDS: dict[str, str | tuple[str, str]] = {
    "file.unnamed": "Unnamed job",
    "file.head": """\
# A Stringline job. Lines that start with # are remarks; take the # away to use what stands behind it.
{marks}
# Names of points are text in quotes: "1", "A", "deep end left".

[job]
name = {name}
unit = "{unit}"                  # ft-in | ft | m | mm: what bare numbers mean and how results read
stage = "survey"                # survey | layout | order | rough-in | fit-out | run-in | handover | service
system = "invented-18"          # a hardware catalogue: one that `stringline systems` lists, or the path of your own
""",
    "file.lengths.ft-in": (
        '# Inside double quotes the inch mark is \\" as in "24\' 0\\"". 24-0 and 24 ft 0 in read as well.'
    ),
    "file.lengths.ft": "# Bare numbers are decimal feet. 24-0-1/2, 24 ft 0 1/2 in and 7.32 m read as well.",
    "file.lengths.m": "# Bare numbers are metres. 7315 mm, 731.5 cm and 24 ft 0 in read as well.",
    "file.lengths.mm": "# Bare numbers are millimetres. 7.315 m, 731.5 cm and 24 ft 0 in read as well.",
    "file.survey": """\
[survey]
tape_class = "II"               # marked on the tape: I | II | III; or one sigma for all: sigma = "{sigma}"
baseline = ["A", "B"]           # A is the origin, x runs from A towards B; all other points lie to the left of it
behind = []                     # except these, which lie to the right
sketch = {}                     # rough positions in any scale, to tell sides: { "1" = [3, 4] }
# tape_length = "{reach}"        # how far the tape reaches; with a sketch `stringline taping` then says what to pull
# blocked = [["1", "w1"]]       # pairs with a wall or hedge between them, never advised to be taped
# known = { A = ["0", "0"] }    # control points held fixed, at least two; then there is no baseline

# One line for each reading: from, to, what the tape said. Write down what it said, also when it looks wrong.
# Never change a reading: take it again and add a line. To set one aside, add { struck = "why" } behind it.
tapes = [
  # ["A", "B", "{long}"],
  # ["A", "1", "{short}"],
  # ["B", "1", "{short}", { sigma = "{sigma}", by = "initials", at = "09:40" }],
]
offsets = []                    # ["A", "B", "{short}", "{arc}", "p"]: along A-B, then to the left, to p
levels = []                     # ["1", "{rod}"]: point, rod reading
# housing_floor = { points = [["f", "{short}"]], drain = "d" }   # levelled points of its floor, each with its run
# coordinates = "points.csv"    # name,x,y,sigma from a total station, a laser or a drawing
""",
    "file.pool": """\
# [pool]
# water = ["1", { arc = "{arc}" }, "2", "3", "4"]   # the water's edge in order; the arc rounds the corner before it
# curve = false                 # true: one smooth closed curve through the points
# obstacles = []                # { name = "wall", points = ["w1", "w2"], kind = "wall" }; rail, rock, step, deck-edge
""",
    "file.later": """\
# [cover]
# mount = "under-coping"        # under-coping | flush | on-deck
# housing = "any"               # the edge the housing lies along, as ["1", "4"], or "any" end
# drive_side = "left"           # where the motor is: left | right, standing at the housing, looking over the water
# margins = { side = "{side}", end = "{end}" }   # cover past the water's edge at the sides and at the far end
# minimise = "area"             # area | width
# choices = {}                  # lengths chosen for this job alone

# After the pour. Stations run from the housing; leave out what is not measured.
# [as_built]
# gauge = [["0", "{long}"]]     # station, distance between the tracks
# channel = { left = "{long}", right = "{long}" }
# diagonals = ["{long}", "{long}"]   # housing left to far right, housing right to far left
# offsets = { left = [["0", "{arc}"]], right = [["0", "{arc}"]] }   # station, offset, + to the right
# housing = { inside = "{long}" }
# fascia = { clear = "{long}" }
# lid = { opening = "{long}" }

# While the cover runs. Drive side ahead is +, "" is not taken, current in amperes.
# [run]
# leads = [["{short}", "{sigma}", "-{sigma}", 3.1]]   # station, closing lead, opening lead, current
# seen = []

# What the firm knows of its costs; `stringline order --place` writes here what went out.
# [order]
# wrong_order_cost = 9000       # in whatever the firm counts in
# day_cost = 400                # a day that the job waits
# days_to_wait = 10             # until after the pour
# after_pour = false            # true: the order waits for the as-built readings

# [rack]
# offcuts = ["{short}"]         # offcuts of track with one factory end

# [power]
# volts = 240
# run = "{long}"                # of the wires, from the panel to the motor

# [drain]
# pipe = "{side}"               # inside diameter

# [control]
# point = "1"                   # the surveyed point where the one stands who moves the cover

# [tasks]
# list = [{ name = "form" }, { name = "pour", after = ["form"], days = 1 }]
""",
    # begun from a drawing
    "file.begun": """\
# Begun from {drawing}, layer {layer}, 1 drawing unit = {unit} m.{moved}{over}
# Points stand where they were drawn, not where a tape found them. Tape a few lines between them: until then nothing
# says that the pool was built as drawn.
""",
    "file.moved": " x less {x} m, y less {y} m.",
    "file.over": " Left out: {kinds}.",
    "file.drawn": """\
[survey]
tape_class = "II"               # marked on the tape: I | II | III; or one sigma for all: sigma = "3 mm"
coordinate_sigma = {sigma}      # how far a point may stand from where it is drawn (one σ): yours to say
coordinates = [                 # point, x, y
{rows:lines}
]
tapes = [
  # ["{a}", "{b}", "what the tape said"],
]

[pool]
water = {water}
curve = {curve}
obstacles = []                  # { name = "wall", points = ["w1", "w2"], kind = "wall" }; rail, rock, step, deck-edge
""",
    # written from a job
    "file.about": """\
A Stringline job. Readings are never changed: take one again and add a line, or set one aside with struck = "why"
in the table behind it.
""",
    "file.about.survey": "What was measured, each reading as it was written.",
    "file.about.survey.sketch": "Rough positions, only to tell sides.",
    "file.about.survey.known": "Control points, held fixed.",
    "file.about.survey.tapes": "From, to, reading.",
    "file.about.survey.offsets": "From, to, station along that line, offset to the left of it, point.",
    "file.about.survey.levels": "Point, rod reading: more is lower.",
    "file.about.survey.coordinates": "Point, x, y, from a total station, a laser or a drawing.",
    "file.about.survey.blocked": "Pairs of points that no tape can be pulled between.",
    "file.about.pool": "The water's edge in order, and what stands around it.",
    "file.about.cover": "What was chosen. Left and right as seen from the housing, over the water.",
    "file.about.as_built": "Measured after the pour. Stations run from the housing.",
    "file.about.as_built.gauge": "Station, distance between the tracks.",
    "file.about.as_built.offsets": "Station, offset from the stringline, + to the right.",
    "file.about.as_built.diagonals": "Housing left to far right, housing right to far left.",
    "file.about.run": 'While the cover runs. Drive side ahead is +, "" is not taken, current in amperes.',
    "file.about.run.leads": "Station, closing lead, opening lead, current.",
    "file.about.run.earlier": "A run before, and what was put right after it.",
    "file.about.order": "Costs in whatever the firm counts in, and what went out.",
    "file.about.rack": "Offcuts of track with one factory end.",
    "file.about.power": "The motor's supply.",
    "file.about.drain": "Water on the cover and in the housing.",
    "file.about.control": "Where the one stands who moves the cover.",
    "file.about.tasks": "The work: days it takes, and what comes before it.",
}
