"""A plan as data for other programs, schema 1."""
