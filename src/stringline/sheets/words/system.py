"""What is wrong with a hardware catalogue, and what would be right."""

WORDS: dict[str, str | tuple[str, str]] = {
    "system.no-catalogue": 'no hardware catalogue is called "{name}", and there is no such file',
    "system.write-near": (
        "write {name} if that is meant, or the path of a catalogue's file as seen from the job's folder"
    ),
    "system.write-shipped": "write {names:or}, or the path of a catalogue's file as seen from the job's folder",
    "system.no-section": "there is no [{section}] section",
    "system.write-head": "write [system] with key, name and unit",
    "system.write-section": "write [{section}] with {keys:and}",
    "system.key-as": 'key = "our-18", a short name without spaces',
    "system.as-text": "{key} as a text",
    "system.key-is": "{key} = {value}",
    "system.lengths-as": 'a list of lengths, as ["18 ft", "12 ft"]',
    "system.length-as": 'a length, as "1 1/2 in" or "38 mm"',
    "system.whole-number": "a whole number",
    "system.lengths": "a list of lengths",
    "system.list-empty": "the list is empty",
    "system.write-one-length": "write at least one length",
    "system.not-filled-in": "this is still to be filled in",
    "system.write-what-it-has": "write what your hardware has",
    "system.at-most": "it has to be at most {key}, and is not",
    "system.below": "it has to be below {key}, and is not",
    "system.check-both": "check it and {key}",
    "system.last-piece-too-long": "the shortest last piece is longer than every stick",
}
