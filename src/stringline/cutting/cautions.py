"""Cautions, each printed where the step is that can hurt someone."""

from __future__ import annotations

SAW = "Saw: clamp the piece, keep both hands clear of the blade, wear eye and ear protection."
DRILL = (
    "Before drilling, know what lies behind: live conduit, bonding wire, water or gas line. If unsure, do not drill."
)
PINCH = "Pinch point: keep fingers out from between drum, hem and track while anyone can turn it."
POWER = "Electricity isolated and locked off at the disconnect, key in your pocket, before hands go into the housing."
ENTRAPMENT = "Nobody in or under the water's edge while the cover moves. A person under a closed cover drowns."
ROPE = "A loaded rope whips when it lets go. Take the load off before cutting; stand out of its line."
LIFT = "Long and heavy: two people or a lift. Do not walk on a drum or on a lid that is not fixed."
WATER = "Work beside water is never done alone."
