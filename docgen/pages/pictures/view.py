"""Space on paper: parallel projections of ISO 5456-3:1996, and the ray along which each of them looks."""

from __future__ import annotations

import math
from typing import Literal

from docgen.assemble import Vec
from docgen.classes import dataclass
from docgen.geometry.shapes import Point, make_point

Side = Literal["front", "behind"]
WIDTH_DEG, DEPTH_DEG, DEPTH_SHARE = 7.0, 42.0, 0.5  # of the dimetric; from a report of ISO 5456-3, clause 5.2
FLOOR_DEG = 30.0  # of the isometric, both axes, clause 5.1; from memory


@dataclass(frozen=True, slots=True)
class View:
    """A point in space is (across . p, up . p) on paper; `eye` is the unit vector along the ray to whoever looks, so that
    of two points on one ray the one with the greater eye . p hides the other."""

    across: Vec
    up: Vec
    eye: Vec

    def flat(self, at: Vec) -> tuple[float, float, float]:
        """Where a point lies on paper, and how near it is."""
        x, y, z = at
        (ax, ay, az), (ux, uy, uz), (ex, ey, ez) = self.across, self.up, self.eye
        return ax * x + ay * y + az * z, ux * x + uy * y + uz * z, ex * x + ey * y + ez * z


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """How space is put on paper: the box that the drawing may fill, the scale, and what comes to lie at its corner."""

    scale: float
    left: float
    bottom: float

    def put(self, x: float, y: float) -> Point:
        return make_point(((x - self.left) * self.scale, (y - self.bottom) * self.scale))


def dimetric(side: Side) -> View:
    """For what stands: its front nearly true, its depth halved; from behind it is turned half round on the table."""
    wide, deep = math.radians(WIDTH_DEG), math.radians(DEPTH_DEG)
    hand = 1.0 if side == "front" else -1.0
    across = hand * math.cos(wide), hand * DEPTH_SHARE * math.cos(deep), 0.0
    up = -hand * math.sin(wide), hand * DEPTH_SHARE * math.sin(deep), 1.0
    return _view(across, up)


def upright(side: Side) -> View:
    """What lies, as it is seen once it is stood up on its foot."""
    (ax, ay, az), (ux, uy, uz), (ex, ey, ez) = (view := dimetric(side)).across, view.up, view.eye
    return View((ax, az, -ay), (ux, uz, -uy), (ex, ez, -ey))


def isometric(side: Side) -> View:
    """For what lies: all three axes alike; behind, it is turned over about the way it is high, so that its top stays the
    top."""
    cos, sin = math.cos(math.radians(FLOOR_DEG)), math.sin(math.radians(FLOOR_DEG))
    front = _view((cos, cos, 0.0), (-sin, sin, 1.0))
    return front if side == "front" else turned_round(front)


def turned_round(view: View) -> View:
    """The same once what is seen is turned round about the way that it is high, lying or standing: its left is its right
    then, and its top stays."""
    (ax, ay, az), (ux, uy, uz), (ex, ey, ez) = view.across, view.up, view.eye
    return View((-ax, ay, -az), (-ux, uy, -uz), (-ex, ey, -ez))


def half_turned(view: View) -> View:
    """The same once what lies is turned half round on the table: its top comes near."""
    (ax, ay, az), (ux, uy, uz), (ex, ey, ez) = view.across, view.up, view.eye
    return View((-ax, -ay, az), (-ux, -uy, uz), (-ex, -ey, ez))


def corner(side: Side) -> View:
    """For what is small on what stands: isometric from the right of its front, or of its back."""
    cos, sin = math.cos(math.radians(FLOOR_DEG)), math.sin(math.radians(FLOOR_DEG))
    hand = 1.0 if side == "front" else -1.0
    return _view((hand * cos, hand * cos, 0.0), (-hand * sin, hand * sin, 1.0))


def _view(across: Vec, up: Vec) -> View:
    (ax, ay, az), (ux, uy, uz) = across, up
    ray = ay * uz - az * uy, az * ux - ax * uz, ax * uy - ay * ux
    long = math.sqrt(ray[0] ** 2 + ray[1] ** 2 + ray[2] ** 2)
    return View(across, up, (ray[0] / long, ray[1] / long, ray[2] / long))
