"""The cutting list: every part once, sums and amounts from the values, all inside the page."""

from dataclasses import replace

import pytest
from demos import demo_build, demo_plan
from on_paper import HOSTILE, PAPERS, check_inside, check_said, make_setup, texts, visible_marks

from docgen.geometry.path import path_box
from docgen.pages.lists.cutting_list import lay_out_cutting_list, piece_notes, strap_notes
from docgen.pages.lists.supply_list import spare_words
from docgen.pages.looks.words import words as page_words
from docgen.pages.marks.moving import text_box
from docgen.pages.marks.page import ClipMark, PathMark, TextMark
from docgen.pages.pictures.pictures import Pictures
from docgen.plan import HardwareItem, Plan, join_plans, plan_work
from docgen.problems import Place, make_caution
from docgen.written.units.table import MM2_PER_SQFT
from docgen.written.units.telling import format_area, format_bought_run


def lay_out_texts(plan: Plan) -> list[str]:
    return texts(lay_out_cutting_list(plan, make_setup()))


def joined(plan: Plan) -> str:
    return " ".join(lay_out_texts(plan))


def with_material(plan: Plan, **changes: object) -> Plan:
    """The plan with its first material's sums changed."""
    return replace(plan, materials=(replace(plan.materials[0], **changes), *plan.materials[1:]))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["field-bag", "notebook-sleeve"])
@pytest.mark.parametrize("changes", [{}, {"makes": 12}, {"show": "mm"}, {"show": "in"}])
def test_demo_pages_stay_inside(name: str, paper: str, changes: dict[str, object]) -> None:
    plan = plan_work(replace(demo_build(name), **changes))
    document = lay_out_cutting_list(plan, make_setup(paper))
    check_inside(document)
    assert [page.label for page in document.pages] == [f"Cutting list {n + 1}" for n in range(len(document.pages))]
    assert all(f"/CUTTING-LIST/{n}" in page.payload for n, page in enumerate(document.pages, start=1))
    assert document.name == "cutting-list"


def test_pages_are_well_filled_before_the_last() -> None:
    document = lay_out_cutting_list(plan_work(demo_build("field-bag")), make_setup())
    for page in document.pages[:-1]:
        lowest = min(m.y_mm for m in page.marks if isinstance(m, TextMark) and m.y_mm > 36)
        assert lowest < page.height_mm / 2


def test_a_last_page_with_little_on_it_is_saved() -> None:
    """Two lines of needles would stand alone on a second page of A4."""
    assert len(lay_out_cutting_list(plan_work(demo_build("cable-roll")), make_setup("A4")).pages) == 1


def test_two_small_tables_take_no_page_of_their_own() -> None:
    """A fifth of a second page, where the first has a tenth to spare and more between its lists."""
    assert len(lay_out_cutting_list(demo_plan("notebook-sleeve"), make_setup("letter")).pages) == 1
    assert len(lay_out_cutting_list(demo_plan("tote"), make_setup("letter")).pages) == 2


def test_lists_that_go_on_say_what_they_are_cut_from() -> None:
    document = lay_out_cutting_list(plan_work(replace(demo_build("field-bag"), makes=12)), make_setup())
    for page in document.pages[1:]:
        first = next(mark.text for mark, _, _ in visible_marks(page.marks) if isinstance(mark, TextMark))
        assert first.startswith(("Cut from", "Buy: ", "Hardware", "Thread", "Needles")), first


def test_the_holes_of_the_buckle_are_told_from_the_others() -> None:
    plan = plan_work(demo_build("field-bag"))
    item = next(item for item in plan.materials[0].straps if item.strap.name == "shoulder")
    assert strap_notes(item, "in", page_words("cutting")) == [
        "in a row: 7 holes, 5/32 in (4 mm)",
        "further: 2 holes, 5/32 in (4 mm)",
    ]


def test_needles_name_the_steps_that_sew() -> None:
    found = lay_out_texts(plan_work(demo_build("field-bag")))
    assert found[found.index("machine needles 110/18, 130/21") + 1] == "3, 5, 6, 7, 8, 9, 11"


def test_every_part_has_one_line() -> None:
    """Titles are given made-up words that stand nowhere else and do not wrap."""
    build = demo_build("field-bag")
    pieces = tuple(replace(piece, title=f"Piece{n:02}") for n, piece in enumerate(build.pieces))
    straps = tuple(replace(strap, title=f"Strap{n:02}") for n, strap in enumerate(build.straps))
    hardware = tuple(replace(item, what=f"Metal{n:02}") for n, item in enumerate(build.hardware))
    found = lay_out_texts(plan_work(replace(build, pieces=pieces, straps=straps, hardware=hardware)))
    for wanted in [*(p.title for p in pieces), *(s.title for s in straps), *(h.what for h in hardware)]:
        assert found.count(wanted) == 1
    places = [found.index(text) for text in found if text.startswith(("Strap0", "Piece0"))]
    first_piece = min(found.index(p.title) for p in pieces)
    assert places
    assert all(found.index(s.title) < first_piece for s in straps)


