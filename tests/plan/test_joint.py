"""Plans of variants joined: sums equal those of the variants, alike pieces are one line."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from by_hand import make_hardware

from docgen.assemble import Fastened, Stack
from docgen.geometry.shapes import Point
from docgen.plan import HardwareItem, Plan, TrimmingItem, join_plans, plan_work
from docgen.resolve import Build, Costs, Hole, Marks, Price, Step, Trimming, TrimmingCut, Weight

STACK = Stack(layers=(), usual_mm=4.0, thinnest_mm=4.0, thickest_mm=4.0)
EACH = Price(amount=0.5, per="each", words="0.50 each")
RIVET = make_hardware("rivet", "rivet", 4, posts_mm=(6.0, 8.0), price=EACH)


@pytest.fixture
def variant(make_build: Callable[..., Build], make_piece, make_seam, main) -> Callable[..., Plan]:
    """The plan of a variant whose back is so wide; its tab is always the same."""

    def plan(name: str, width_mm: float, makes: int, by: str = "machine") -> Plan:
        stitch = main if by == "machine" else replace(main, by="hand", type="saddle stitch")
        build = make_build(
            variant=name,
            title=f"Bag, {name}",
            makes=makes,
            stitches=(stitch,),
            hardware=(RIVET,),
            pieces=(make_piece("back", width_mm, 150), make_piece("tab", 20, 30, cut=2)),
            seams=(make_seam("side", width_mm, "back", "back"),),
            fastened=(Fastened(hardware="rivet", part="back", count=4, event=0, stack=STACK, post_mm=8.0),),
            steps=(Step(do="Glue.", tools=("contact cement",), minutes=10),),
            weights=(Weight(name="rivet", grams=2.0),),
            costs=Costs(labour=Price(amount=30.0, per="hour", words="30 per hour")),
        )
        return plan_work(build)

    return plan


def test_alike_pieces_are_one_line_and_others_say_their_variant(variant) -> None:
    plans = [variant("small", 200, 2), variant("large", 300, 3)]
    joint = join_plans(plans, "Bag")
    (material,) = joint.materials
    assert (joint.build.pieces, joint.steps) == (plans[0].build.pieces, plans[0].steps), "the rest is the first one's"
    assert [(item.title, item.count) for item in material.items] == [
        ("Back (large)", 3),
        ("Back (small)", 2),
        ("Tab", 10),
    ]
    assert (joint.build.title, joint.build.variant, joint.build.makes) == ("Bag", "", 5)


def test_a_piece_of_two_variants_out_of_three_names_both(variant) -> None:
    joint = join_plans([variant("a", 200, 1), variant("b", 200, 1), variant("c", 300, 1)], "Bag")
    (material,) = joint.materials
    assert [(item.title, item.count) for item in material.items[:2]] == [("Back (c)", 1), ("Back (a, b)", 2)]


@pytest.mark.parametrize("by", ["machine", "hand"])
def test_sums_are_those_of_the_variants(variant, by: str) -> None:
    plans = [variant("small", 200, 2, by), variant("large", 300, 3, by)]
    joint = join_plans(plans, "Bag")
    (material,) = joint.materials
    assert material.net_mm2 == pytest.approx(sum(plan.materials[0].net_mm2 for plan in plans))
    assert material.gross_mm2 == pytest.approx(sum(plan.materials[0].gross_mm2 for plan in plans))
    (need,) = joint.threads
    assert need.total_mm == pytest.approx(sum(plan.threads[0].total_mm for plan in plans))
    assert need.sewn_mm == pytest.approx(2 * 200 + 3 * 300)
    (rivets,) = joint.hardware
    assert (rivets.count, rivets.posts) == (20, ((8.0, 20),))
    assert [supply.what for supply in joint.supplies] == ["contact cement"]
    assert [weight.grams for weight in joint.weights] == [pytest.approx(10.0)]
    assert joint.cost is not None
    assert joint.cost.total == pytest.approx(sum(plan.cost.total for plan in plans if plan.cost))
    # Rivets 20 x 0.50, work 50 min at 30 an hour: 35 for five makes.
    assert joint.cost.each == pytest.approx(7.0)


def test_threads_to_cut_by_hand_name_their_variant(variant) -> None:
    joint = join_plans([variant("small", 200, 2, "hand"), variant("large", 300, 3, "hand")], "Bag")
    (need,) = joint.threads
    assert [(cut.title, cut.count) for cut in need.hand] == [("Side (small)", 2), ("Side (large)", 3)]


def test_a_material_of_other_thickness_is_another_material(variant, body) -> None:
    small, large = variant("small", 200, 1), variant("large", 300, 1)
    thick = replace(large.materials[0], material=replace(body, thickness_mm=3.0))
    joint = join_plans([small, replace(large, materials=(thick,))], "Bag")
    assert [material.material.thickness_mm for material in joint.materials] == [2.0, 3.0]


def test_hardware_of_another_size_is_bought_apart(variant) -> None:
    """Three buckles of 20 mm and five of 25 mm are no eight of one size."""

    def with_buckle(name: str, makes: int, inside_mm: float) -> Plan:
        plan = variant(name, 200, makes)
        buckle = make_hardware("buckle", "buckle", 1, inside_mm=inside_mm, bar_mm=3.0)
        return replace(plan, hardware=(*plan.hardware, HardwareItem(hardware=buckle, count=makes)))

    joint = join_plans([with_buckle("a", 1, 20.0), with_buckle("b", 2, 20.0), with_buckle("c", 5, 25.0)], "Bag")
    assert [(item.hardware.what, item.hardware.inside_mm, item.count) for item in joint.hardware] == [
        ("rivet", 0.0, 32),
        ("buckle (a, b)", 20.0, 3),
        ("buckle (c)", 25.0, 5),
    ]


def test_goods_by_length_are_one_line_with_every_length_and_how_many_of_it(variant) -> None:
    """Two makes with two strips of 300 mm each, three with two of 300 and one of 400: ten of 300 mm, three of 400."""
    binding = Trimming(name="binding", what="binding", kind="binding", width_mm=25.0, thickness_mm=0.5, layers=2)
    short, long = TrimmingCut(run_mm=290.0, length_mm=300.0), TrimmingCut(run_mm=390.0, length_mm=400.0)

    def with_binding(name: str, makes: int, *cuts: tuple[TrimmingCut, int]) -> Plan:
        used = replace(binding, cuts=tuple(cut for cut, _ in cuts))
        return replace(variant(name, 200, makes), trimmings=(TrimmingItem(trimming=used, cuts=cuts),))

    (item,) = join_plans(
        [with_binding("a", 2, (short, 4)), with_binding("b", 3, (short, 6), (long, 3))], "Bag"
    ).trimmings
    assert item.cuts == ((short, 10), (long, 3))
    assert item.net_mm == 10 * 300 + 3 * 400


def test_pieces_that_are_punched_elsewhere_are_cut_by_templates_of_their_own(variant) -> None:
    small, large = variant("small", 200, 2), variant("large", 200, 3)
    (material,) = large.materials
    tab = next(item for item in material.items if item.name == "tab")
    punched = replace(tab.piece, marks=Marks(holes=(Hole(at=Point(10.0, 20.0), diameter_mm=4.0),)))
    items = tuple(replace(item, piece=punched) if item is tab else item for item in material.items)
    joint = join_plans([small, replace(large, materials=(replace(material, items=items),))], "Bag")
    assert [(item.title, item.count) for item in joint.materials[0].items] == [
        ("Back", 5),
        ("Tab (small)", 4),
        ("Tab (large)", 6),
    ]


def test_no_plans_cannot_be_joined() -> None:
    with pytest.raises(ValueError, match="there are no plans to join"):
        join_plans([], "Bag")
