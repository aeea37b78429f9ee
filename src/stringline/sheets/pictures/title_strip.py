"""A frame and a title strip for a drawing that leaves the book and stands alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from stringline.drawing.canvas import Drawing, Item, Line, Point, Polyline, Text
from stringline.drawing.lettering import width_mm
from stringline.finding import finding
from stringline.sheets.pictures import layers
from stringline.sheets.voice import Voice

_HIGH_MM = 15.0
_LEAST_MM = 130.0
_EDGE_MM = 4.0  # frame to what it holds


@dataclass(frozen=True, slots=True)
class Title:
    """What a title strip says besides the drawing's own title and scale."""

    job: str
    voice: Voice
    revision: str = ""
    date: str = ""
    invented: bool = False


def titled(drawing: Drawing, title: Title) -> Drawing:
    """The drawing in a frame, with a title strip under it; its scale and everything drawn stay as they are."""
    w, h = drawing.paper_size_mm
    wide = max(w + 2 * _EDGE_MM, _LEAST_MM)
    high = h + 2 * _EDGE_MM + _HIGH_MM
    m = drawing.scale.to_m
    left = drawing.origin[0] - m((wide - w) / 2)
    low = drawing.origin[1] - m(_EDGE_MM + _HIGH_MM)

    def at(x: float, y: float) -> Point:
        return left + m(x), low + m(y)

    border = Polyline(layers.FRAME, (at(0, 0), at(wide, 0), at(wide, high), at(0, high)), True)
    items: list[Item] = [border, Line(layers.FRAME, at(0, _HIGH_MM), at(wide, _HIGH_MM))]
    shares = (0.40, 0.36, 0.24)
    say = title.voice.say
    printed = drawing.scale.text or say("pictures.strip.not-to-scale")
    if drawing.scale.ratio > 1:
        full = say(finding("pictures.strip.full-size", scale=printed))
        fits = width_mm(full, 1.8) <= shares[1] * wide - 4.0
        printed = full if fits else say(finding("pictures.strip.scale", scale=printed))
    revision = say(finding("pictures.strip.revision", revision=title.revision)) if title.revision else ""
    issue = ", ".join(p for p in (revision, title.date) if p)
    invented = say("pictures.strip.invented") if title.invented else ""
    unit = say(f"pictures.strip.unit.{title.voice.unit.value}")
    cells: Sequence[tuple[float, tuple[tuple[str, float, str], ...]]] = (
        (shares[0], ((title.job, 2.5, "bold"), (invented, 1.8, "bold"))),
        (shares[1], ((drawing.title, 3.5, "bold"), (printed, 1.8, "regular"))),
        (shares[2], ((unit, 1.8, "regular"), (issue, 1.8, "regular"))),
    )
    x = 0.0
    for share, lines in cells:
        room = share * wide
        if x > 0:
            items.append(Line(layers.THIN, at(x, 0), at(x, _HIGH_MM)))
        for (words, height, weight), y in zip(lines, (8.6, 3.2), strict=True):
            if words:
                text = shortened(words, height, weight, room - 4.0)
                items.append(Text(layers.NOTE, at(x + 2.0, y), text, height, weight=weight))
        x += room
    edge = m(layers.FRAME.weight_mm)
    size = (round(wide + 2 * layers.FRAME.weight_mm, 2), round(high + 2 * layers.FRAME.weight_mm, 2))
    return replace(drawing, paper_size_mm=size, origin=(left - edge, low - edge), items=(*drawing.items, *items))


def shortened(words: str, height: float, weight: str, room_mm: float) -> str:
    """The words, or as many of their letters as fit with an ellipsis behind them."""
    if width_mm(words, height, weight) <= room_mm:
        return words
    kept = words
    while kept and width_mm(kept + "…", height, weight) > room_mm:
        kept = kept[:-1]
    return kept.rstrip() + "…"
