"""Stock and what is cut from it: sticks, patterns, runs of sticks with factory ends; it knows no pool."""
