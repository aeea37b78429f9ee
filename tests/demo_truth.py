"""The invented pool behind the demo job: where its points really are, and the one reading that was misread."""

from __future__ import annotations

# metres, A at the origin, x towards B
TRUE_XY: dict[str, tuple[float, float]] = {
    "A": (0.00000, 0.00000),
    "B": (13.46962, 0.00000),
    "C": (0.78740, 10.16000),
    "D": (12.92860, 10.38860),
    "1": (1.60020, 2.18440),
    "R1": (5.25625, 2.29091),
    "R2": (8.91222, 2.39992),
    "2": (12.57114, 2.51101),
    "3": (12.40334, 7.99635),
    "L2": (8.74939, 7.88640),
    "L1": (5.09335, 7.77949),
    "4": (1.43897, 7.66743),
}
MISREAD = ("2", "4")
MISREAD_TOO_MANY_M = 6 * 0.0254
