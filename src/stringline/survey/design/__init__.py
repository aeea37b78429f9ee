"""Network design: what to tape next at a pool being taped, and what to tape at all where nobody has taped yet."""
