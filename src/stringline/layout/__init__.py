"""Where the cover, its tracks and its housing go on the surveyed water, and what stands in their way.

From the water's edge (``outline``) and the ends a housing can stand at (``ends``) the search (``search``) finds the
least rectangle that covers the water and stays clear of what stands around it (``ground``, ``clearance``); ``place``
lays it out, ``figures`` works every length of it out with its uncertainty, ``options`` sets all ends side by side.
"""
