"""The key under the survey's drawing: a sample of each line in use, the ellipses' factor, the scale."""

from __future__ import annotations

from stringline.drawing.board import Board
from stringline.drawing.canvas import EllipseItem, Layer, Line, Text
from stringline.drawing.lettering import width_mm
from stringline.drawing.measure import extent_mm
from stringline.finding import Code, finding
from stringline.sheets.pictures import layers
from stringline.sheets.voice import Voice
from stringline.survey.result import Survey

_SAMPLE_MM = 11.0
_ROW_MM = 4.4
_BETWEEN_MM = 7.0
_KEYS: tuple[tuple[Layer, Code], ...] = (
    (layers.WATER_SKETCH, "survey.picture.key-water"),
    (layers.TAPE, "survey.picture.key-taped"),
    (layers.UNCHECKED, "survey.picture.key-unchecked"),
    (layers.SUSPECT, "survey.picture.key-suspect"),
    (layers.NEXT, "survey.picture.key-next"),
    (layers.STRUCK, "survey.picture.key-struck"),
)


def add_legend(
    board: Board, survey: Survey, voice: Voice, factor: int, *, missing: int, within_mm: float, flagged: bool
) -> None:
    """Lay the key out in rows under everything drawn so far, within ``within_mm``.

    ``factor`` is the ellipses' exaggeration, ``missing`` how many readings found no room on their line, ``flagged``
    whether any line carries a residual.
    """
    left, bottom, right, _top = extent_mm(board.items, board.scale)
    used = {item.layer.name for item in board.items}
    entries: list[tuple[Layer | None, Code]] = [(lay, words) for lay, words in _KEYS if lay.name in used]
    if flagged:
        entries.append((layers.FLAG, "survey.picture.key-residual"))
    if layers.ELLIPSE.name in used:
        largest = max(p.ellipse.major_m for p in survey.points)
        entries.append((layers.ELLIPSE, finding("survey.picture.key-ellipse", factor=factor, longest_m=largest)))
    entries.append((None, finding("survey.picture.scale", scale=board.scale.text)))
    if survey.suspects:
        entries.append((None, "survey.picture.bent"))
    if missing:
        entries.append((None, finding("survey.picture.no-room", n=missing)))
    start = left
    limit = left + max(min(within_mm - 3.0, 180.0), right - left)
    x, y = start, bottom - 5.5
    for layer, code in entries:
        words = voice.say(code)
        long = (0.0 if layer is None else _SAMPLE_MM + 1.6) + _wide(words)
        if x > start and x + long > limit:
            x, y = start, y - _ROW_MM
        _entry(board, layer, words, x, y)
        x += long + _BETWEEN_MM


def _wide(words: str) -> float:
    return width_mm(words, 1.8)


def _entry(board: Board, layer: Layer | None, words: str, x: float, y: float) -> None:
    m = board.m
    if layer is not None:
        a, b, middle = (m(x), m(y + 0.9)), (m(x + _SAMPLE_MM), m(y + 0.9)), m(x + _SAMPLE_MM / 2)
        if layer == layers.ELLIPSE:
            board.add(EllipseItem(layer, (middle, m(y + 0.9)), m(3.0), m(1.5), 0.0))
        elif layer == layers.FLAG:
            board.add(Line(layers.TAPE, a, b), Line(layer, (middle, m(y - 0.7)), (middle, m(y + 2.5))))
        else:
            board.add(Line(layer, a, b))
        x += _SAMPLE_MM + 1.6
    board.add(Text(layers.NOTE, (m(x), m(y)), words, 1.8))
