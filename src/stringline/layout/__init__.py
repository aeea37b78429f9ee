"""layout."""
