"""The layers that drawings share: what each shows, its line weight and its line type."""

from __future__ import annotations

from stringline.book.drawing import Layer

WATER = Layer("WATER", 0.5, shows="water's edge")
TRACK = Layer("TRACK", 0.35, shows="tracks and their channels")
AXIS = Layer("AXIS", 0.18, "chain", shows="centre lines of tracks")
HOUSING = Layer("HOUSING", 0.5, shows="housing")
LID = Layer("LID", 0.25, "dashed", shows="lid, over the housing")
COVER = Layer("COVER", 0.25, "short-dashed", shows="cover, closed")
EDGE = Layer("LEADING-EDGE", 0.7, shows="leading edge, closed")
EDGE_OPEN = Layer("LEADING-EDGE-OPEN", 0.35, "double-chain", shows="leading edge, open")
PULLEY = Layer("PULLEY", 0.35, shows="far-end pulleys")
DRIVE = Layer("DRIVE", 0.35, shows="motor")
OBSTACLE = Layer("OBSTACLE", 0.35, shows="obstacles")
HATCH = Layer("HATCH", 0.13, ink="555555", shows="hatching")
DIMS = Layer("DIMENSIONS", 0.18, shows="dimensions")
CHECK = Layer("CHECK-LINES", 0.13, "dash-dot", shows="check lines: diagonals, gauge")
POINT = Layer("POINTS", 0.25, shows="surveyed points")
TAPE = Layer("TAPES", 0.18, shows="taped lines")
SUSPECT = Layer("SUSPECT", 0.7, "dashed", "a00000", shows="reading that the others contradict")
FLAG = Layer("FLAG", 0.35, shows="residual flags")
NEXT = Layer("NEXT-TAPES", 0.35, "dash-dot", shows="lines to tape next")
STRUCK = Layer("STRUCK", 0.13, "dotted", shows="readings set aside")
ELLIPSE = Layer("ELLIPSES", 0.18, shows="error ellipses, exaggerated")
STOCK = Layer("STOCK", 0.35, shows="sticks")
JOINT = Layer("JOINTS", 0.5, shows="joints")
PIN = Layer("PINS", 0.25, shows="locking pins")
NOTE = Layer("NOTES", 0.18, shows="lettering")
THIN = Layer("THIN", 0.13, shows="leaders and rules")
FRAME = Layer("FRAME", 0.35, shows="title strip")
