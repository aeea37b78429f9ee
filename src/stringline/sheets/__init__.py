"""The words: each section of a plan as a sheet, with its pictures."""
