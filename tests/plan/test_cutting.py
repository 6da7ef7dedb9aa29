"""What to cut and how much it takes, from builds made by hand."""

from dataclasses import replace

import pytest
from by_hand import CLOTH, make_hardware, make_strap

from docgen.geometry.outline import rectangle_outline
from docgen.geometry.shapes import Point
from docgen.plan import plan_work
from docgen.plan.cutting import join_edges, purpose_counts
from docgen.resolve import Hem, Hole, Skive, Slit

MM2_PER_SQFT = 304.8**2  # 1 ft = 304.8 mm, exact by definition


def test_five_square_feet_at_twenty_percent_waste_take_six_and_a_quarter(make_build, make_piece, body) -> None:
    """5.00 sq ft net at 20 % gross waste -> 6.25 (the share lost is of the whole; arithmetic)."""
    build = make_build(materials=(replace(body, waste=0.20),), pieces=(make_piece("a", 304.8, 304.8, cut=5),))
    (material,) = plan_work(build).materials
    assert material.net_mm2 / MM2_PER_SQFT == pytest.approx(5.00)
    assert material.gross_mm2 / MM2_PER_SQFT == pytest.approx(6.25)
    assert material.run_mm == 0


def test_counts_are_for_the_whole_batch(make_build, make_piece) -> None:
    rivet = make_hardware("rivet", "rivet", 14)
    strap = make_strap(make_piece("s", 20, 300, shape="strip", is_strap=True, cut=2))
    plan = plan_work(make_build(makes=3, pieces=(make_piece("a", 100, 50, cut=2),), straps=(strap,), hardware=(rivet,)))
    (material,) = plan.materials
    assert [item.count for item in material.items] == [6]
    assert [item.count for item in material.straps] == [6]
    assert [item.count for item in plan.hardware] == [42]
    assert material.net_mm2 == pytest.approx(6 * 5000 + 6 * 6000)


def test_largest_pieces_and_longest_straps_come_first(make_build, make_piece) -> None:
    pieces = (make_piece("small", 10, 10), make_piece("large", 90, 90), make_piece("middle", 50, 50))
    straps = tuple(make_strap(make_piece(name, 20, length, shape="strip")) for name, length in (("p", 100), ("q", 900)))
    (material,) = plan_work(make_build(pieces=pieces, straps=straps)).materials
    assert [item.name for item in material.items] == ["large", "middle", "small"]
    assert [item.strap.name for item in material.straps] == ["q", "p"]


def test_leather_comes_before_lining_else_as_in_the_spec_and_idle_goods_not_at_all(
    make_build, make_piece, body
) -> None:
    kinds = {"cloth": "fabric", "z": "leather", "idle": "leather", "pad": "foam", "a": "leather"}
    materials = tuple(replace(body, name=name, kind=kind) for name, kind in kinds.items())
    pieces = tuple(make_piece(f"p-{name}", 10, 10, material=name) for name in kinds if name != "idle")
    plan = plan_work(make_build(materials=materials, pieces=pieces))
    assert [item.material.name for item in plan.materials] == ["z", "a", "cloth", "pad"]


def test_a_piece_under_a_quarter_of_the_largest_is_small_and_lining_comes_last(make_build, make_piece, body) -> None:
    """100 x 100 is the largest: 50 x 50 is just a quarter of it, 50 x 49 is less."""
    cloth = replace(body, name="cloth", kind="fabric")
    pieces = (
        make_piece("tab", 50, 49),
        make_piece("back", 100, 100),
        make_piece("lining", 90, 90, material="cloth"),
        make_piece("pocket", 50, 50),
    )
    leather, lining = plan_work(make_build(materials=(cloth, body), pieces=pieces)).materials
    assert [(item.name, item.group) for item in leather.items] == [
        ("back", "panels"),
        ("pocket", "panels"),
        ("tab", "small"),
    ]
    assert [(item.name, item.group) for item in lining.items] == [("lining", "under")]


