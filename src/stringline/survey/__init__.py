"""The survey: raw readings to coordinates with their uncertainty, and what the readings say about each other.

``run`` goes through it: ``build`` makes rows of a job's readings, ``approximate`` finds coordinates to start from,
``adjust`` those that fit best, ``slips`` the reading that the others contradict, ``design`` what to tape next (or
first), ``levels`` what a rod says. Pure: metres and radians, findings without words.
"""
