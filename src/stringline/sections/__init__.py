"""Parts of a plan that need more than one room of engineering: ends, levels, remedy, and a pool not taped yet."""
