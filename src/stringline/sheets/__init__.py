"""The only words and units: each section of a plan as a sheet in one person's voice, and its pictures."""
