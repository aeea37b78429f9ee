"""Misread readings: data snooping, hypotheses of how people misread, what would tell two apart."""
