"""What a hardware catalogue says. All lengths in metres; every value a firm can edit in its own file."""

from __future__ import annotations

import math
from dataclasses import dataclass

from stringline.lengths import INCH


@dataclass(frozen=True, slots=True)
class Track:
    """A track profile and how it is cut, joined and held."""

    name: str
    channels: int  # 1, or 2 where the rope returns in a channel of its own
    stick_lengths_m: tuple[float, ...]  # factory lengths that can be bought, longest first
    into_housing_m: float  # how far a track runs past its channel into the housing
    pulley_spacer_m: float  # deducted at the far end, for a two-channel track only
    min_last_piece_m: float
    kerf_m: float
    pin_spacing_m: float
    pin_hole_m: float  # through channel top, track and channel bottom
    pin_from_end_m: float
    joint_clear_m: float  # a joint stays this far from a pin
    joint_stagger_m: float  # left and right joints stay this far apart
    centre_to_channel_wall_m: float  # track centreline to the channel's pool-side wall


@dataclass(frozen=True, slots=True)
class Wedge:
    """Wedges that hold a track in its channel."""

    length_m: float
    stop_short_m: float  # the last wedge stops this far short of the channel's end
    shift_m: float = 0.003  # changing wedges from one side to the other moves a track sideways as far as this
    shim_m: float = 0.010  # shims may pack it out as far as this; beyond, the channel is re-set


@dataclass(frozen=True, slots=True)
class Filler:
    """Strip that closes the channel's mouth beside the track."""

    stick_lengths_m: tuple[float, ...]
    end_gap_m: float


@dataclass(frozen=True, slots=True)
class Rope:
    """Rope and the rules by which it is cut."""

    diameter_m: float
    cut_station_m: float  # both ropes are cut at one point this far in front of the housing
    cut_station_low_m: float
    cut_station_high_m: float
    reel_tail_m: float  # from the housing face to the reel, with the turns that stay on it
    break_load_n: float
    stiffness_n: float  # EA
    min_design_factor: float
    knot_efficiency: float
    pulley_radius_m: float = 0.025  # far-end pulley, to the middle of the rope


@dataclass(frozen=True, slots=True)
class Reel:
    """Rope reel."""

    barrel_radius_m: float
    flange_radius_m: float
    width_m: float
    freeboard_m: float
    brake_nm: float = 3.0  # drag of the reels turning free, both together
    dead_turns: float = 3.0  # turns that stay on with the cover open


@dataclass(frozen=True, slots=True)
class LeadingEdge:
    """Stiff front member with an adjustable end on each side."""

    end_reach_m: float  # leading edge tube's end to track centreline, ends at mid adjustment
    adjust_m: float  # each end can go this far in or out of mid
    screw_from_inner_end_m: float
    pilot_drill_m: float
    end_length_m: float
    mass_per_m: float
    slider_length_m: float
    slider_eccentricity_m: float
    max_swing_rad: float = 0.03  # out of square at which the sliders bind


@dataclass(frozen=True, slots=True)
class Drum:
    """Drum the cover rolls on."""

    outer_radius_m: float
    wall_m: float
    deduct_m: float  # gauge less this is the drum's length
    modulus_pa: float
    shear_modulus_pa: float
    density_kg_m3: float
    brake_nm: float


@dataclass(frozen=True, slots=True)
class Fabric:
    """Cover sheet and its hems."""

    thickness_m: float
    packing: float
    hem_thickness_m: float
    mass_kg_m2: float
    hem_each_side_m: float  # added to the gauge on each side for width
    width_take_up_m: float  # change of gauge that the hems can take up, total
    on_drum_m: float  # length that stays on the drum with the cover closed
    front_hem_m: float
    lead_in_m: float  # hem led into the track before the leading edge is laced
    length_take_up_m: float
    hem_stiffness_n: float  # EA of one hem


@dataclass(frozen=True, slots=True)
class Housing:
    """Housing, lid and fascia."""

    inside_depth_m: float
    inside_height_m: float
    inside_beyond_track_m: float  # the housing's inside length runs this far past each track centreline
    lid_overlap_m: float
    lid_panel_m: float
    lid_gap_m: float
    fascia_end_m: float  # length of one fascia end piece
    fascia_stick_m: float
    min_drain_fall: float

    @property
    def drum_behind_m(self) -> float:
        """How far the drum, in the housing's middle, lies behind its face."""
        return self.inside_depth_m / 2


@dataclass(frozen=True, slots=True)
class Motor:
    """Motor and gearbox."""

    rated_power_w: float
    rated_torque_nm: float  # at the drum or reel shaft, behind the gearbox
    speed_rad_s: float  # of the drum or reel shaft
    gear_efficiency: float
    full_load_a: float
    volts: float
    no_load_share: float = 0.4  # of the full-load current, drawn with nothing to pull


@dataclass(frozen=True, slots=True)
class Friction:
    """Sliding and turning resistances."""

    hem_dry: float
    hem_wet: float
    guide: float
    guide_wrap_rad: float
    pulley_efficiency: float
    slider: float
    hem_side_load_n_m: float
    seal_n: float


@dataclass(frozen=True, slots=True)
class Limits:
    """What the catalogue allows. A check compares with these and never with a number of its own."""

    straightness_m: float
    parallelism_m: float
    gauge_m: float  # ± on the gauge along the track
    square_m: float  # run-out of the housing axis over the gauge
    diagonal_m: float
    lead_m: float
    max_width_m: float
    max_length_m: float
    min_overlap_m: float  # cover past the water's edge on each side
    drum_sag_ratio: float
    reel_freeboard_m: float
    max_water_depth_m: float
    wall_gap_m: float = 0.025  # may stay open in front of a wall that is not quite square to the tracks
    along_coping_rad: float = math.radians(1)  # a track under the coping runs along the water's side to within this, 1°


@dataclass(frozen=True, slots=True)
class Hardware:
    """Counts and spacings of small parts."""

    screws_per_splice: int
    screws_per_end: int
    splices_per_joint: int
    wedge_spacing_m: float | None = None


@dataclass(frozen=True, slots=True)
class Tolerances:
    """How far what is built and made strays from what was asked for: one σ each, practice until a firm knows its own.

    The section may be left out of a catalogue; these are the values then.
    """

    gauge_built_m: float = 0.005  # the whole run's gauge against the pool as it stands
    gauge_form_m: float = 0.003  # from place to place along the run
    length_built_m: float = 0.008  # the channel's length
    cover_width_made_m: float = 0.004
    cover_length_made_m: float = 0.008
    edge_made_m: float = 0.0015
    drum_made_m: float = 0.0015
    as_built_tape_m: float = 0.002  # a reading taken after the pour, where the job gives no σ for it
    lead_tape_m: float = INCH / 8  # a lead read off the tracks while the cover runs, 1/8 in
    drum_play_m: float = 0.025  # not a σ: how far the drum's length may be off before it is cut or replaced
    least_fit_probability: float = 0.95  # not a σ: an order less likely to fit than this is held


@dataclass(frozen=True, slots=True)
class System:
    """One hardware catalogue."""

    key: str
    name: str
    invented: bool
    track: Track
    wedge: Wedge
    filler: Filler
    rope: Rope
    reel: Reel
    leading_edge: LeadingEdge
    drum: Drum
    fabric: Fabric
    housing: Housing
    motor: Motor
    friction: Friction
    limits: Limits
    hardware: Hardware
    tolerances: Tolerances = Tolerances()
