"""The checks on a plan: figures of the engineering held against the catalogue's limits, with their uncertainty.

One module a room; ``codes`` is the table of all of them. A check says codes only: its words are in the chapter
``check`` of the catalogue, what it advises in a particular case also in the chapter of the room that found it.
"""
