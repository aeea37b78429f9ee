"""The sheet of sources: what is cited, what is taken for granted, what is custom alone."""

WORDS: dict[str, str | tuple[str, str]] = {
    "sources.title": "Sources and assumptions",
    "sources.intro": (
        "Each number in this book names its origin; a key in square brackets stands for one of these sources. "
        "Practice, no source is custom of the trade that nobody published for us; from memory was recalled, not looked "
        "up. Neither is more than that."
    ),
    "sources.cited": "Sources cited",
    "sources.key": "Key",
    "sources.source": "Source",
    "sources.standing": "Standing",
    "sources.assumptions": "Taken for granted",
    "sources.practice": "Values taken from practice",
    "sources.what": "What",
    "sources.value": "Value",
}
