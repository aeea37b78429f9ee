"""Curves over the station: axes with round ticks, bands, limits, marks, and every curve named on the spot or in a key.

A chart is drawn full size: a model metre is a paper metre, and what the axes count is scaled to the panel.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from stringline.drawing import layers
from stringline.drawing.board import Board
from stringline.drawing.canvas import Circle, Hatch, Item, Layer, Line, Point, Polyline, Text
from stringline.drawing.lettering import width_mm
from stringline.drawing.scales import NOT_TO_SCALE
from stringline.geometry import Array

_HEIGHT_MM = 1.8
_LEFT_MM = 15.0  # panel's left edge from the paper's, for the ticks' words
_GAP_MM = 17.0  # between panels, for the ticks' words and the next title
_KEY_ROW_MM = 4.4
_SAMPLE_MM = 9.0


@dataclass(frozen=True, slots=True)
class Curve:
    """A curve through (x, y), both in what the axes count."""

    layer: Layer
    x: Array
    y: Array
    name: str


@dataclass(frozen=True, slots=True)
class Marks:
    """Single values with their σ (0: none drawn), as filled circles with bars."""

    x: Array
    y: Array
    sigma: float
    name: str


@dataclass(frozen=True, slots=True)
class Band:
    """A hatched band between two curves over x."""

    x: Array
    low: Array
    high: Array
    name: str


@dataclass(frozen=True, slots=True)
class Panel:
    """One set of axes. ``levels`` are horizontal lines with a name: limits, ratings."""

    title: str
    y_words: str
    curves: Sequence[Curve] = ()
    marks: Sequence[Marks] = ()
    bands: Sequence[Band] = ()
    levels: Sequence[tuple[float, str]] = field(default=())
    from_zero: bool = False


def ticks(low: float, high: float, most: int) -> list[float]:
    """Round numbers (1, 2, 2.5 or 5 times a power of ten apart) over a range, at most ``most`` of them."""
    span = high - low
    if not (span > 0 and most > 1):
        raise ValueError("an axis needs a range and room for two ticks")
    power = 10.0 ** math.floor(math.log10(span / most))
    for step in (power * f for f in (1, 2, 2.5, 5, 10, 20, 25)):
        first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
        if last - first + 1 <= most:
            return [k * step for k in range(first, last + 1)]
    raise AssertionError("a step of 25 always fits")


def draw_panels(panels: Sequence[Panel], x_words: str, size_mm: tuple[float, float], *, across: bool = False) -> Board:
    """Panels with one x axis, over one another or side by side; the key of what is in them below. Full size."""
    board = Board(NOT_TO_SCALE)
    every = [c.x for p in panels for c in p.curves] + [m.x for p in panels for m in p.marks]
    low, high = float(min(x.min() for x in every)), float(max(x.max() for x in every))
    n = len(panels)
    columns, lines = (n, 1) if across else (1, n)
    pitch = size_mm[0] / columns
    wide = pitch - _LEFT_MM - 6.0
    rows = len(_key_rows(panels, size_mm[0]))
    tall = (size_mm[1] - 6.0 - rows * _KEY_ROW_MM - _GAP_MM * lines) / lines
    for k, panel in enumerate(panels):
        column, line = (k, 0) if across else (0, k)
        bottom = -line * (tall + _GAP_MM) - 6.0 - tall
        _Axes(board, panel, (low, high), (column * pitch + _LEFT_MM, bottom, wide, tall)).draw(x_words)
    _draw_key(board, panels, size_mm[0], -lines * (tall + _GAP_MM))
    return board


class _Axes:
    """One panel in its rectangle: left, bottom, width, height in millimetres."""

    def __init__(
        self, board: Board, panel: Panel, x: tuple[float, float], box: tuple[float, float, float, float]
    ) -> None:
        self.board, self.panel, self.x, self.box = board, panel, x, box
        values = [v for c in panel.curves for v in (c.y.min(), c.y.max())]
        values += [v for m in panel.marks for v in (m.y.min() - m.sigma, m.y.max() + m.sigma)]
        values += [v for b in panel.bands for v in (b.low.min(), b.high.max())]
        values += [level for level, _ in panel.levels]
        if panel.from_zero:
            values.append(0.0)
        low, high = float(min(values)), float(max(values))
        spare = 0.08 * (high - low) or max(abs(high), 1.0) * 0.1
        self.y = (low if panel.from_zero and low >= 0 else low - spare, high + spare)

    def at(self, x: float, y: float) -> Point:
        """A model point for a value."""
        left, bottom, wide, tall = self.box
        u = (x - self.x[0]) / (self.x[1] - self.x[0]) if self.x[1] > self.x[0] else 0.5
        v = (y - self.y[0]) / (self.y[1] - self.y[0])
        return (left + u * wide) / 1000, (bottom + v * tall) / 1000

    def draw(self, x_words: str) -> None:
        """Grid, bands, limits, curves, marks, frame, words."""
        board, panel = self.board, self.panel
        left, bottom, wide, tall = self.box
        self._grid(x_words)
        for band in panel.bands:
            over = [self.at(x, y) for x, y in zip(band.x, band.high, strict=True)]
            below = [self.at(x, y) for x, y in zip(band.x, band.low, strict=True)]
            board.add(Hatch(layers.HATCH, tuple(over + below[::-1]), math.pi / 4, 1.6))
            board.add(Polyline(layers.BAND, tuple(over)), Polyline(layers.BAND, tuple(below)))
        for level, words in panel.levels:
            board.add(Line(layers.LIMIT, self.at(self.x[0], level), self.at(self.x[1], level)))
            a = self.at(self.x[1], level)
            if words:
                # Outside the limit, unless the frame is too near for words.
                room = ((bottom + tall) / 1000 - a[1]) if level >= 0 else (a[1] - bottom / 1000)
                above = (level >= 0) == (room > board.m(_HEIGHT_MM + 2.0))
                at = (a[0] - board.m(1.0), a[1] + board.m(0.7 if above else -0.7))
                up = 0.0 if above else 1.0
                board.add(Text(layers.NOTE, at, words, _HEIGHT_MM, along=1.0, up=up, halo=True))
        for curve in panel.curves:
            points = [self.at(float(x), float(y)) for x, y in zip(curve.x, curve.y, strict=True)]
            board.add(Polyline(curve.layer, tuple(points)))
        for marks in panel.marks:
            for x, y in zip(marks.x, marks.y, strict=True):
                if marks.sigma > 0:
                    board.add(Line(layers.THIN, self.at(x, y - marks.sigma), self.at(x, y + marks.sigma)))
                board.dot(layers.POINT, self.at(x, y), 0.8)
        frame = [(left, bottom), (left + wide, bottom), (left + wide, bottom + tall), (left, bottom + tall)]
        board.ring(layers.AXES, [(x / 1000, y / 1000) for x, y in frame])
        at = (left / 1000, (bottom + tall + 2.0) / 1000)
        board.add(Text(layers.NOTE, at, panel.title, 2.5, weight="bold"))
        right = ((left + wide) / 1000, at[1])
        board.add(Text(layers.NOTE, right, panel.y_words, _HEIGHT_MM, along=1.0))

    def _grid(self, x_words: str) -> None:
        board = self.board
        left, bottom, wide, tall = self.box
        for y in ticks(*self.y, max(3, int(tall / 8))):
            board.add(Line(layers.GRID, self.at(self.x[0], y), self.at(self.x[1], y)))
            at = ((left - 1.2) / 1000, self.at(self.x[0], y)[1])
            board.add(Text(layers.NOTE, at, _number(y), _HEIGHT_MM, along=1.0, up=0.5))
        if self.y[0] < 0 < self.y[1]:
            board.add(Line(layers.THIN, self.at(self.x[0], 0), self.at(self.x[1], 0)))
        for x in ticks(*self.x, max(3, int(wide / 14))):
            board.add(Line(layers.GRID, self.at(x, self.y[0]), self.at(x, self.y[1])))
            at = (self.at(x, 0)[0], (bottom - 1.2) / 1000)
            board.add(Text(layers.NOTE, at, _number(x), _HEIGHT_MM, along=0.5, up=1.0))
        at = ((left + wide / 2) / 1000, (bottom - 4.6) / 1000)
        board.add(Text(layers.NOTE, at, x_words, _HEIGHT_MM, along=0.5, up=1.0))


def _number(value: float) -> str:
    text = f"{round(value, 9):g}"
    return "−" + text[1:] if text.startswith("-") else text


_Entry = tuple[str, str, Layer | None]


def _entries(panels: Sequence[Panel]) -> list[_Entry]:
    """What the key names: kind, words, layer; each once."""
    found: dict[str, _Entry] = {}
    for p in panels:
        for c in p.curves:
            found.setdefault(c.name, ("curve", c.name, c.layer))
        for b in p.bands:
            found.setdefault(b.name, ("band", b.name, None))
        for m in p.marks:
            found.setdefault(m.name, ("mark", m.name, None))
    return [e for name, e in found.items() if name]


def _key_rows(panels: Sequence[Panel], within_mm: float) -> list[list[_Entry]]:
    rows: list[list[_Entry]] = [[]]
    used = _LEFT_MM
    for entry in _entries(panels):
        long = _SAMPLE_MM + 1.5 + width_mm(entry[1], _HEIGHT_MM) + 5.0
        if rows[-1] and used + long > within_mm:
            rows.append([])
            used = _LEFT_MM
        rows[-1].append(entry)
        used += long
    return rows


def _draw_key(board: Board, panels: Sequence[Panel], within_mm: float, top: float) -> None:
    for k, row in enumerate(_key_rows(panels, within_mm)):
        x, y = _LEFT_MM, top - 0.5 - k * _KEY_ROW_MM
        for kind, words, layer in row:
            a, b = (x / 1000, (y + 0.9) / 1000), ((x + _SAMPLE_MM) / 1000, (y + 0.9) / 1000)
            board.add(*_sample(kind, layer, a, b))
            board.add(Text(layers.NOTE, (b[0] + 0.0015, y / 1000), words, _HEIGHT_MM))
            x += _SAMPLE_MM + 1.5 + width_mm(words, _HEIGHT_MM) + 5.0


def _sample(kind: str, layer: Layer | None, a: Point, b: Point) -> list[Item]:
    if kind == "curve" and layer is not None:
        return [Line(layer, a, b)]
    if kind == "mark":
        return [Circle(layers.POINT, ((a[0] + b[0]) / 2, a[1]), 0.0008, "ink")]
    r = 0.0012
    corners = ((a[0], a[1] - r), (b[0], a[1] - r), (b[0], a[1] + r), (a[0], a[1] + r))
    return [Hatch(layers.HATCH, corners, math.pi / 4, 1.6), Polyline(layers.BAND, corners, True)]


def array(values: Sequence[float] | Array) -> Array:
    """Plain numbers as an array of floats."""
    return np.asarray(values, dtype=float)
