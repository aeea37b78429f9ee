"""What each value is called in the JSON of schema 1, and what it means: one block a class, one line a field.

A line is ``name  meaning``. ``name=attribute`` takes another attribute than the name says; ``name=()`` is worked out by
the function of that name in :mod:`stringline.as_json.derived`. A ``!`` behind the name says that the field is a finding
or a code and is written in words. A block that begins ``..Other`` has all of Other's fields first. A class without a
block has the names of its own fields. docs/json.md is made from these lines.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from functools import cache

TABLES = {
    "Figure": """
        key            the code of its label, by which the program finds where it is worked out
        label!         what it is
        value          in the SI unit of its kind
        kind           length, angle, area, volume, count, ratio, probability, force, torque, …
        origin         measured, chosen, catalogue, practice or derived
        sigma          its standard uncertainty; null where unknown
        source         a key of `stringline sources`; null where there is none
        rule!          how the value follows from the terms; null where they add up to it
        terms          what it is made of
    """,
    "Term": """
        label!         what it is
        value          signed, in the figure's unit (or of its own kind, where a rule takes it)
        origin         as for a figure
        source         as for a figure
        sigma          as for a figure
    """,
    "Limit": """
        low            null where open
        high           null where open
        source         who sets it
    """,
    "Check": """
        code           one of [checks.md](checks.md)
        title!         what it asks
        verdict        pass, watch, fail, cannot tell or not measured
        stage          the stage whose work must not go on past it
        stops          whether the stage waits for it
        figure         what was held against the limit; null where there is none
        limit          null where there is none
        consequence!   what follows if it is ignored
        action!        what to do
    """,
    "Survey": """
        schema=()      1
        freedom        readings more than needed
        sigma0         √(vᵀPv / freedom), without dimension; 0 where freedom is 0
        global_test    the test of all readings together
        points=()      the points by name
        tapes          the taped distances
        others         stringline offsets and observed coordinates, one row a value
        suspects       the readings that the others contradict; never corrected
        next_tapes     what to tape next
        struck         readings that a person set aside
        notes!         what cannot be told
        levels=()      what the rod readings say, along the points' longest extent; null where no rod was read
    """,
    "GlobalTest": """
        statistic      vᵀPv
        low            of the χ² interval, 95 %, two-sided
        high           of the same
        pass=pass_     whether the statistic lies inside
    """,
    "PointResult": """
        x_m            towards the baseline's far end
        y_m            to its left
        sx_m           a priori
        sy_m           a priori
        fixed          held, so without uncertainty
        ellipse        the standard error ellipse
    """,
    "Ellipse": """
        major_m        1 σ half-axis
        minor_m        1 σ half-axis
        angle_rad      of the major axis from x
    """,
    "TapeResult": """
        from=frm       a point
        to             a point
        read_m         as it was read
        adjusted_m     as it fits all readings best
        residual_m     adjusted less read
        sigma_m        of the reading
        redundancy     how far the others check it: 0 not at all, 1 wholly
        w              the residual in its own σ; null where nothing checks the reading
        tau            Pope's τ; null where σ₀ cannot be estimated
        smallest_slip_m  a smaller slip may pass unseen; null where any would
        text           as it was written
        line           of the job file
    """,
    "OtherReading": """
        what=kind      station, offset, x or y
        points         the stringline's two and the point, or the point alone
        read_m         as for a tape
        adjusted_m     as for a tape
        residual_m     as for a tape
        sigma_m        as for a tape
        redundancy     as for a tape
        w              as for a tape
        smallest_slip_m  as for a tape
        line           as for a tape
    """,
    "Suspect": """
        from=frm       a point
        to             a point
        read_m         as it was read
        expected_m     from all other readings
        sigma_m        of what is expected
        slip!          the likeliest misreading
        odds           for this reading and slip against all else
        likely_m       what the tape would have shown without the slip; null where it is not known
        line           of the job file
        rivals!        lines it cannot be told from
        would_tell!    the reading that would tell; null where none is needed
    """,
    "NextTape": """
        from=frm       a point
        to             a point
        expected_m     what it should read
        buys!          what it is worth
    """,
    "Struck": """
        from=frm       a point
        to             a point
        read_m=()      as it was read
        text=()        as it was written
        reason         why it was set aside
        line           of the job file
    """,
    "Levels": """
        datum          the point that heights are above
        along=()       "cover": from the housing over the water; "points": where they reach farthest
        heights=()     by point: height_m and its sigma_m
        freedom=()     rod readings more than needed
        fall_along     positive downwards; null where there are too few points
        fall_across    to the right
        out_of_plane   farthest from the best plane
        flatness       width of the narrowest pair of planes
        twist          of four points
        notes!         what is missing or contradicts itself
    """,
    "Levelled": """
        ..Levels
        floor          least fall of the housing's floor to its drain, as a ratio; null where it was not levelled
    """,
    "Layout": """
        frame=()       origin_m [x, y] and heading_rad of the cover in the survey
        housing_edge   the water's edge it lies along
        drive_side     left or right, looking over the water from the housing
        corners_m=()   near left, near right, far right, far left, on the track centrelines
        gauge          between the track centrelines
        water_width    extent of the water across
        water_length   extent of the water along
        side_margin    beyond the water on each side
        end_margin     beyond the far water
        setback        housing face to the nearest water
        travel         of the leading edge
        channel        length of the tracks' channel
        water_area     null where unknown
        water_perimeter  null where unknown
        edge=()        σ of the water's edge square to itself: worst_sigma_m with worst_at_m [x, y], least_sigma_m
        clearances     from parts of the cover to what stands around the water
        notes!         what is taken for granted
    """,
    "Clearance": """
        obstacle       its name
        part!          of the cover
        figure         negative where they overlap
    """,
    "Fit": """
        basis          survey or as-built
        straight_left  null where there is no reading
        straight_right  null where there is no reading
        parallel       null where there is no reading
        square         run-out of the housing over the gauge
        diagonals      their difference
        gauge          by station
        notes!         what is missing
    """,
    "GaugeAt": """
        station_m      from the housing
        gauge          between the tracks
        deviation      from the gauge laid out or ordered
    """,
    "Option": """
        end!           where the housing stands
        by             what was made least: area or width
        chosen         whether it was taken
        fits=()        whether a cover fits there
        why!           taken or not
        beyond!        what the catalogue has no parts for
        gauge=()       null where nothing fits
        travel=()      null where nothing fits
        area           between the tracks
        drum           its length
        track          each side
        cover_width    null where nothing fits
        cover_length   null where nothing fits
    """,
    "Remedy": """
        out!           the limits that the tracks as built do not safely keep
        as_is          what ordered parts must take up if nothing is moved
        ways           to put it right, least moving first
        notes!         what is missing
    """,
    "Effect": """
        part!          the ordered part
        figure         what it must take up
        limit          what it can
        verdict        as for a check
        says!          what to do with it
    """,
    "Correction": """
        title!         what is done
        total_m        of moving
        gauge          the even gauge that it leads to
        moves          one a place
        after          the form after it
        effects        on the ordered parts
    """,
    "Move": """
        side           left or right
        station_m      from the housing
        means!         wedge, shim or re-set
        figure         + to the right
    """,
    "Taping": """
        tape_m         the tape's reach
        baseline=()    its two ends
        where!         to set it
        stakes_m=()    the baseline's ends, by name [x, y]
        lines=()       in order: from, to, about_m, check (it only checks others)
        needed=()      lines that tie every point
        axis_m=()      largest ellipse half-axis by point, 1 σ
        worst_m=()     after the first `needed` lines
        checked_worst_m=()  after all
        two_point_worst_m=()  of the plain scheme from two stakes; null where the tape is too short for it
        weakest_redundancy=()  of any line
        notes!         what is taken for granted
    """,
    "CutList": """
        pieces         one a card
        notes!         what to see to first
    """,
    "Piece": """
        key            stable
        mark           chalked on the piece
        name!          what it is
        side           left, right, both or none
        count          how many alike
        basis          survey or as-built
        material!      what it is cut from
        when           the stage it is cut in
        figure         its length
        segments       sticks of a run, from the housing end
        marks          places along it
        steps!         in order
        cautions!      where it can hurt somebody
    """,
    "Segment": """
        start_m        from the housing end
        length_m       of this part
        whole          both factory ends kept
        stick_m        what it is cut from
        label!         what is written on it
    """,
    "Mark": """
        at_m           from the housing end
        kind           joint, pin, screw, factory-end, cut-end, wedge-end or note
        label!         what it is
    """,
    "Order": """
        basis!         what it was made from
        lines          one an item
        notes!         what to see to first
    """,
    "OrderLine": """
        key            stable
        item!          what to order
        supplier!      of whom
        count          how many
        figures        that fix it
        note!          to the supplier
    """,
    "Parts": """
        lines          one a kind of part
    """,
    "PartLine": """
        key            stable
        item!          what it is
        count          how many, with the rule
    """,
    "Advice": """
        take           the choice advised: now, reading or wait
        why!           the advice
        choices        side by side
        notes=()       always empty: what cannot be read is a fault of the job
    """,
    "Choice": """
        key            now, reading or wait
        title!         what is done
        probability=()  that everything fits
        cover_width=()  that the cover's width fits
        cover_length=()  that its length fits
        leading_edge=()  that the leading edge fits
        drum=()        that the drum fits
        figures        with what they are made of
        cost           to expect; null where the job states no costs
        note=()        empty
    """,
    "Placed": """
        date           the day it went out
        mark           the plan it went out with
        figures        by key of the order
        notes=()       always empty: what cannot be read is a fault of the job
    """,
    "Difference": """
        verdict!       in a sentence
        basis!         what is compared with what
        changed_since_order  whether anything did
        lines          one a part
        reissued       cut cards that changed; the old ones are void
        notes!         what is missing
    """,
    "Line": """
        key            stable
        item!          the part
        designed       null where not known
        ordered        null where not known
        needed         null where not known
        change         needed less ordered
        does           fits, take up, trim, measure again, not measured or order again
        says!          what to do
    """,
    "Reissued": """
        key            of the piece
        mark           of the piece
        name!          of the piece
        old            what the void card says
        new            what the new card says
        revision       of the new card
    """,
    "JobsPlan": """
        proven         no plan wastes less, in any material
        tracks         one a profile
        plain          one a material that may be joined anywhere
        notes!         what gave way, and where
    """,
    "TrackStock": """
        profile        of the catalogue
        bought_m=()    length of all sticks bought
        bound_m=()     no plan buys less
        gap=()         between the two, as a share of what is bought
        proven=()      there is no gap
        sticks=()      bought: length_m and count
        runs=()        run (whose), length_m, whole_m (from the pulley), last_m; joints_m, pins_m (from the housing)
        cuts=strips    sticks and rack pieces that are cut
        rack_used_m=()  lengths of the rack pieces taken
        back_on_rack_m  offcuts that keep a factory end and are long enough
        scrap_m=()     the rest, saw cuts with it
    """,
    "Strip": """
        stick_m        its length
        times          how many alike
        from_rack      or bought
        factory_ends=()  left and right
        spans          from the left end
    """,
    "Span": """
        start_m        from the stick's left end
        length_m       of this stretch
        kind           piece, kerf, offcut or scrap
        label!         what it is
    """,
    "PlainStock": """
        material!      what is cut
        sticks_used=()  how many
        bound=()       no plan with so little material has fewer
        proven=()      no plan wastes less
        waste_m=()     offcuts and saw cuts
        cuts=strips    stick by stick
    """,
    "ListedPlan": """
        sticks_used=()  how many
        bound=()       no plan with so little material has fewer
        proven=()      no plan wastes less
        material_m=()  of the sticks used
        material_bound_m=()  no plan takes less
        waste_m=()     offcuts and saw cuts
        patterns=()    ways of cutting a stick: stick, length_m, times, pieces (name, length_m, count), left_m
    """,
    "RackPiece": """
        label          chalked on it
        length_m       of the piece
        text!=()       as written on it; of a piece just cut, what a tape reads
        profile        empty where there is only one
    """,
    "Mechanics": """
        figures=()     by name
        closing        over the travel
        opening        over the travel
        refusals       parts that cannot do this job
        notes!         what is taken for granted
    """,
    "RunState": """
        station_m      of the leading edge, from open to closed
        drag_n         of one side
        slider_n       the rope's pull at the slider, one side
        reel_n         the rope's pull at the reel, one side
        hem_n          the hem's pull at the slider, one side
        drum_n         the hem's pull at the drum, one side
        torque_nm      of the motor's shaft
        speed_m_s      of the leading edge
        power_w        of the motor's shaft
        current_a      of the motor
        elapsed_s      since the run's start
    """,
    "Refusal": """
        code           reel-full, housing-small, motor-weak or rope-weak
        part!          what does not do
        why!           why not
        nearest!       what would; null where nothing is known
    """,
    "LeadPrediction": """
        station_m      from the housing
        closing=()     drawn_m, mean_m, low_m, high_m: 95 runs in 100 fall between
        opening=()     the same
        limit_m        of the catalogue
        worst          highest lead that 95 runs in 100 stay below
        p_over         that the lead passes the limit
        p_bind         that the leading edge binds
        shares         of each tolerance in the scatter, largest first
        samples        drawn
        notes!         what it leans on
    """,
    "Share": """
        field          of the tolerance
        label!         what it is
        share          of the variance where the lead scatters most
        advice!        how to keep it more tightly
    """,
    "Diagnosis": """
        verdict!       in a sentence
        sure           no other first cause is nearly as likely
        fits           whether the best explanation meets the readings
        causes         likeliest first
        rivals!        that cannot be told from the first
        after          lead to expect once the first action is done; null where there is none
        next_reading   that would tell most; null where none would
        misfit         root mean square of (reading − explanation)/σ
        lessons        what earlier actions did
        readings       how many
        notes!         what it leans on
    """,
    "CauseFound": """
        key            stable
        side           drive, idle or both
        title!         what it is
        probability    that it is there at all
        main           that it makes most of the lead
        amount         how much of it
        action!        what to do
        why!           what speaks for it
        effect_m       highest lead that it makes by itself
        station_m      of a tight spot; null for any other
    """,
    "LeadAfter": """
        station_m      from the housing
        closing_m      to expect
        opening_m      to expect
        sigma_m        of both
        worst          highest of them
    """,
    "NextReading": """
        what           closing, opening or current
        station_m      from the housing
        text!          what to read
        bits           expected from it
        doubt_bits     that there is
    """,
    "Lesson": """
        action!        what was done
        verdict!       what it did
        station_m      of each reading
        direction      closing or opening, of each reading
        predicted_m    what it was to become
        measured_m     what it became
        sigma_m        of the difference
    """,
}


@dataclass(frozen=True, slots=True)
class Field:
    """One field of an object: its name, where it is taken from, whether it is said in words, and what it means."""

    name: str
    attribute: str  # empty where a function works it out
    said: bool
    means: str


def fields_for(kind: type) -> tuple[Field, ...]:
    """The fields of a class: those of its block, or without one all its own, said in words where they are codes."""
    return fields_of(kind.__name__) if kind.__name__ in TABLES else _own(kind)


@cache
def _own(kind: type) -> tuple[Field, ...]:
    return tuple(Field(f.name, f.name, "Code" in str(f.type), "") for f in dataclasses.fields(kind))


@cache
def fields_of(table: str) -> tuple[Field, ...]:
    """The fields of a class that has a block, in their order. Raises KeyError for one that has none."""
    found: list[Field] = []
    for line in TABLES[table].strip().splitlines():
        head, _, means = line.strip().partition(" ")
        if head.startswith(".."):
            found += fields_of(head[2:])
            continue
        said = "!" in head
        name, _, attribute = head.replace("!", "").partition("=")
        found.append(Field(name, "" if attribute == "()" else attribute or name, said, means.strip()))
    return tuple(found)