def test_the_second_layer_of_a_doubled_strap_is_cut_from_its_own_material(make_build, make_piece, body) -> None:
    soft = replace(body, name="soft")
    strap = make_strap(make_piece("s", 20, 600, shape="strip", cut=2), lining="soft", lining_length_mm=560.0)
    first, second = plan_work(make_build(makes=3, materials=(body, soft), straps=(strap,))).materials
    assert [(item.title, item.count, item.length_mm, item.is_lining) for item in first.straps] == [("S", 6, 600, False)]
    assert [(item.title, item.count, item.length_mm, item.is_lining) for item in second.straps] == [
        ("S, second layer", 6, 560.0, True)
    ]
    assert second.net_mm2 == pytest.approx(6 * 20 * 560)


ROLL = replace(CLOTH, waste=0.10, roll_width_mm=1000.0)


def test_goods_by_length_take_at_least_their_area(make_build, make_piece) -> None:
    """20 of 300 x 300 with a tenth lost are 2 m of a roll of 1 m; in rows of three they take seven, 2.1 m."""
    pieces = (make_piece("p", 300, 300, material="cloth", cut=20),)
    (material,) = plan_work(make_build(materials=(ROLL,), pieces=pieces)).materials
    assert material.run_mm == pytest.approx(2100)
    (material,) = plan_work(make_build(materials=(replace(ROLL, waste=0.5),), pieces=pieces)).materials
    assert material.run_mm == pytest.approx(20 * 0.09e6 / 0.5 / 1000)


@pytest.mark.parametrize(
    ("size", "run_mm"), [((1200, 100), 1200), ((900, 100), 100), ((100, 1200), 1200), ((1000, 400), 444.444)]
)
def test_goods_by_length_are_at_least_as_long_as_their_longest_piece(
    make_build, make_piece, size: tuple[float, float], run_mm: float
) -> None:
    pieces = (make_piece("p", *size, material="cloth"),)
    (material,) = plan_work(make_build(materials=(ROLL,), pieces=pieces)).materials
    assert material.run_mm == pytest.approx(run_mm, abs=0.001)


def test_a_strap_of_cloth_counts_for_its_length_too(make_build, make_piece) -> None:
    strap = make_strap(make_piece("s", 20, 1500, shape="strip", material="cloth"), material="cloth")
    (material,) = plan_work(make_build(materials=(ROLL,), straps=(strap,))).materials
    assert material.run_mm == pytest.approx(1500)


def test_notes_tell_holes_apart_by_what_they_take(make_build, make_piece) -> None:
    holes = tuple(Hole(at=Point(20, 20), diameter_mm=4.0, takes=takes) for takes in ("rivet", "", "rivet"))
    (material,) = plan_work(make_build(show="mm", pieces=(make_piece("a", 100, 50, holes=holes),))).materials
    assert material.items[0].notes == ("2 holes, 4 mm (5/32 in), for rivet", "1 hole, 4 mm (5/32 in)")


def test_skives_that_are_alike_are_one_note(make_build, make_piece) -> None:
    band = rectangle_outline(1, 1).edges[0].path
    skives = tuple(
        Skive(edges=edges, band=band, width_mm=12.7, to_mm=to_mm, to_words=to_words)
        for edges, to_mm, to_words in (("start", 1.0, "1 mm"), ("left", 1.2, "3 oz"), ("end", 1.0, "1 mm"))
    )
    (material,) = plan_work(make_build(show="in", pieces=(make_piece("a", 100, 50, skives=skives),))).materials
    assert material.items[0].notes == (
        "skive start and end: 1/2 in (12.7 mm) wide, to 2.5 oz (1 mm)",
        "skive left: 1/2 in (12.7 mm) wide, to 3 oz (1.2 mm)",
    )


def test_notes_tell_an_oblong_hole_from_a_round_one(make_build, make_piece) -> None:
    """3/16 in wide and 1 1/4 in long: half of the way between its ends is (31.75 - 4.7625) / 2 mm."""
    slot = Hole(at=Point(20, 20), diameter_mm=4.7625, slot=Point(0, (31.75 - 4.7625) / 2))
    round_one = Hole(at=Point(60, 20), diameter_mm=4.7625)
    build = make_build(show="in", pieces=(make_piece("a", 100, 50, holes=(slot, round_one, slot)),))
    (material,) = plan_work(build).materials
    assert material.items[0].notes == ("1 hole, 3/16 in (4.8 mm)", "2 slots, 3/16 × 1 1/4 in (4.8 × 31.8 mm)")


