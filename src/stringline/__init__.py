"""From tape readings at a pool to a layout, an order, every cut with its working, and a book."""

__version__ = "0.1.0"
