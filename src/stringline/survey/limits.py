"""Limits of the statistical tests that more than one part of the survey uses."""

from __future__ import annotations

UNTESTED_R = 1e-6
"""A redundancy number below this means that no other reading says anything about the row."""

BAARDA_W = 3.2905
"""|w| that a good reading exceeds once in a thousand (Baarda; source ``data-snooping``)."""
