"""Cuts, orders, parts and stock: what is made from the layout and the as-built readings, every number worked."""
