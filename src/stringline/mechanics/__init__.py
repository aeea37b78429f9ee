"""mechanics."""
