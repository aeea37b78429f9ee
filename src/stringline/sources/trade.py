"""Practice of the trade: no published source, every value editable in a catalogue."""

from __future__ import annotations

from stringline.sources.model import Source, Standing


def _practice(key: str, title: str, note: str = "") -> Source:
    return Source(key, title, Standing.PRACTICE, note=note)


ENTRIES: tuple[Source, ...] = (
    _practice("trade", "Practice of the trade"),
    _practice(
        "catalogue",
        "The hardware catalogue that the job names",
        "What a firm writes for what it installs; the one shipped here is invented.",
    ),
    _practice("track-into-housing", "A track runs 1 in past its channel into the housing", "track.into_housing"),
    _practice(
        "pulley-spacer",
        "The pulley spacer is deducted at the far end, for a two-channel track only",
        "track.pulley_spacer, track.channels",
    ),
    _practice(
        "track-cut-end",
        "Tracks are cut at the housing end only; factory ends stay at the joints and at the pulley",
        "track.stick_lengths, track.min_last_piece",
    ),
    _practice("wedge-stop", "The last wedge stops 1 1/2 in short of the channel's end", "wedge.stop_short"),
    _practice(
        "pin-hole",
        "A 1/4 in locking-pin hole passes through channel top, track and channel bottom",
        "track.pin_hole, track.pin_spacing, track.pin_from_end",
    ),
    _practice(
        "edge-end-screw",
        "An adjustable end is screwed 3/4 in from its inner end after an 11/64 in pilot through the leading edge alone",
        "leading_edge.screw_from_inner_end, leading_edge.pilot_drill",
    ),
    _practice("hem-lead-in", "About 6 in of hem is led into the track before the lacing", "fabric.lead_in"),
    _practice(
        "rope-cut-point",
        "Both ropes are cut at one same point 8 to 10 ft in front of the housing",
        "rope.cut_station, rope.cut_station_low, rope.cut_station_high; one job may choose its own: rope_cut",
    ),
    _practice(
        "fascia-centre",
        "The fascia's centre piece is the clear distance between its end pieces",
        "housing.fascia_end; as built: fascia_clear",
    ),
    _practice("pivot-snug", "Pivot hardware is tightened snug, then backed off slightly"),
    _practice("joint-rules", "Joints stay clear of pins, pulley and guides, and are staggered left to right"),
    _practice("narrowest-governs", "The smallest gauge on the run governs the leading edge"),
    _practice("gauge-at-housing", "The gauge at the housing governs drum, fascia and lid"),
)
