"""Stock and what is cut from it: what stands in the way of a plan, what a stick's stretches are, what is under way."""

WORDS: dict[str, str | tuple[str, str]] = {
    "nesting.no-stick": "there must be at least one stick length above zero",
    "nesting.run-no-length": "run '{run}' needs a length above zero",
    "nesting.run-too-long": "run '{run}' is more than {most} sticks long: check its length and unit",
    "nesting.sticks-short": "the sticks listed do not suffice for all pieces: list more, or longer ones",
    "nesting.out-of-time": "no plan was found in the time allowed",
    # two lists
    "nesting.longer-than-sticks": "'{name}' is longer than every stick ({longest_m})",
    "nesting.list-longer": "list a longer stick, or make the piece up from two",
    "nesting.no-stick-left": "no stick is left: every count is 0",
    "nesting.list-some": "list some, or leave a count empty for no end",
    "nesting.too-many-pieces": "more than {most} pieces are listed",
    "nesting.cut-in-batches": "cut them in batches",
    "nesting.do-not-suffice": "they do not suffice: {have_m} in all, for {need_m} of pieces",
    "nesting.list-more": "list more of them, or leave a count empty for no end",
    "nesting.allow-more": "allow more seconds",
    # stretches of a stick
    "nesting.piece": "{name}",
    "nesting.scrap": "kerf and scrap",
    "nesting.back-on-rack": "back on the rack",
    "nesting.left-over": "left over",
    # what is under way
    "nesting.pricing-patterns": "pricing patterns for {n} pieces",
    "nesting.plan-from-patterns": "a plan from {n} patterns",
    "nesting.closing-over-patterns": "closing the gap over {n} patterns",
    "nesting.pricing-ways": "{n} ways to cut, gap {gap_percent:.3} %",
    "nesting.plan-from-ways": "a plan from the ways found",
    "nesting.closing-over-ways": "closing the gap over {n} ways",
}
