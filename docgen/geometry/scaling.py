"""Larger and smaller copies of a path, for drawings that are not at full size."""

from docgen.geometry.shapes import Arc, Curve, Line, Path, Point, Segment


def scale_path(path: Path, factor: float) -> Path:
    """The path with every distance from (0, 0) times `factor` (more than 0)."""
    return Path(tuple(_scale_segment(segment, factor) for segment in path.segments), path.closed)


def _scale_segment(segment: Segment, factor: float) -> Segment:
    def scaled(point: Point) -> Point:
        return Point(point.x * factor, point.y * factor)

    match segment:
        case Line(start, end):
            return Line(scaled(start), scaled(end))
        case Arc(centre, radius, begin, sweep):
            return Arc(scaled(centre), radius * factor, begin, sweep)
        case Curve(start, handle_1, handle_2, end):
            return Curve(scaled(start), scaled(handle_1), scaled(handle_2), scaled(end))
