"""How the cover rolls, pulls and tracks, with both sides alike and with departures from that.

The laws stand in ``roll`` (spiral), ``reel`` (layers of rope), ``forces`` (friction, jamming, motor) and ``drum``
(tube); ``machine`` strips a catalogue and a layout to what they need. ``run_state`` runs it with both sides alike,
``figures`` works every number of the page out from that, ``assemble`` puts the page together. ``deviations`` names
every way to run crooked, ``lead_state`` has one crooked state in closed form and ``travel`` marches it over the travel
for many samples; docs/lead.md tells how. ``regression`` reads currents and leads.
"""
