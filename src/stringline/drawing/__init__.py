"""A drawing recorded once in its own model and written as SVG and DXF; it knows no pool."""
