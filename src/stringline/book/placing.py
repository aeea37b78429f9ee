"""Find a place for each label where it meets no other label, nor the edge, and crosses as little as can be."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np

from stringline.book.drawing import Text
from stringline.book.measure import Bounds, Box, Stroke, text_box
from stringline.book.scales import Scale
from stringline.geometry import Array

PAD_MM = 0.45  # clear paper kept round every label


class Placer:
    """Remembers where labels and lines are. All boxes are model metres through the scale: millimetres, y up."""

    def __init__(self, scale: Scale, within: Bounds | None = None) -> None:
        self.scale = scale
        self.within = within
        self._boxes: list[Box] = []
        self._bounds: list[Bounds] = []
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
        self._boxes.append(box)
        self._bounds.append(box.bounds)

    def place(self, candidates: Iterable[Sequence[Text]], *, most: float = math.inf) -> Sequence[Text] | None:
        """The best candidate (one or more lines that belong together), now taken; None where none is free.

        Candidates come in order of liking; each later one costs a little more. ``most`` refuses anything dearer.
        """
        best: Sequence[Text] | None = None
        cost = most
        for k, texts in enumerate(candidates):
            liking = 0.35 * k
            if liking >= cost:
                break
            boxes = [text_box(t, self.scale, pad_mm=PAD_MM) for t in texts]
            if any(not self.free(box) for box in boxes):
                continue
            price = liking + sum(self.crossed(box) for box in boxes)
            if price < cost:
                best, cost = texts, price
        if best is not None:
            self.take(*best)
        return best

    def free(self, box: Box) -> bool:
        """Whether nothing stands there yet and it is within bounds."""
        a = box.bounds
        if self.within is not None:
            w = self.within
            if a[0] < w[0] or a[1] < w[1] or a[2] > w[2] or a[3] > w[3]:
                return False
        for b, other in zip(self._bounds, self._boxes, strict=True):
            if a[2] > b[0] and b[2] > a[0] and a[3] > b[1] and b[3] > a[1] and box.meets(other):
                return False
        return True

    def crossed(self, box: Box) -> float:
        """Weighted length of the lines that run through a box, in millimetres."""
        if not self._strokes:
            return 0.0
        if self._table is None:
            self._table = np.array(self._strokes), np.array(self._weights)
        s, weights = self._table
        (px, py), (qx, qy), (rx, ry), _ = box.corners
        wide, high = math.hypot(qx - px, qy - py), math.hypot(rx - qx, ry - qy)
        c, d = (qx - px) / wide, (qy - py) / wide
        # Strokes in the box's own frame, clipped against 0…wide and 0…high (Liang and Barsky).
        u0, v0 = (s[:, 0] - px) * c + (s[:, 1] - py) * d, -(s[:, 0] - px) * d + (s[:, 1] - py) * c
        u1, v1 = (s[:, 2] - px) * c + (s[:, 3] - py) * d, -(s[:, 2] - px) * d + (s[:, 3] - py) * c
        du, dv = u1 - u0, v1 - v0
        enter, leave = np.zeros(len(s)), np.ones(len(s))
        for start, step, size in ((u0, du, wide), (v0, dv, high)):
            still = np.abs(step) < 1e-12
            safe = np.where(still, 1.0, step)
            t0, t1 = -start / safe, (size - start) / safe
            inside = (start > 0) & (start < size)
            low = np.where(still, np.where(inside, 0.0, 2.0), np.minimum(t0, t1))
            high_t = np.where(still, np.where(inside, 1.0, -1.0), np.maximum(t0, t1))
            enter, leave = np.maximum(enter, low), np.minimum(leave, high_t)
        length = np.clip(leave - enter, 0.0, None) * np.hypot(du, dv)
        return float(np.sum(length * weights))
