"""What to tape next, and what to tape first."""