@pytest.mark.parametrize(
    ("edges", "words"),
    [("left", "left"), ("left bottom", "left and bottom"), ("left bottom right", "left, bottom and right")],
)
def test_edges_of_a_skive_are_told_apart(edges: str, words: str) -> None:
    assert join_edges(edges) == words


def test_notes_tell_skives_holes_solved_length_and_the_makers_words(make_build, make_piece) -> None:
    skive = Skive(
        edges="left bottom", band=rectangle_outline(1, 1).edges[0].path, width_mm=12.7, to_mm=1.2, to_words="3 oz"
    )
    holes = tuple(Hole(at=Point(20, 20), diameter_mm=diameter) for diameter in (4.7625, 3.175, 4.7625, 4.7625))
    slits = (Slit(start=Point(20, 40), end=Point(39.05, 40)),)
    piece = make_piece("a", 100, 50, skives=(skive,), holes=holes, slits=slits, is_solved=True, note="belly side")
    (material,) = plan_work(make_build(show="in", pieces=(piece,))).materials
    assert material.items[0].notes == (
        "skive left and bottom: 1/2 in (12.7 mm) wide, to 3 oz (1.2 mm)",
        "1 hole, 1/8 in (3.2 mm)",
        "3 holes, 3/16 in (4.8 mm)",
        "cut 1 slit, 3/4 in (19.1 mm) long",
        "length worked out from its seam",
        "belly side",
    )


def test_sizes_are_those_of_the_box_round_the_piece(make_build, make_piece) -> None:
    (material,) = plan_work(make_build(pieces=(make_piece("a", 100, 50, is_pair=True),))).materials
    item = material.items[0]
    assert (item.width_mm, item.height_mm, item.area_mm2) == pytest.approx((100, 50, 5000))
    assert (item.title, item.is_pair, item.shape) == ("A", True, "rectangle")


def test_notes_say_how_far_a_hem_is_turned(make_build, make_piece) -> None:
    """1/2 in is 12.7 mm, 3/8 in 9.5 mm."""
    once = replace(make_piece("a", 50, 50), hems=(Hem(edges=("top",), turned_mm=12.7),))
    twice = replace(make_piece("b", 50, 50), hems=(Hem(edges=("left", "bottom"), turned_mm=9.525, is_double=True),))
    round_ = replace(make_piece("c", 50, 50), hems=(Hem(edges=("all",), turned_mm=12.7),))
    (plan,) = plan_work(make_build(pieces=(once, twice, round_), show="in")).materials
    assert [item.notes for item in plan.items] == [
        ("hem top: turn over 1/2 in (12.7 mm)",),
        ("hem left and bottom: turn over twice, 3/8 in (9.5 mm) each",),
        ("hem all round: turn over 1/2 in (12.7 mm)",),
    ]


def test_notes_say_what_holes_meet(make_build, make_piece) -> None:
    holes = [Hole(at=Point(x, 20.0), diameter_mm=4.0, takes="rivet", meets=("Handle", "Strap")) for x in (10.0, 30.0)]
    piece = make_piece("a", 50, 50, holes=(*holes, Hole(at=Point(25.0, 40.0), diameter_mm=4.0, takes="rivet")))
    (plan,) = plan_work(make_build(pieces=(piece,), show="mm")).materials
    assert plan.items[0].notes == (
        "2 holes, 4 mm (5/32 in), for rivet, Handle and Strap",
        "1 hole, 4 mm (5/32 in), for rivet",
    )


def test_holes_without_another_purpose_beside_others_say_what_they_take() -> None:
    """Two holes of a tab: the gusset that one meets has been told as meeting the tab, so that both are for a rivet."""
    rivet = Hole(at=Point(5, 5), diameter_mm=4, takes="rivet")
    meets = replace(rivet, meets=("Gusset",))
    assert purpose_counts((meets, rivet)) == ["1, for Gusset", "1, for rivet"]
    assert purpose_counts((meets, rivet), {"Gusset"}) == ["2, for rivet"]
    assert purpose_counts((meets, meets), {"Gusset"}) == ["2"]  # said already, of all of them
    assert purpose_counts((replace(rivet, takes=""),)) == ["1"]
    assert purpose_counts((replace(rivet, meets=("Strap, long", "Tab")),)) == ['1, for "Strap, long" and Tab']
