"""Vectors and rigid transforms of the plane: points in mm in, points in mm out; angles in radians."""

import math
from typing import NamedTuple

from docgen.classes import dataclass
from docgen.geometry.shapes import GeometryError, Point, make_point

_ORIGIN = Point(0.0, 0.0)


def add(a: Point, b: Point) -> Point:
    """The sum of two vectors."""
    return make_point((a[0] + b[0], a[1] + b[1]))


def subtract(a: Point, b: Point) -> Point:
    """The vector from b to a."""
    return make_point((a[0] - b[0], a[1] - b[1]))


def scale(v: Point, k: float) -> Point:
    """The vector k times as long; turned about when k is negative."""
    return make_point((v[0] * k, v[1] * k))


def between(a: Point, b: Point, share: float) -> Point:
    """The point that lies so much of the way from a to b."""
    return make_point((a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share))


def dot(a: Point, b: Point) -> float:
    """The scalar product, mm2."""
    return a[0] * b[0] + a[1] * b[1]


def cross(a: Point, b: Point) -> float:
    """The area of the parallelogram of two vectors, mm2; positive when b lies to the left of a."""
    return a[0] * b[1] - a[1] * b[0]


def norm(v: Point) -> float:
    """The length of a vector, mm."""
    return math.hypot(v[0], v[1])


def distance(a: Point, b: Point) -> float:
    """The distance between two points, mm."""
    return math.hypot(a[0] - b[0], a[1] - b[1])


def unit(v: Point) -> Point:
    """The vector of length 1 in the same direction. GeometryError for a vector without length."""
    length = math.hypot(v[0], v[1])
    if length < 1e-12:
        raise GeometryError("a line without length has no direction")
    return make_point((v[0] / length, v[1] / length))


def turn_left(v: Point) -> Point:
    """The vector turned by a quarter turn anticlockwise."""
    return Point(-v[1], v[0])


@dataclass(frozen=True, slots=True)
class Transform:
    """A rigid movement: x' = a x + c y + e, y' = b x + d y + f.

    Only turning, shifting and mirroring are needed for pattern pieces, and only they keep every arc an arc
    and every length true; anything that stretches or slants raises GeometryError.
    """

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def __post_init__(self) -> None:
        errors = (
            self.a * self.a + self.b * self.b - 1.0,
            self.c * self.c + self.d * self.d - 1.0,
            self.a * self.c + self.b * self.d,
        )
        # written so that a figure that is not a number fails too
        if not all(abs(error) <= 1e-9 for error in errors):
            raise GeometryError("a piece may be turned, shifted or mirrored, and not stretched or slanted")

    @property
    def is_mirror(self) -> bool:
        """True when left and right change places."""
        return self.a * self.d - self.b * self.c < 0


def translation(dx: float, dy: float) -> Transform:
    """Shift by (dx, dy) mm."""
    return Transform(e=dx, f=dy)


def rotation(angle_rad: float, about: Point = _ORIGIN) -> Transform:
    """Turn anticlockwise by an angle in radians about a point."""
    c, s = math.cos(angle_rad), math.sin(angle_rad)
    x, y = about
    return Transform(c, s, -s, c, x - c * x + s * y, y - s * x - c * y)


def half_round(dx: float, dy: float) -> Transform:
    """Half round about the origin, then shifted; twice over everything lies as it was."""
    return Transform(a=-1.0, d=-1.0, e=dx, f=dy)


def undone(t: Transform) -> Transform:
    """The movement that takes one back."""
    return Transform(t.a, t.c, t.b, t.d, -(t.a * t.e + t.b * t.f), -(t.c * t.e + t.d * t.f))


def mirror_x(about_x: float = 0.0) -> Transform:
    """Mirror left for right about the upright line at x = about_x mm."""
    return Transform(a=-1.0, e=2.0 * about_x)


class Matrix(NamedTuple):
    """A movement as `Transform` has it that may also stretch and slant, as drawings do."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0


def compose(first: Transform, second: Transform) -> Transform:
    """One transform that does `first`, then `second`."""
    return Transform(*multiply(first, second))


def multiply(first: Transform | Matrix, second: Transform | Matrix) -> Matrix:
    """The matrix that does `first`, then `second`."""
    return Matrix(
        second.a * first.a + second.c * first.b,
        second.b * first.a + second.d * first.b,
        second.a * first.c + second.c * first.d,
        second.b * first.c + second.d * first.d,
        second.a * first.e + second.c * first.f + second.e,
        second.b * first.e + second.d * first.f + second.f,
    )


def transform_point(point: Point, t: Transform | Matrix) -> Point:
    """The point moved by the transform."""
    x, y = point
    return make_point((t.a * x + t.c * y + t.e, t.b * x + t.d * y + t.f))


def transform_vector(v: Point, t: Transform | Matrix) -> Point:
    """The direction moved by the transform: turned or mirrored, not shifted."""
    return Point(t.a * v[0] + t.c * v[1], t.b * v[0] + t.d * v[1])