def test_sum_of_the_pieces_is_the_sum_shown() -> None:
    plan = plan_work(demo_build("field-bag"))
    found = joined(plan)
    for material in plan.materials:
        total = sum(i.area_mm2 * i.count for i in (*material.straps, *material.items))
        assert format_area(total, "in") in found


def test_five_square_feet_at_twenty_percent_lost_take_six_and_a_quarter() -> None:
    """5 / (1 - 0.20) = 6.25 by definition: waste is a share of what is bought."""
    build = demo_build("field-bag")
    first = replace(build.materials[0], waste=0.20)
    plan = plan_work(replace(build, materials=(first, *build.materials[1:])))
    share = 5.0 * MM2_PER_SQFT / plan.materials[0].net_mm2
    gross = plan.materials[0].gross_mm2 * share
    found = joined(with_material(plan, net_mm2=5.0 * MM2_PER_SQFT, gross_mm2=gross))
    assert "5 sq ft (46.5 dm²)" in found
    assert "20 % of the hide is lost" in found
    assert "6.25 sq ft (58.1 dm²)" in found


def test_goods_from_a_roll_say_their_running_length() -> None:
    plan = plan_work(demo_build("field-bag"))
    found = " ".join(lay_out_texts(replace(plan, materials=(replace(plan.materials[1], run_mm=1371.6),))))
    assert "1.5 yd (1.38 m)" in found
    assert "54 in (1371.6 mm)" in found


@pytest.mark.parametrize(("makes", "words"), [(1, "1 make"), (12, "12 makes")])
def test_head_says_the_batch_and_what_has_changed(makes: int, words: str) -> None:
    build = replace(demo_build("field-bag"), makes=makes, changed="Everything anew.")
    found = lay_out_texts(plan_work(build))
    assert found[0] == f"Cutting list: {build.title}"
    assert words in found
    assert "What has changed since the version before: Everything anew." in found


def test_notes_say_which_are_mirrored() -> None:
    (item, *_) = plan_work(demo_build("notebook-sleeve")).materials[0].items
    said = {"mirrored": "mirrored", "of": "of"}
    assert piece_notes(replace(item, count=6, is_pair=True, notes=("belly",)), said) == ["3 of 6 mirrored", "belly"]
    assert piece_notes(replace(item, count=6, notes=()), said) == []


def test_groups_stand_in_the_order_of_cutting() -> None:
    found = lay_out_texts(plan_work(demo_build("field-bag")))
    wanted = [
        "Cut from bridle leather",
        "Straps: off the long straight edge, before anything else",
        "Large pieces",
        "Small pieces, from what is left",
        "Buy: bridle leather",
        "Cut from cotton canvas",
        "Cut from closed-cell foam",
        "Hardware",
        "Thread (estimate)",
        "Needles and goods that are used up",
    ]
    places = [found.index(words) for words in wanted]
    assert places == sorted(places)


def test_the_straight_edge_is_told() -> None:
    """Along the 7 ft of a side both straps of 1 in lie in one row, 38 7/8 + 19 3/16 = 58 1/16 in, with folds of leather of
    2.0 mm, and two of 3/4 in: 3 rows and 1 + 7/8 + 3/4 = 2 5/8 in."""
    found = lay_out_texts(plan_work(demo_build("field-bag")))
    rows = ["3 rows:", "1 of 1 in (25.4 mm)", "1 of 7/8 in (22.2 mm)", "1 of 3/4 in (19.1 mm)"]
    for wanted in ("58 1/16 in (1474.5 mm)", *rows, "2 5/8 in (66.7 mm)"):
        assert wanted in found


def test_a_box_for_each_piece_of_the_batch() -> None:
    """Squares as large as a tick box: every piece and strap of one make, and one each for hardware, thread, supplies."""
    plan = plan_work(demo_build("field-bag"))
    document = lay_out_cutting_list(plan, make_setup())
    tick = make_setup().style.tick_mm - make_setup().style.thin_line_mm
    boxes = 0
    for page in document.pages:
        for mark, _, _ in visible_marks(page.marks):
            if isinstance(mark, PathMark) and mark.fill is None:
                box = path_box(mark.path)
                boxes += box.width == pytest.approx(tick) and box.height == pytest.approx(tick)
    cut = sum(item.count for goods in plan.materials for item in (*goods.straps, *goods.items))
    lines = len(plan.hardware) + len(plan.threads) + len(plan.supplies) + 1
    assert boxes == cut + lines


