"""What is ordered, how likely it is to fit, the order that went out, and what the pour changed."""

WORDS: dict[str, str | tuple[str, str]] = {
    # The figures of an order that fix made-to-measure parts.
    "ordering.cover-width": "cover width",
    "ordering.cover-length": "cover length",
    "ordering.leading-edge": "leading edge",
    "ordering.drum": "drum",
    "ordering.rope-left": "rope left",
    "ordering.rope-right": "rope right",
    "ordering.housing": "housing",
    "ordering.lid": "lid",
    "ordering.fascia": "fascia",
    "ordering.as-ordered": "{part}, as ordered",
}
