"""Find a place for each label where it meets no other label, nor the edge, and crosses as little as can be."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from stringline.drawing.canvas import Point, Text
from stringline.drawing.measure import Bounds, Box, Stroke, text_box
from stringline.drawing.scales import Scale
from stringline.geometry import Array

PAD_MM = 0.45  # clear paper kept round every label
_BATCH = 32
_STEP = 0.35  # what each later candidate costs more than the one before it


class Placer:
    """Remembers where labels and lines are. All boxes are model metres through the scale: millimetres, y up."""

    def __init__(self, scale: Scale, within: Bounds | None = None) -> None:
        self.scale = scale
        self.within = within
        self._boxes: list[Box] = []
        self._bounds = np.empty((64, 4))
        self._strokes: list[tuple[float, float, float, float]] = []
        self._weights: list[float] = []
        self._table: tuple[Array, Array] | None = None

    def avoid(self, strokes: Iterable[Stroke], weight: float = 1.0) -> None:
        """Lines that labels would rather not stand on; ``weight`` is the cost of a millimetre."""
        f = self.scale.to_mm
        for a, b in strokes:
            self._strokes.append((f(a[0]), f(a[1]), f(b[0]), f(b[1])))
            self._weights.append(weight)
        self._table = None

    def take(self, *texts: Text) -> None:
        """Text that stands already."""
        for text in texts:
            self.hold(text_box(text, self.scale, pad_mm=PAD_MM))

    def hold(self, box: Box) -> None:
        """A place that no label may use."""
        n = len(self._boxes)
        if n == len(self._bounds):
            self._bounds = np.concatenate([self._bounds, np.empty_like(self._bounds)])
        self._boxes.append(box)
        self._bounds[n] = box.bounds

    def hold_square(self, at: Point, half_mm: float) -> None:
        """A square about a model point that no label may use."""
        self.hold(self._square(at, half_mm))

    def clear(self, at: Point, half_mm: float) -> bool:
        """Whether a square about a model point is free."""
        return bool(np.isfinite(self.price_boxes([self._square(at, half_mm)])[0]))

    def place(
        self, candidates: Iterable[Sequence[Text]], *, most: float = math.inf, costs: Sequence[float] | None = None
    ) -> Sequence[Text] | None:
        """The best candidate (one or more lines that belong together), now taken; None where none is free.

        Candidates come in order of liking, each later one a little dearer, unless ``costs`` prices them. ``most``
        refuses anything dearer.
        """
        options = list(candidates)
        liking = np.arange(len(options)) * _STEP if costs is None else np.asarray(costs, dtype=float)
        best, cost = -1, most
        for start in range(0, len(options), _BATCH):
            rest = liking[start:]
            if rest.min() >= cost:
                break
            batch = options[start : start + _BATCH]
            total = self.prices(batch) + rest[: len(batch)]
            k = int(np.argmin(total))
            if total[k] < cost:
                best, cost = start + k, float(total[k])
        if best < 0:
            return None
        self.take(*options[best])
        return options[best]

    def prices(self, options: Sequence[Sequence[Text]], spare_mm: float = 0.0) -> Array:
        """What each option crosses, in weighted millimetres; infinite where it has no free place, shape (n,).

        ``spare_mm`` asks for more room round each text than usual.
        """
        owner = [k for k, texts in enumerate(options) for _ in texts]
        boxes = [text_box(t, self.scale, pad_mm=PAD_MM + spare_mm) for texts in options for t in texts]
        each = self.price_boxes(boxes)
        prices = np.zeros(len(options))
        np.add.at(prices, owner, each)
        return prices

    def price_boxes(self, boxes: Sequence[Box]) -> Array:
        """As :meth:`prices`, for bare boxes."""
        prices = np.full(len(boxes), math.inf)
        if boxes:
            kept = np.flatnonzero(self._free(boxes))
            if len(kept):
                prices[kept] = self._crossed([boxes[int(k)] for k in kept])
        return prices

    def _square(self, at: Point, h: float) -> Box:
        x, y = self.scale.to_mm(at[0]), self.scale.to_mm(at[1])
        return Box(((x - h, y - h), (x + h, y - h), (x + h, y + h), (x - h, y + h)))

    def _free(self, boxes: Sequence[Box]) -> NDArray[np.bool_]:
        """Whether nothing stands there yet and it is within bounds, shape (n,)."""
        b = np.array([box.bounds for box in boxes])
        free = np.ones(len(boxes), dtype=bool)
        if self.within is not None:
            w = self.within
            free &= (b[:, 0] >= w[0]) & (b[:, 1] >= w[1]) & (b[:, 2] <= w[2]) & (b[:, 3] <= w[3])
        held = self._bounds[: len(self._boxes)]
        near = (b[:, None, 2] > held[:, 0]) & (held[:, 2] > b[:, None, 0])
        near &= (b[:, None, 3] > held[:, 1]) & (held[:, 3] > b[:, None, 1])
        near &= free[:, None]
        for k, m in zip(*np.nonzero(near), strict=True):
            if free[k] and boxes[k].meets(self._boxes[m]):
                free[k] = False
        return free

    def _crossed(self, boxes: Sequence[Box]) -> Array:
        """Weighted length of the lines that run through each box, in millimetres, shape (n,)."""
        if not self._strokes:
            return np.zeros(len(boxes))
        if self._table is None:
            self._table = np.array(self._strokes), np.array(self._weights)
        s, weights = self._table
        corners = np.array([box.corners for box in boxes])  # (n, 4, 2)
        # Only strokes near any of the boxes matter.
        low, top = corners.min(axis=(0, 1)), corners.max(axis=(0, 1))
        near = (np.minimum(s[:, 0], s[:, 2]) <= top[0]) & (np.maximum(s[:, 0], s[:, 2]) >= low[0])
        near &= (np.minimum(s[:, 1], s[:, 3]) <= top[1]) & (np.maximum(s[:, 1], s[:, 3]) >= low[1])
        s, weights = s[near], weights[near]
        p, along, up = corners[:, 0], corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 1]
        wide, high = np.hypot(along[:, 0], along[:, 1]), np.hypot(up[:, 0], up[:, 1])
        c, d = along[:, 0] / wide, along[:, 1] / wide
        # Strokes in each box's own frame, clipped against 0…wide and 0…high (Liang and Barsky); shape (n, strokes).
        x0, y0 = s[:, 0] - p[:, 0, None], s[:, 1] - p[:, 1, None]
        dx, dy = s[:, 2] - s[:, 0], s[:, 3] - s[:, 1]
        enter, leave = np.zeros(x0.shape), np.ones(x0.shape)
        frames = (
            (x0 * c[:, None] + y0 * d[:, None], np.outer(c, dx) + np.outer(d, dy), wide),
            (y0 * c[:, None] - x0 * d[:, None], np.outer(c, dy) - np.outer(d, dx), high),
        )
        for start, step, size in frames:
            # A stroke along an edge gets a step too small to matter, and then is wholly in or wholly out.
            step = np.where(np.abs(step) < 1e-12, 1e-12, step)
            t0, t1 = -start / step, (size[:, None] - start) / step
            np.maximum(enter, np.minimum(t0, t1), out=enter)
            np.minimum(leave, np.maximum(t0, t1), out=leave)
        lengths = np.clip(leave - enter, 0.0, None) @ (np.hypot(dx, dy) * weights)
        return np.asarray(lengths, dtype=float)
