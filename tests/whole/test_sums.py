"""Areas and lengths of the cutting list, worked out by hand from the numbers written in specs/, and read back.

Outside checks: closed forms beside each figure, shapely for outlines without one, pypdf for the printed words.
"""

import math
from math import pi

import pytest
from pypdf import PdfReader
from shapely.geometry import Polygon

from docgen.geometry.outline import outline_path
from docgen.geometry.path import flatten

INCH = 25.4
SQUARE_FOOT_MM2 = 304.8**2
OUNCE_MM = INCH / 64  # leather weight (common practice)


def read_words(demo, name):
    """All words of a file, one space between them; a no-break space counts as a space."""
    text = " ".join(page.extract_text() for page in PdfReader(demo.file(name)).pages)
    return " ".join(text.replace("\u00a0", " ").split())


def rounded(width, height, radius, corners=2):
    """Area of a rectangle with some quarter-round corners."""
    return width * height - corners * (1 - pi / 4) * radius**2


def shapely_area(piece):
    return Polygon(flatten(outline_path(piece.outline), 0.001)).area


def all_pieces(demo):
    build = demo.plan.build
    return [*build.pieces, *(strap.piece for strap in build.straps)]


def find_area(demo, name):
    areas = {item.name: item.area_mm2 for material in demo.plan.materials for item in material.items}
    straps = {item.strap.name: item.area_mm2 for material in demo.plan.materials for item in material.straps}
    return (areas | straps)[name]


# The U of the seam: both straight sides, the straight foot, and two quarter rounds at the stitch line.
EDGE = 5 / 32 * INCH
SEAM = 2 * (9.25 - 1.25) * INCH + (12 - 2.5) * INCH + pi * (1.25 * INCH - EDGE)
BASE = SEAM - 2 * 8.25 * INCH + 2 * 0.5 * INCH
BAG_AREAS = {
    "back": rounded(12 * INCH, 9.25 * INCH, 1.25 * INCH),
    "front": rounded(12 * INCH, 9.25 * INCH, 1.25 * INCH),
    "pocket": rounded(8 * INCH, 4.75 * INCH, 0.75 * INCH),
    "buckle-tab": rounded(0.75 * INCH, 3 * INCH, 0.25 * INCH),
    "ring-tab": rounded(1 * INCH, 2.5 * INCH, 0.25 * INCH),
    "gusset-side": 3.5 * 8.25 * INCH**2,
    "gusset-base": 3.5 * INCH * BASE,
    "gusset-lining": 3.5 * INCH * SEAM,
    "back-lining": rounded(12 * INCH, 9.25 * INCH, 1.25 * INCH),
    "pad": rounded(12 * INCH - 4 * EDGE, 9.25 * INCH - 4 * EDGE, 1.25 * INCH - 2 * EDGE),
    # A round end is a half circle as wide as the strap.
    "handle": 0.875 * INCH * (14 - 0.875) * INCH + pi / 4 * (0.875 * INCH) ** 2,
}
LEATHER = round(5 * OUNCE_MM, 1)  # a gauge shows tenths


def turned(back_mm, bar_mm):
    """What a turned end takes: what lies back, and half round the bar along the middle of the leather."""
    return back_mm + pi / 2 * (bar_mm + LEATHER)


STRAP_LENGTHS = {
    "handle": 14 * INCH,
    "closing": (8 + 0.75 + 1.5) * INCH,  # to the middle hole, one hole on, to the tip
    "shoulder-buckle": 14 * INCH + turned(2 * INCH, 4) + turned(2.5 * INCH, 3),
    "shoulder": (44 - 14 + 3 + 3.5) * INCH + turned(2 * INCH, 4),
}


def test_areas_of_the_bag_are_those_of_the_closed_forms(bag):
    for name, area in BAG_AREAS.items():
        assert find_area(bag, name) == pytest.approx(area, rel=1e-6), name


def test_areas_of_the_sleeve_are_those_of_the_closed_forms(make):
    sleeve = make("notebook-sleeve", "a4")
    assert find_area(sleeve, "front") == pytest.approx(rounded(162, 200, 12), rel=1e-6)
    assert find_area(sleeve, "tab") == pytest.approx(pi * 15**2, rel=1e-6)


