"""Layers that any drawing has: line weight and line type of lettering, dimensions, curves and what points at them."""

from __future__ import annotations

from stringline.drawing.canvas import Layer

HATCH = Layer("HATCH", 0.13, ink="555555")
DIMS = Layer("DIMENSIONS", 0.18)
POINT = Layer("POINTS", 0.25)
FLAG = Layer("FLAG", 0.35)
FLAG_LEADER = Layer("LEADERS", 0.25)
NOTE = Layer("NOTES", 0.18)
THIN = Layer("THIN", 0.13)
FRAME = Layer("FRAME", 0.35)
CURVE = Layer("CURVES", 0.5)
CURVE_OTHER = Layer("CURVES-OTHER", 0.5, "dashed")
CURVE_THIN = Layer("CURVES-EXPECTED", 0.35)
BAND = Layer("BANDS", 0.13)
LIMIT = Layer("LIMITS", 0.35, "dash-dot")
AXES = Layer("AXES", 0.25)
GRID = Layer("GRID", 0.09, ink="8a8a8a")
