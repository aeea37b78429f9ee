"""Misread readings: which one the others contradict, and what it probably was.

``data_snooping`` is the algebra of leaving readings out, ``misreadings`` how people misread a tape, ``hypotheses`` how
likely each slip is, ``discriminating`` the reading that would tell two apart, ``search`` the verdict.
"""
