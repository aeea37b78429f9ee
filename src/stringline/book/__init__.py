"""A plan as a book: its sheets set as pages with Typst, its drawings and tables beside it; no wording of its own."""
