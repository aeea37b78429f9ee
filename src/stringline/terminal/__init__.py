"""Views of a plan for a terminal and for other programs."""