def test_areas_agree_with_shapely(demo):
    for piece in all_pieces(demo):
        assert find_area(demo, piece.name) == pytest.approx(shapely_area(piece), rel=2e-4), piece.name


def test_strap_lengths_follow_from_the_worn_length(bag):
    lengths = {strap.name: strap.cut_length_mm for strap in bag.plan.build.straps}
    assert lengths == pytest.approx(STRAP_LENGTHS, abs=0.01)
    for strap in bag.plan.build.straps:
        box = Polygon(flatten(outline_path(strap.piece.outline), 0.01)).bounds
        assert max(box[2] - box[0], box[3] - box[1]) == pytest.approx(strap.cut_length_mm, abs=0.01)


def test_totals_of_each_material_are_the_sums_of_its_pieces(bag):
    counts = {"buckle-tab": 2, "ring-tab": 2, "gusset-side": 2, "closing": 2, "back-lining": 2, "pad": 2}
    of_body = {"back", "front", "pocket", "buckle-tab", "gusset-side", "gusset-base", "ring-tab", "handle"}
    straps = {strap.name: shapely_area(strap.piece) for strap in bag.plan.build.straps if strap.name != "handle"}
    body = sum(BAG_AREAS[name] * counts.get(name, 1) for name in of_body)
    body += sum(area * counts.get(name, 1) for name, area in straps.items())
    found = {material.material.name: material for material in bag.plan.materials}
    assert found["body"].net_mm2 == pytest.approx(body, rel=2e-4)
    # A quarter of the hide is lost: three quarters of what is bought are pieces.
    assert found["body"].gross_mm2 * 0.75 == pytest.approx(found["body"].net_mm2)
    assert found["lining"].net_mm2 == pytest.approx(2 * BAG_AREAS["back-lining"] + BAG_AREAS["gusset-lining"])
    assert found["pad"].net_mm2 == pytest.approx(2 * BAG_AREAS["pad"])
    words = read_words(bag, "cutting-list")
    assert f"{body / SQUARE_FOOT_MM2:.2f} sq ft ({body / 1e4:.1f} dm²)" in words
    feet = math.ceil(body / 0.75 / SQUARE_FOOT_MM2 * 100) / 100  # what is bought is rounded up
    decimetres = math.ceil(feet * SQUARE_FOOT_MM2 / 1e4 * 10) / 10
    assert f"{feet:.2f} sq ft ({decimetres:.1f} dm²)" in words


def test_areas_of_the_bag_are_printed(bag):
    words = read_words(bag, "cutting-list")
    for name, area in BAG_AREAS.items():
        square_feet = area / SQUARE_FOOT_MM2
        # Two decimals; three where two would leave less than two figures.
        feet = f"{round(square_feet, 2 if square_feet >= 0.1 else 3):.4g} sq ft"
        assert feet in words, (name, feet)


def test_sizes_of_the_bag_are_printed(bag):
    words = read_words(bag, "cutting-list")
    sizes = [
        "12 in (304.8 mm)",
        "× 9 1/4 in (235 mm)",
        "8 in (203.2 mm)",
        "× 4 3/4 in (120.7 mm)",
        "3 1/2 in (88.9 mm)",
        "× 8 1/4 in (209.6 mm)",
        "× 3 in (76.2 mm)",
        "× 2 1/2 in (63.5 mm)",
        f"× 13 7/16 in ({BASE:.1f} mm)",
        "× 10 1/4 in (260.4 mm)",
        "× 14 in (355.6 mm)",
        f"({STRAP_LENGTHS['shoulder']:.1f} mm)",
        f"({STRAP_LENGTHS['shoulder-buckle']:.1f} mm)",
    ]
    for size in sizes:
        assert size in words, size


def test_sizes_of_the_sleeve_are_printed_in_mm_first(make):
    words = read_words(make("notebook-sleeve", "a4"), "cutting-list")
    for size in ("162 mm (6 3/8 in)", "× 200 mm (7 7/8 in)", "30 mm (1 3/16 in)"):
        assert size in words, size


def test_counts_times_areas_are_the_net_area(demo):
    for material in demo.plan.materials:
        parts = [item.area_mm2 * item.count for item in (*material.items, *material.straps)]
        assert material.net_mm2 == pytest.approx(sum(parts))
