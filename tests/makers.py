"""An invented catalogue, job and layout with round numbers, for tests that want to work a figure by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from stringline.geometry import Frame
from stringline.job.model import Cover, Job, SurveyInput
from stringline.job.readings import AsBuilt
from stringline.judging import Stage
from stringline.layout.result import Layout
from stringline.lengths import Unit
from stringline.system import model as m
from stringline.worked import Figure, Origin

INCH = 0.0254
FOOT = 12 * INCH


def make_system(**track: Any) -> m.System:
    """A catalogue with the trade's defaults; keyword arguments replace values of its track."""
    base = m.Track(
        name="Invented track",
        channels=1,
        stick_lengths_m=(20 * FOOT, 16 * FOOT, 12 * FOOT),
        into_housing_m=1 * INCH,
        pulley_spacer_m=1.5 * INCH,
        min_last_piece_m=3 * FOOT,
        kerf_m=0.125 * INCH,
        pin_spacing_m=2 * FOOT,
        pin_hole_m=0.25 * INCH,
        pin_from_end_m=6 * INCH,
        joint_clear_m=3 * INCH,
        joint_stagger_m=2 * FOOT,
        centre_to_channel_wall_m=1.5 * INCH,
    )
    return m.System(
        key="invented-test",
        name="Invented for tests",
        invented=True,
        track=replace(base, **track),
        wedge=m.Wedge(length_m=4 * FOOT, stop_short_m=1.5 * INCH),
        filler=m.Filler(stick_lengths_m=(10 * FOOT, 8 * FOOT), end_gap_m=0.5 * INCH),
        rope=m.Rope(
            diameter_m=5 / 16 * INCH,
            cut_station_m=9 * FOOT,
            cut_station_low_m=8 * FOOT,
            cut_station_high_m=10 * FOOT,
            reel_tail_m=4 * FOOT,
            break_load_n=13_000.0,
            stiffness_n=120_000.0,
            min_design_factor=5.0,
            knot_efficiency=0.6,
        ),
        reel=m.Reel(barrel_radius_m=0.04, flange_radius_m=0.09, width_m=0.06, freeboard_m=0.006),
        leading_edge=m.LeadingEdge(
            end_reach_m=8 * INCH,
            adjust_m=1.5 * INCH,
            screw_from_inner_end_m=0.75 * INCH,
            pilot_drill_m=11 / 64 * INCH,
            end_length_m=18 * INCH,
            mass_per_m=1.5,
            slider_length_m=0.15,
            slider_eccentricity_m=0.02,
        ),
        drum=m.Drum(
            outer_radius_m=0.0635,
            wall_m=0.004,
            deduct_m=5 * INCH,
            modulus_pa=69e9,
            shear_modulus_pa=26e9,
            density_kg_m3=2700.0,
            brake_nm=4.0,
        ),
        fabric=m.Fabric(
            thickness_m=0.0006,
            packing=1.1,
            hem_thickness_m=0.0025,
            mass_kg_m2=0.6,
            hem_each_side_m=2 * INCH,
            width_take_up_m=1.5 * INCH,
            on_drum_m=6 * FOOT,
            front_hem_m=6 * INCH,
            lead_in_m=6 * INCH,
            length_take_up_m=12 * INCH,
            hem_stiffness_n=200_000.0,
        ),
        housing=m.Housing(
            inside_depth_m=0.45,
            inside_height_m=0.45,
            inside_beyond_track_m=10 * INCH,
            lid_overlap_m=1 * INCH,
            lid_panel_m=4 * FOOT,
            lid_gap_m=0.125 * INCH,
            fascia_end_m=8 * INCH,
            fascia_stick_m=20 * FOOT,
            min_drain_fall=0.01,
        ),
        motor=m.Motor(
            rated_power_w=560.0,
            rated_torque_nm=300.0,
            speed_rad_s=0.6,
            gear_efficiency=0.7,
            full_load_a=9.8,
            volts=115.0,
        ),
        friction=m.Friction(
            hem_dry=0.25,
            hem_wet=0.2,
            guide=0.2,
            guide_wrap_rad=1.57,
            pulley_efficiency=0.92,
            slider=0.2,
            hem_side_load_n_m=8.0,
            seal_n=20.0,
        ),
        limits=m.Limits(
            straightness_m=0.006,
            parallelism_m=0.006,
            gauge_m=0.006,
            square_m=0.006,
            diagonal_m=0.01,
            lead_m=0.05,
            max_width_m=7.0,
            max_length_m=18.0,
            min_overlap_m=0.05,
            drum_sag_ratio=1 / 360,
            reel_freeboard_m=0.006,
            max_water_depth_m=0.05,
        ),
        hardware=m.Hardware(screws_per_splice=4, screws_per_end=1, splices_per_joint=1),
    )


def make_job(as_built: AsBuilt | None = None, **choices: Any) -> Job:
    """A job without readings; keyword arguments become the cover's choices."""
    return Job(
        name="Invented pool",
        unit=Unit.FT_IN,
        stage=Stage.FIT_OUT,
        system="invented-test",
        survey=SurveyInput(()),
        invented=True,
        cover=Cover("under-coping", ("1", "4"), "left", 3 * INCH, 12 * INCH, choices=choices),
        as_built=as_built,
    )


def make_layout(gauge_m: float = 18 * FOOT, channel_m: float = 40 * FOOT, travel_m: float = 38 * FOOT) -> Layout:
    """A layout along the y axis with the figures given, each with a σ of 3 mm."""

    def figure(label: str, value: float) -> Figure:
        return Figure.single(label, value, Origin.DERIVED, sigma=0.003)

    half = gauge_m / 2
    water = np.array([[-half, 0.5], [half, 0.5], [half, channel_m - 0.5], [-half, channel_m - 0.5]])
    return Layout(
        frame=Frame((0.0, 0.0), np.pi / 2),
        housing_edge=("1", "4"),
        water=water,
        drive_side="left",
        gauge=figure("Gauge", gauge_m),
        water_width=figure("Water, across", gauge_m - 6 * INCH),
        water_length=figure("Water, along", channel_m - 2 * FOOT),
        side_margin=Figure.single("Side margin", 3 * INCH, Origin.CHOSEN),
        end_margin=Figure.single("End margin", 12 * INCH, Origin.CHOSEN),
        setback=Figure.single("Setback", 12 * INCH, Origin.CHOSEN),
        travel=figure("Travel", travel_m),
        channel=figure("Channel", channel_m),
    )
