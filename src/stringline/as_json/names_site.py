"""Names of what a site has: figures and checks, survey, levels, layout, form, what to tape."""

SITE = {
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
}
