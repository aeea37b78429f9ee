"""Plane geometry that more than one room speaks: points as arrays of shape (2,), metres, angles in radians."""

from stringline.geometry.calipers import Strip, narrowest_strip
from stringline.geometry.frame import Array, Frame
from stringline.geometry.hull import Hull, convex_hull, hull_of
from stringline.geometry.shapes import (
    Arc,
    Line,
    crosses_itself,
    distance_to_chain,
    inside,
    signed_area,
    triangles,
)

__all__ = [
    "Arc",
    "Array",
    "Frame",
    "Hull",
    "Line",
    "Strip",
    "convex_hull",
    "crosses_itself",
    "distance_to_chain",
    "hull_of",
    "inside",
    "narrowest_strip",
    "signed_area",
    "triangles",
]
