"""What is seen of lines among faces, against a ray cast at many places of every line: numpy for the planes, shapely for the
outlines."""

import math
import random
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest
from shapely.geometry import Point, Polygon

from docgen.assemble import Flat
from docgen.assemble.apart.side import BEHIND_MM
from docgen.pages.pictures.hide import Hider

PLACES = 60
NEAR_EDGE_MM = 0.02  # a place so near to the outline of a face is judged by neither
Corners = Sequence[tuple[float, float, float]]


def make_face(chance: random.Random, corners: int) -> tuple[list[Flat], float]:
    """A flat face in a plane of its own: a ring about a middle, not always convex, and the cosine of its slope."""
    slope_x, slope_y, off = chance.uniform(-1.2, 1.2), chance.uniform(-1.2, 1.2), chance.uniform(-40, 40)
    middle = chance.uniform(-60, 60), chance.uniform(-60, 60)
    turns = sorted(chance.uniform(0, 2 * np.pi) for _ in range(corners))
    ring = [
        (middle[0] + chance.uniform(10, 60) * np.cos(turn), middle[1] + chance.uniform(10, 60) * np.sin(turn))
        for turn in turns
    ]
    return [(x, y, slope_x * x + slope_y * y + off) for x, y in ring], 1 / np.sqrt(1 + slope_x**2 + slope_y**2)


def make_scene(seed: int) -> tuple[list[tuple[list[Flat], float]], list[tuple[Flat, Flat]]]:
    chance = random.Random(seed)
    faces = [make_face(chance, chance.randint(3, 7)) for _ in range(12)]
    faces = [face for face in faces if Polygon([at[:2] for at in face[0]]).is_valid]
    lines = [
        tuple((chance.uniform(-90, 90), chance.uniform(-90, 90), chance.uniform(-90, 90)) for _ in range(2))
        for _ in range(25)
    ]
    return faces, [(start, end) for start, end in lines]


def plane_of(corners: Corners) -> "np.ndarray[tuple[int], np.dtype[np.float64]]":
    """a, b, c of the plane a x + b y + c through the corners of a face."""
    rows = np.array([[x, y, 1.0] for x, y, _ in corners])
    found: np.ndarray[tuple[int], np.dtype[np.float64]] = np.linalg.lstsq(
        rows, np.array([near for _, _, near in corners]), rcond=None
    )[0]
    return found


def is_hidden(faces: Sequence[tuple[Corners, float]], at: Flat) -> bool | None:
    """Whether any face lies in front of a place, by ray cast; None where that hangs on a hair."""
    spot, hidden = Point(at[0], at[1]), False
    for corners, cosine in faces:
        ring = Polygon([corner[:2] for corner in corners])
        if ring.exterior.distance(spot) < NEAR_EDGE_MM:
            return None
        over = (plane_of(corners) @ [at[0], at[1], 1.0] - at[2]) * cosine
        if ring.contains(spot):
            if abs(over - BEHIND_MM) < NEAR_EDGE_MM:
                return None
            hidden = hidden or over > BEHIND_MM
    return hidden


def along(start: Flat, end: Flat, share: float) -> Flat:
    x, y, near = (a + (b - a) * share for a, b in zip(start, end, strict=True))
    return x, y, near


@pytest.mark.parametrize("seed", range(8))
def test_lines_are_seen_where_no_ray_meets_a_face(seed: int) -> None:
    faces, lines = make_scene(seed)
    hider = Hider(faces)
    judged = hidden = 0
    for start, end in lines:
        seen = hider.seen(start, end)
        for share in np.linspace(0.003, 0.997, PLACES):
            told = is_hidden(faces, along(start, end, share))
            if told is not None:
                assert any(low - 1e-6 <= share <= high + 1e-6 for low, high in seen) is not told
                judged, hidden = judged + 1, hidden + told
    assert judged > 0.9 * len(lines) * PLACES
    assert 0.05 * judged < hidden < 0.95 * judged


@pytest.mark.parametrize("seed", range(4))
def test_no_order_of_the_faces_changes_what_is_seen(seed: int) -> None:
    faces, lines = make_scene(seed)
    plain, turned = Hider(faces), Hider(faces[::-1])
    for start, end in lines:
        assert np.allclose(plain.seen(start, end), turned.seen(start, end), atol=1e-9)
        back = [(1 - high, 1 - low) for low, high in reversed(plain.seen(end, start))]
        assert np.allclose(plain.seen(start, end), back, atol=1e-6)


@pytest.mark.parametrize("seed", range(4))
def test_the_nearest_face_at_a_place_is_that_of_the_ray_cast(seed: int) -> None:
    faces, _ = make_scene(seed)
    hider, chance = Hider(faces), random.Random(seed)
    met = 0
    for _ in range(300):
        x, y = chance.uniform(-90, 90), chance.uniform(-90, 90)
        found = []
        for number, (corners, _) in enumerate(faces):
            ring = Polygon([corner[:2] for corner in corners])
            if ring.exterior.distance(Point(x, y)) < NEAR_EDGE_MM:
                break
            if ring.contains(Point(x, y)):
                found.append((float(plane_of(corners) @ [x, y, 1.0]), number))
        else:
            front = hider.front_at(x, y, -math.inf)
            assert (front is None) is (not found)
            assert hider.covers(x, y) is bool(found)
            if front is not None:
                near, number = max(found)
                assert front == (number, pytest.approx(near, abs=1e-6))
                assert hider.front_at(x, y, near + 1e-6) is None
                met += 1
    assert met > 60


def test_a_face_hides_none_of_its_own_edges_however_it_is_turned() -> None:
    """Its margin is measured at right angles to it: a fixed one along the ray would hide them as it turns away."""
    for turn in np.radians([0, 30, 60, 80, 89, 89.9]):
        cosine, slope = float(np.cos(turn)), float(np.tan(turn))
        corners = [(0.0, 0.0, 0.0), (50.0 * cosine, 0.0, 50.0 * cosine * slope)]
        corners += [(x, y + 40.0, near) for x, y, near in reversed(corners)]
        hider = Hider([(corners, cosine)])
        for start, end in pairwise([*corners, corners[0]]):
            assert hider.seen(start, end) == [(0.0, 1.0)]


def test_what_lies_a_layer_behind_a_face_is_hidden_and_what_lies_on_it_is_not() -> None:
    square = [(0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (10.0, 10.0, 0.0), (0.0, 10.0, 0.0)]
    hider = Hider([(square, 1.0)])
    for near, seen in ((0.1, True), (0.0, True), (-0.1, True), (-0.3, False), (-1.6, False)):
        assert bool(hider.seen((2.0, 5.0, near), (8.0, 5.0, near))) is seen
    assert hider.seen((-5.0, 5.0, -1.6), (15.0, 5.0, -1.6)) == [(0.0, 0.25), (0.75, 1.0)]
