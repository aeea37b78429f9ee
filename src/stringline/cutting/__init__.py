"""What is cut and made for one pool: every piece with its working, its steps and its cautions, and the small parts.

:mod:`~stringline.cutting.basis` says which reading a piece is cut from, ``across`` and ``along`` work out what lies
across the pool and the tracks along it, ``sheet``, ``ropes`` and ``strips`` the rest; ``pieces`` puts them
together. ``jobs`` cuts several pools from common stock, ``sticks`` says which stick gives what, ``rack`` keeps the
offcuts. A length is the sum of labelled terms, each measured, chosen or of the catalogue; what a card says is a code.
"""
