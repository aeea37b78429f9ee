"""Sources of the mechanics chapter."""

from __future__ import annotations

from stringline.sources.model import Source, Standing

ENTRIES: tuple[Source, ...] = (
    Source(
        "spiral",
        "Thickness, turns and length of a roll",
        Standing.OWN,
        note="Area of the roll equals area of the sheet; checked against the spiral's arc-length integral.",
    ),
    Source(
        "reel-layers",
        "Rope on a reel, layer by layer",
        Standing.OWN,
        note="Turns a layer × circumference of the layer's middle; checked against published reel tables.",
    ),
    Source(
        "capstan",
        "Euler–Eytelwein rope friction, e^(μβ); open textbook of engineering statics, ex. 6.5",
        Standing.VERIFIED,
        note="Recomputed for four published cases.",
    ),
    Source(
        "sheave",
        "Wire Rope Users Manual, 4th ed.",
        Standing.VERIFIED,
        "p. 88, sheave bearings",
        "About 0.962 a sheave on rollers, 0.917 plain.",
    ),
    Source(
        "design-factor",
        "Cordage Institute CI 1401, Safer use of fiber rope",
        Standing.SEEN,
        note="Design factors of 5 to 12 in general use; a knot can cost half the strength.",
    ),
    Source(
        "sticking-drawer",
        "Beer & Johnston, Vector Mechanics for Engineers: Statics, sliding bracket",
        Standing.VERIFIED,
        note="Jams when the pull stands farther out than guided length over twice the friction coefficient.",
    ),
    Source(
        "beam-sag",
        "Elementary beam theory, simply supported and evenly loaded: 5wL⁴/(384EI)",
        Standing.VERIFIED,
        note="Checked against a finite-element beam and against handbook sections.",
    ),
    Source("torsion", "Torsion of a round tube: TL/(GJ)", Standing.VERIFIED, note="Checked against a worked example."),
    Source(
        "lead",
        "Why a leading edge runs crooked",
        Standing.OWN,
        note="Statics and kinematics of two ropes, two hems and a turning brake; checked against energy minimisation.",
    ),
    Source(
        "lead-history",
        "Rope and hem keep the stretch they were wound up with",
        Standing.OWN,
        note="Material is conserved: a pull that stays the same leaves a lag that stays the same.",
    ),
    Source(
        "motor-line",
        "Motor current on a straight line between no-load and full-load current",
        Standing.PRACTICE,
        note="The no-load share is a catalogue value; a logged current calibrates it.",
    ),
    Source(
        "least-squares",
        "NIST Statistical Reference Datasets, linear regression",
        Standing.VERIFIED,
        "Norris, Longley",
        "The regression that reads logged currents and leads reproduces the certified values.",
    ),
    Source(
        "variance-share",
        "Sobol', Sensitivity estimates for nonlinear mathematical models (1993); Homma & Saltelli (1996)",
        Standing.FROM_MEMORY,
        note="First-order share: variance of the conditional mean over the whole variance.",
    ),
    Source(
        "sparse-causes",
        "Few causes at a time, each with an amount that cannot be negative",
        Standing.OWN,
        note="Every subset of up to three causes is weighed by its exact truncated-Gaussian evidence.",
    ),
    Source(
        "seen-on-site",
        "What an eye sees and what it usually means",
        Standing.PRACTICE,
        note="A small table of odds; it shifts the causes' chances and never their amounts.",
    ),
)