def test_a_joint_list_names_its_variants_and_itself() -> None:
    build = demo_build("field-bag")
    plans = [
        plan_work(replace(build, variant=name, makes=makes, title=f"Bag, {name}"))
        for name, makes in (("small", 2), ("large", 5))
    ]
    document = lay_out_cutting_list(join_plans(plans, "Bag"), make_setup(), "joint-cutting-list")
    found = texts(document)
    assert found[0] == "Joint cutting list: Bag"
    assert "2 × small, 5 × large" in found
    assert "7 makes" in found
    assert document.pages[0].payload.split("/")[-2:] == ["JOINT-CUTTING-LIST", "1"]
    check_inside(document)


def test_a_variant_is_in_the_code_of_its_pages() -> None:
    plan = plan_work(replace(demo_build("field-bag"), variant="small"))
    document = lay_out_cutting_list(plan, make_setup())
    assert document.pages[1].payload.split("/")[-2:] == ["CUTTING-LIST.SMALL", "2"]


def test_posts_that_were_chosen_are_told() -> None:
    plan = plan_work(demo_build("field-bag"))
    rivet = next(item.hardware for item in plan.hardware if item.hardware.name == "rivet")
    item = HardwareItem(hardware=rivet, count=14, posts=((6.0, 8), (8.0, 4), (0.0, 2)))
    found = lay_out_texts(replace(plan, hardware=(item,)))
    wanted = ["8 with 6 mm post", "4 with 8 mm post", "2 to be tried"]
    assert [text for text in found if text in wanted] == wanted
    open_post = replace(item, hardware=replace(rivet, posts_mm=(6.0, 8.0)), posts=())
    assert "to try: 6 mm, 8 mm" in lay_out_texts(replace(plan, hardware=(open_post,)))


@pytest.mark.parametrize(("name", "is_there"), [("field-bag", True), ("belt", False), ("satchel", False)])
def test_a_column_in_which_nothing_stands_is_left_out(name: str, *, is_there: bool) -> None:
    """A belt's screw posts and a satchel's studs come in one length, and no post is chosen for them."""
    found = lay_out_texts(demo_plan(name))
    assert found.count("finish") >= 1
    assert ("post" in found) == is_there


def test_what_to_have_besides_the_count_is_told() -> None:
    """Posts to try where foam gives, and spares of what is not set twice; nothing of rings."""
    found = " ".join(lay_out_texts(demo_plan("field-bag")))
    assert "4 more of 10 mm to try: foam gives" in found
    assert found.count("none is spare: have 2 more") == found.count("of each post;") == 1
    # 6, 2, 2 and 4 are set, 4 of 10 mm are to be tried, and 2 of each are spare.
    rivet = next(item for item in demo_plan("field-bag").hardware if item.tried)
    told = spare_words(rivet, page_words("cutting")).replace("\u00a0", " ")
    assert told.endswith("; buy 8 of 6 mm, 4 of 8 mm, 8 of 10 mm, 6 of 12 mm")
    assert "none is spare" not in " ".join(lay_out_texts(demo_plan("notebook-sleeve")))


def test_threads_to_cut_by_hand_are_listed() -> None:
    plan = plan_work(replace(demo_build("notebook-sleeve"), makes=3))
    found = lay_out_texts(plan)
    assert "Threads to cut for sewing by hand" in found
    place = found.index("Front to back")
    cut = next(cut for cut in plan.threads[0].hand if cut.title == "Front to back")
    assert found[place + 1] == "3"
    assert found[place + 2] == format_bought_run(cut.length_mm, "mm")


def test_thread_for_machine_and_hand() -> None:
    by_machine, by_hand = (lay_out_texts(plan_work(demo_build(name))) for name in ("field-bag", "notebook-sleeve"))
    assert {"Tex 135 bonded", "nylon, tan", "130/21", "Thread (estimate)", "machine needles 110/18, 130/21"} <= set(
        by_machine
    )
    assert by_hand.count("2 hand needles") == 2, "of the thread, and to have ready"
    assert "to wind on" in by_machine
    assert not {"to wind on", "bobbins to fill", "none"} & set(by_hand), "nothing is wound for sewing by hand"
    assert "Tex 280 waxed linen" in " ".join(by_hand)


