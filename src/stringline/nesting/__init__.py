"""Stock and what is cut from it. It knows no pool, no job and no unit: lengths are whole numbers, so that what fits is
a matter of arithmetic.

Two problems stand here. *Plain stock* may be cut anywhere (:mod:`~stringline.nesting.stock`): patterns are priced by a
knapsack, the bound is the linear programme's over all of them. *Runs of sticks* keep their factory ends (one job:
:mod:`~stringline.nesting.runs`, exact; many jobs: :mod:`~stringline.nesting.fleet`, with a proven bound): a run is
whole sticks and one last piece, and a stick gives at most two last pieces, one from each of its ends.

``grain`` turns metres into whole numbers, ``columns`` is the only door to the solver, ``diagram`` says what lies where
on each stick, ``listed`` cuts two lists that somebody wrote.
"""
