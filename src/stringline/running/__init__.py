"""running."""
