"""A line across: what words stand on, and what parts them."""

from docgen.geometry.path import polyline
from docgen.geometry.shapes import Point
from docgen.pages.marks.page import PathMark, Stroke


def level_line(left: float, right: float, y: float, width_mm: float) -> PathMark:
    """A level line from `left` to `right`, its middle at `y`; all in mm."""
    return PathMark(path=polyline((Point(left, y), Point(right, y))), stroke=Stroke(width_mm))
