"""What is ordered, whether it may be yet, and what the pour changed."""