def test_cautions_of_the_build_and_the_blade_are_printed() -> None:
    caution = make_caution(Place(), "the needle is thin for its thread", "take 140/22")
    found = joined(plan_work(replace(demo_build("field-bag"), cautions=(caution,))))
    assert "the needle is thin for its thread" in found
    assert "Blade: Cut away from the hand that holds the rule" in found


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_words_stay_text_and_inside(words: str) -> None:
    build = demo_build("field-bag")
    build = replace(
        build,
        title=words,
        changed=words,
        pieces=tuple(replace(piece, title=words, note=words) for piece in build.pieces),
        straps=tuple(replace(strap, title=words, note=words) for strap in build.straps),
        materials=tuple(replace(goods, title=words, tannage=words, note=words) for goods in build.materials),
        hardware=tuple(replace(item, what=words, finish=words, note=words) for item in build.hardware),
        stitches=tuple(replace(stitch, thread_words=words) for stitch in build.stitches),
    )
    document = lay_out_cutting_list(plan_work(build), make_setup())
    check_said(document, words, len(build.pieces))


@pytest.mark.parametrize(
    ("name", "told"),
    [
        (
            "field-bag",
            " is whole, then the large pieces, then the small ones from what is left, and fabric and foam last. ",
        ),
        ("bucket", " is whole, then the large pieces, then the small ones from what is left. "),
        ("sheath", "Cut the large pieces first, then the small ones from what is left. "),
    ],
)
def test_the_order_of_cutting_names_what_there_is(name: str, told: str) -> None:
    assert told in joined(demo_plan(name))


def test_what_is_all_of_one_kind_has_no_order() -> None:
    """The satchel is four large pieces of leather."""
    assert "Cut the " not in joined(demo_plan("satchel"))


def test_notches_are_marked_and_not_cut_into_edges_that_show() -> None:
    """Common practice, no published source."""
    said = "Notches: on leather mark them with a pen, on the cut edge too, and do not cut into an edge that shows"
    assert said in joined(demo_plan("field-bag"))
    assert said not in joined(demo_plan("belt"))


def test_a_column_in_which_nothing_stands_has_no_heading() -> None:
    """No piece of the wallet has a note; of the bag's four tables the one of its linings has none."""
    assert "notes" not in lay_out_texts(demo_plan("wallet"))
    assert lay_out_texts(demo_plan("bag")).count("notes") == 4  # of straps, large and small pieces, hardware


def test_rows_of_one_width_are_told_once() -> None:
    """The bucket takes one row of 24 mm, the tote two of 1 in; the field bag has three widths."""
    assert "1 row of 24 mm (15/16 in)" in lay_out_texts(demo_plan("bucket"))
    assert "2 rows of 1 in (25.4 mm)" in lay_out_texts(demo_plan("tote"))
    assert "3 rows:" in lay_out_texts(demo_plan("field-bag"))


def test_what_is_cut_for_itself_says_for_which_step() -> None:
    """The tie of the cable roll is sewn in nowhere; the zip of the duffel is, and says where."""
    assert "for step 3" in lay_out_texts(demo_plan("cable-roll"))
    assert not any(words.startswith("for step ") for words in lay_out_texts(demo_plan("duffel")))


def test_what_thread_by_hand_is_counted_in_is_told_where_some_is_sewn_by_hand() -> None:
    alone = lay_out_texts(demo_plan("tote"))
    assert "needle thread" in alone
    assert "(by hand: all)" not in " ".join(alone)
    plan = demo_plan("tote")
    hand = replace(plan.threads[0], by="hand", bobbin_thread_mm=0.0, bobbins=0)
    both = " ".join(lay_out_texts(replace(plan, threads=(*plan.threads, hand))))
    assert "(by hand: all)" in both


@pytest.mark.parametrize(("name", "is_beside"), [("tote", True), ("sleeve", True), ("field-bag", False)])
def test_how_to_read_the_list_stands_beside_the_picture_where_that_is_lower(name: str, *, is_beside: bool) -> None:
    """The head of the field bag is as high as its picture, by what has changed; beside others there is room."""
    plan = demo_plan(name)
    (first, *_) = lay_out_cutting_list(plan, make_setup(), pictures=Pictures(plan.build)).pages
    picture = next(mark.box for mark in first.marks if isinstance(mark, ClipMark))
    how = next(text_box(mark) for mark in first.marks if isinstance(mark, TextMark) and mark.text.startswith("How to"))
    assert (how.top > picture.bottom) == is_beside
    assert how.right < picture.left or how.top < picture.bottom
