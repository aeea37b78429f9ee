"""Names of what is made and moved: pieces, stock, orders, how the cover rolls, runs and is diagnosed."""

MADE = {
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
        other          chance of a cause that is on no list
        doubtful       single leads that are likelier false than not
        notes!         what it leans on
    """,
    "Doubtful": """
        what           closing or opening
        station_m      from the housing
        lead_m         as it was read
        chance         that it is false
        text!          to take it again
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
