"""Words that every chapter uses: verdicts, stages, sides, where a number comes from."""

WORDS: dict[str, str | tuple[str, str]] = {
    "common.and": "{first} and {last}",
    "common.or": "{first} or {last}",
    "common.nothing": "",
    "common.as-written": "{text}",
    "common.spread": "± 2σ",
    "common.sentences": "{said:sentences}",
    "common.in-turn": "{said: }",
    "common.verdict.pass": "in order",
    "common.verdict.watch": "watch",
    "common.verdict.fail": "fails",
    "common.verdict.cannot tell": "cannot tell",
    "common.verdict.not measured": "not measured",
    "common.side.left": "left",
    "common.side.right": "right",
    "common.side.both": "both",
    "common.origin.measured": "measured",
    "common.origin.chosen": "chosen",
    "common.origin.catalogue": "catalogue",
    "common.origin.practice": "practice",
    "common.origin.derived": "derived",
}
