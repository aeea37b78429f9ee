"""Every code a fault in a document can carry, with what it means; a test holds that the code base uses no other."""

from __future__ import annotations

CODES: dict[str, str] = {
    # the file
    "no-file": "The file cannot be opened.",
    "not-utf8": "The file is not UTF-8 text.",
    "syntax": "A line is not TOML; it is left out and everything else is still checked.",
    "missing-comma": "Two items of a list stand without a comma between them.",
    "not-closed": "A bracket is opened and never closed.",
    "given-twice": "A key or a section is given a second time.",
    # its shape
    "unknown-key": "A key or section that means nothing here; the nearest one that does is named.",
    "missing": "Something that must be there is not.",
    "wrong-type": "A value of the wrong kind, such as a number where a list belongs.",
    "unknown-word": "A word that is not one of those that may stand here.",
    "empty": "A text or a list with nothing in it where something is needed.",
    "bad-length": "A length that is wrong or could mean two things.",
    "zero-length": "A length of nothing where there must be some.",
    "out-of-range": "A number outside what can be.",
    "bad-name": "A name that is empty, too long, or has spaces around it or signs that cannot be printed.",
    "name-not-quoted": "A number stands where a name belongs; names are text and stand in quotes.",
    "item-count": "A reading with too few or too many items.",
    # what it says
    "same-point": "A reading, an edge or a baseline from a point to itself.",
    "name-twice": "A name stands twice where each may stand once.",
    "not-reached": "A point that no reading reaches.",
    "no-datum": "Neither a baseline nor known points: nothing says where x and y are.",
    "two-datums": "A baseline and known points as well.",
    "sketch-mixed": "Rough positions partly with and partly without a unit.",
    "arc-place": "A rounding that does not stand behind the name of its corner, or a bow not between two names.",
    "arc-too-big": "A rounding with a radius longer than the longest reading.",
    "housing-edge": "The housing lies along an edge that is not one of the water's edge.",
    "not-in-order": "Values that contradict each other in their order.",
    "no-such-reading": "No single reading stands on the line that was to be set aside.",
    "struck-already": "The reading was set aside before.",
    "not-filled-in": "A value that a template left open and nobody has filled in.",
    "no-catalogue": "No hardware catalogue has that name, and no file either.",
}
