"""Running the cover in: the lead to expect, and what a crooked cover's readings say.

Before the run ``predict`` draws every part within its tolerance (``tolerances``) and says what lead to expect. From
what was read, ``diagnosis`` answers why a cover runs crooked: ``causes`` lists what can be wrong and what is done about
it, ``observations`` turns what an eye saw into odds, ``trial`` lays readings out, ``hypotheses`` weighs every small set
of causes (``orthant``: amounts are not negative), ``spots`` says where a track may be tight, ``doubts`` what is not to
be believed: single readings, and the list itself. ``discriminating`` picks the reading to take next, ``lessons`` holds
what an action was expected to do against what it did. The machine itself is :mod:`stringline.mechanics`.
"""
