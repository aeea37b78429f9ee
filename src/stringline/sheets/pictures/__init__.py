"""The drawings of a plan, by key."""
