"""A sheet as plain text for a terminal of 80 columns; no wording of its own."""
