"""The job file that a new job starts from: every section explained, those not needed yet commented out."""

from __future__ import annotations

from stringline.lengths import Unit

# how one and the same example reads in each unit: a long, a shorter, a small one, a margin, an end, a radius, a rod
_EXAMPLES: dict[Unit, tuple[str, str, str, str, str, str, str]] = {
    Unit.FT_IN: ("24' 0\\\"", "11' 3 1/4\\\"", '1/4\\"', '3\\"', '12\\"', '6\\"', "3' 2 1/4\\\""),
    Unit.FT: ("24.00 ft", "11.27 ft", "0.02 ft", "0.25 ft", "1.00 ft", "0.50 ft", "3.19 ft"),
    Unit.M: ("7.315 m", "3.435 m", "6 mm", "75 mm", "300 mm", "150 mm", "0.972 m"),
    Unit.MM: ("7315 mm", "3435 mm", "6 mm", "75 mm", "300 mm", "150 mm", "972 mm"),
}
_MARKS = {
    Unit.FT_IN: '# Inside double quotes the inch mark is \\" as in "24\' 0\\"". 24-0 and 24 ft 0 in read as well.',
    Unit.FT: "# Bare numbers are decimal feet. 24-0-1/2, 24 ft 0 1/2 in and 7.32 m read as well.",
    Unit.M: "# Bare numbers are metres. 7315 mm, 731.5 cm and 24 ft 0 in read as well.",
    Unit.MM: "# Bare numbers are millimetres. 7.315 m, 731.5 cm and 24 ft 0 in read as well.",
}


def job_template(name: str, unit: Unit | str) -> str:
    """The text of a new job file. ``name`` is any text; raises ValueError for an unknown unit."""
    unit = Unit(unit)
    reach = "100 ft" if unit in (Unit.FT_IN, Unit.FT) else "30 m"
    long, short, sigma, side, end, arc, rod = _EXAMPLES[unit]
    return f"""\
# A Stringline job. Lines that start with # are remarks; take the # away to use what stands behind it.
{_MARKS[unit]}
# Names of points are text in quotes: "1", "A", "deep end left".

[job]
name = {quoted(name)}
unit = "{unit}"                  # ft-in | ft | m | mm: what bare numbers mean and how results read
stage = "survey"                # survey | layout | order | rough-in | fit-out | run-in | handover | service
system = "invented-18"          # a hardware catalogue: one that `stringline systems` lists, or the path of your own

[survey]
tape_class = "II"               # marked on the tape: I | II | III; or one sigma for all: sigma = "{sigma}"
baseline = ["A", "B"]           # A is the origin, x runs from A towards B; all other points lie to the left of it
behind = []                     # except these, which lie to the right
sketch = {{}}                     # rough positions in any scale, to tell sides: {{ "1" = [3, 4] }}
# tape_length = "{reach}"        # how far the tape reaches; with a sketch `stringline taping` then says what to pull
# blocked = [["1", "w1"]]       # pairs with a wall or hedge between them, never advised to be taped
# known = {{ A = ["0", "0"] }}    # control points held fixed, at least two; then there is no baseline

# One line for each reading: from, to, what the tape said. Write down what it said, also when it looks wrong.
# Never change a reading: take it again and add a line. To set one aside, add {{ struck = "why" }} behind it.
tapes = [
  # ["A", "B", "{long}"],
  # ["A", "1", "{short}"],
  # ["B", "1", "{short}", {{ sigma = "{sigma}", by = "initials", at = "09:40" }}],
]
offsets = []                    # ["A", "B", "{short}", "{arc}", "p"]: along A-B, then to the left, to p
levels = []                     # ["1", "{rod}"]: point, rod reading
# housing_floor = {{ points = [["f", "{short}"]], drain = "d" }}   # levelled points of its floor, each with its run
# coordinates = "points.csv"    # name,x,y,sigma from a total station, a laser or a drawing

# [pool]
# water = ["1", {{ arc = "{arc}" }}, "2", "3", "4"]   # the water's edge in order; the arc rounds the corner before it
# curve = false                 # true: one smooth closed curve through the points
# obstacles = []                # {{ name = "wall", points = ["w1", "w2"], kind = "wall" }}; rail, rock, step, deck-edge

# [cover]
# mount = "under-coping"        # under-coping | flush | on-deck
# housing = "any"               # the edge the housing lies along, as ["1", "4"], or "any" end
# drive_side = "left"           # where the motor is: left | right, standing at the housing, looking over the water
# margins = {{ side = "{side}", end = "{end}" }}   # cover past the water's edge at the sides and at the far end
# minimise = "area"             # area | width
# choices = {{}}                  # lengths chosen for this job alone

# After the pour. Stations run from the housing; leave out what is not measured.
# [as_built]
# gauge = [["0", "{long}"]]     # station, distance between the tracks
# channel = {{ left = "{long}", right = "{long}" }}
# diagonals = ["{long}", "{long}"]   # housing left to far right, housing right to far left
# offsets = {{ left = [["0", "{arc}"]], right = [["0", "{arc}"]] }}   # station, offset, + to the right
# housing = {{ inside = "{long}" }}
# fascia = {{ clear = "{long}" }}
# lid = {{ opening = "{long}" }}

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
# list = [{{ name = "form" }}, {{ name = "pour", after = ["form"], days = 1 }}]
"""


def quoted(name: str) -> str:
    """A name as a TOML text, whatever is in it."""
    out = ['"']
    for ch in name.strip() or "Unnamed job":
        if ch in '"\\':
            out.append(f"\\{ch}")
        elif ord(ch) < 0x20 or ord(ch) == 0x7F:
            out.append(" ")
        elif 0xD800 <= ord(ch) <= 0xDFFF:
            out.append("\ufffd")
        else:
            out.append(ch)
    return "".join([*out, '"'])
