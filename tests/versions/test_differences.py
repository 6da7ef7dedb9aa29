"""Each kind of figure that changes is told under its words, and what a maker cannot see is not."""

from dataclasses import replace

import pytest
from demos import with_steps
from spec_text import write_out

from docgen.checks import resolve_build
from docgen.geometry.shapes import Point
from docgen.problems import Place
from docgen.read import Picture, read_spec
from docgen.resolve import Build, Held, Hole, Inside, Price, Step
from docgen.versions.compared.compare import compare_builds
from docgen.versions.compared.words import list_changes

SPEC = write_out("""\
<spec bag: Bag, version 1>
show = "mm"
<leather body: 2 mm>
<stitch main: by hand, Tex 135 bonded nylon, 4 mm, 4 mm>
<hardware rivet: 2, double-cap rivet>
posts = ["6 mm"]
<rectangle flap: ["200 mm", "150 mm"]>
holes = [{ at = "50 mm from left, 40 mm from top", punch = "4 mm" }]
skives = [{ edges = "top", width = "10 mm", to = "1 mm" }]
[pieces.back]
like = "flap"
marks = false
<seam side: ["flap: left", "back: left"]>
<belt>
wears = "800 mm"
holes = { count = 5, pitch = "25 mm", tip = "100 mm", punch = "4 mm" }
<step "Punch.": pieces = ["flap"]>
<step "Sew.": seams = ["side"]>
""")


def resolve(folder, text=SPEC):
    path = folder / "bag.toml"
    path.write_text(text, encoding="utf-8")
    return resolve_build(read_spec(path))


@pytest.fixture(scope="module")
def bag(tmp_path_factory) -> Build:
    return resolve(tmp_path_factory.mktemp("bag"))


def tell(before, after):
    return list_changes(compare_builds(before, after, before_label="a", after_label="b"))


def change(build, field, **more):
    """The build with the first of these parts changed."""
    first, *others = getattr(build, field)
    return replace(build, **{field: (replace(first, **more), *others)})


def change_marks(build, **more):
    """The build with these marks on its first piece."""
    first, *others = build.pieces
    return replace(build, pieces=(first.with_marks(**more), *others))


NOTHING = ["  no change to anything that is made; only words of the spec file differ"]


@pytest.mark.parametrize(
    ("field", "more", "said"),
    [
        ("materials", {"waste": 0.301}, "waste: 30.1 %, was 25 %"),
        (
            "materials",
            {"roll_width_mm": 0.06},
            "width of the goods: 0.06 mm (0.0024 in), was 0 mm (0 in); 0.06 mm more",
        ),
        ("materials", {"density_g_cm3": 0.9}, "density: 0.9, was 0.86"),
        (
            "materials",
            {"price": Price(amount=1.0, per="area", words="11 per sq ft")},
            'price: "11 per sq ft", was nothing',
        ),
        ("stitches", {"pitch_mm": 4.02}, "stitch length: 4.02 mm (6.3 per inch), was 4 mm (6.4 per inch)"),
        ("stitches", {"needle_nm": 140}, "needle: NM 140, was NM 130"),
        ("stitches", {"rows": 2}, "rows: 2, was 1; 1 more"),
        ("pieces", {"is_pair": True}, 'half of them mirrored: "yes", was "no"'),
        ("pieces", {"cut": 3}, "number to cut: 3, was 1; 2 more"),
        ("pieces", {"centre_lines": ("up", "across")}, 'centre lines: "up, across", was nothing'),
        (
            "straps",
            {"worn_mm": (750.0, 800.0, 851.0)},
            "worn, longest: 851 mm (33 1/2 in), was 850 mm (33 15/32 in); 1 mm (1/32 in) more",
        ),
        ("hardware", {"posts_mm": (6.0, 8.0)}, 'posts: "6.0 mm, 8.0 mm", was "6.0 mm"'),
        ("hardware", {"weight_g": 3.0}, "weight in grams: 3, was 0"),
        ("seams", {"load_n": 60.0}, "load in newtons: 60, was 0"),
    ],
)
def test_a_figure_is_told_in_its_own_words(bag, field, more, said):
    lines = tell(bag, change(bag, field, **more))
    assert f"      {said}" in lines
    assert len(lines) == 2


@pytest.mark.parametrize(
    ("field", "more"),
    [
        ("materials", {"roll_width_mm": 0.04}),
        ("stitches", {"inset_mm": 4.04, "thread_tex": 1.0, "thread_fibre": "silk", "thread_strength_n": 1.0}),
        ("straps", {"worn_mm": (750.04, 800.0, 850.0)}),
        ("seams", {"strength_n": 1.0, "landed": ("flap",), "eased_mm": 1.0}),
    ],
)
def test_what_a_maker_cannot_see_or_follows_from_others_is_not_told(bag, field, more):
    assert tell(bag, change(bag, field, **more)) == NOTHING


def test_a_row_of_holes_is_told_as_it_is_punched(bag):
    tips = bag.straps[0].hole_tips_mm
    assert tips == (100, 125, 150, 175, 200)
    moved = tell(bag, change(bag, "straps", hole_tips_mm=tuple(tip + 3 for tip in tips)))
    assert moved[1:] == [
        "      first hole from the tip: 103 mm (4 1/16 in), was 100 mm (3 15/16 in); 3 mm (1/8 in) more"
    ]
    wider = tell(bag, change(bag, "straps", hole_tips_mm=(200, 174, 148, 122, 96)))
    assert wider[1:] == [
        "      first hole from the tip: 96 mm (3 25/32 in), was 100 mm (3 15/16 in); 4 mm (5/32 in) less",
        "      holes apart: 26 mm (1 1/32 in), was 25 mm (31/32 in); 1 mm (1/32 in) more",
    ]
    fewer = tell(bag, change(bag, "straps", hole_tips_mm=tips[:4]))
    assert fewer[1:] == ["      holes: 4, was 5; 1 less"]


def test_the_ends_of_a_strap_are_told_with_what_closes_them(bag):
    first, second = bag.straps[0].ends
    turned = replace(first, shape="turned", back_mm=30.0, around="buckle")
    said = tell(bag, change(bag, "straps", ends=(turned, second)))
    assert said[1:] == [
        f'      ends: "turned 30.0 mm back round buckle, {second.shape}", was "{first.shape}, {second.shape}"'
    ]
    before, after = (change(bag, "straps", ends=(replace(turned, takes="rivet", number=n), second)) for n in (1, 2))
    assert tell(before, after)[1:] == [
        f'      ends: "turned 30.0 mm back round buckle with 2 rivet, {second.shape}", '
        f'was "turned 30.0 mm back round buckle with 1 rivet, {second.shape}"'
    ]


def test_a_name_mark_has_no_words_and_is_told_all_the_same(bag):
    one, other = (Picture(width_mm=wide, height_mm=10.0) for wide in (10.0, 20.0))
    marked, remarked = (replace(bag, shop=replace(bag.shop, mark=mark)) for mark in (one, other))
    assert tell(bag, marked) == ["  shop", '      name mark: "a picture", was nothing']
    assert tell(marked, remarked) == ["  shop", '      name mark: "another picture", was "a picture"']
    assert tell(marked, bag) == ["  shop", '      name mark: nothing, was "a picture"']
    assert tell(marked, marked) == NOTHING


def test_room_inside_and_what_goes_in_are_told(bag):
    roomy = replace(bag, inside=Inside(width_mm=100.0, height_mm=80.0, depth_mm=30.0))
    assert tell(bag, roomy) == ["  spec", '      inside: "100.0 80.0 30.0", was nothing']
    assert tell(roomy, bag) == ["  spec", '      inside: nothing, was "100.0 80.0 30.0"']
    deep = replace(roomy, inside=replace(roomy.inside, depth_mm=35.0))
    assert tell(roomy, deep) == [
        "  inside",
        "      depth: 35 mm (1 3/8 in), was 30 mm (1 3/16 in); 5 mm (3/16 in) more",
    ]
    filled = replace(
        bag, holds=(Held(what="book", size_mm=(90.0, 70.0, 20.0), fits=True, place=Place(line=9, words="{}")),)
    )
    assert tell(bag, filled) == ["  spec", '      holds: "book 90.0, 70.0, 20.0 yes", was nothing']


def test_steps_are_told_by_the_numbers_that_the_build_sheet_prints(bag):
    punch, sew = bag.steps
    cut = Step(do="Cut.")
    assert tell(bag, with_steps(bag, (cut, punch, sew))) == ["+ step 1: Cut. added"]
    assert tell(bag, with_steps(bag, (punch,))) == ["- step 2: Sew. removed"]
    said = tell(bag, with_steps(bag, (punch, replace(sew, do="Sew it.", note="Slowly."))))
    assert said == ["  step 2: Sew it.", '      do: "Sew it.", was "Sew."', '      note: "Slowly.", was nothing']
    two = tell(bag, with_steps(bag, (punch, replace(sew, do="Glue."), replace(sew, do="Press."))))
    assert two == ["  step 2: Glue.", '      do: "Glue.", was "Sew."', "+ step 3: Press. added"]


@pytest.mark.parametrize(("height", "is_told"), [("152 mm", False), ("153 mm", True), ("165 mm", True)])
def test_an_area_is_told_from_five_hundred_square_millimetres_on(bag, tmp_path, height, is_told):
    # 200 mm wide: 2 mm more are 400 mm2, 3 mm are 600 mm2.
    lines = tell(bag, resolve(tmp_path, SPEC.replace('"150 mm"', f'"{height}"')))
    assert sum(line.startswith("      height: ") for line in lines) == 2  # the flap, and the back that is like it
    assert sum(line.startswith("      area: ") for line in lines) == (2 if is_told else 0)


def test_a_hole_that_keeps_its_distance_from_a_side_or_the_middle_has_not_moved(tmp_path):
    for at in ("50 mm from left, 40 mm from top", "50 mm from right, 40 mm from bottom", "centre, middle"):
        text = SPEC.replace("50 mm from left, 40 mm from top", at)
        wider = text.replace('"200 mm", "150 mm"', '"220 mm", "170 mm"')
        lines = tell(resolve(tmp_path, text), resolve(tmp_path, wider))
        assert "piece flap (flap)" in lines[0]
        assert not any("hole " in line for line in lines)


LANDED = SPEC.replace(
    "[pieces.back]\n",
    'landings = [{ piece = "tab", at = "60 mm from left, 50 mm from bottom" }]\n'
    '[pieces.tab]\nof = "body"\nshape = "rectangle"\nsize = ["20 mm", "30 mm"]\n[pieces.back]\n',
)


def test_on_a_piece_of_another_size_a_landing_that_moved_is_told_and_lines_along_its_edges_are_not(tmp_path):
    moved = LANDED.replace('"200 mm", "150 mm"', '"220 mm", "150 mm"').replace("60 mm from left", "67 mm from left")
    lines = tell(resolve(tmp_path, LANDED), resolve(tmp_path, moved))
    assert [line.strip().split(":")[0] for line in lines[:5]] == [
        "piece flap (flap)",
        "width",
        "area",
        "landing of tab",
        "piece back (back)",
    ]


def test_holes_are_told_where_a_maker_measures_them(bag):
    (hole,) = bag.pieces[0].marks.holes
    # From the middle of the piece: 150 mm from its left, 75 mm from its top.
    moved = change_marks(bag, holes=(replace(hole, at=Point(150.0, 75.0)),))
    assert tell(bag, moved)[1:] == [
        "      hole 4 mm (5/32 in) at 50 mm (1 31/32 in) from left, 40 mm (1 9/16 in) from top: "
        "now at 150 mm (5 29/32 in) from left, 75 mm (2 15/16 in) from top"
    ]
    more = change_marks(bag, holes=(hole, Hole(at=Point(150.0, 75.0), diameter_mm=3.0, takes="rivet")))
    assert tell(bag, more)[1:] == [
        "      hole 3 mm (1/8 in) for rivet at 150 mm (5 29/32 in) from left, 75 mm (2 15/16 in) from top: new"
    ]
    larger = change_marks(bag, holes=(replace(hole, diameter_mm=5.0),))
    assert tell(bag, larger)[1:] == [
        "      hole at 50 mm (1 31/32 in) from left, 40 mm (1 9/16 in) from top: 5 mm (13/64 in), was 4 mm (5/32 in)"
    ]


def test_a_band_is_told_by_its_edges(bag):
    (skive,) = bag.pieces[0].marks.skives
    wider = change_marks(bag, skives=(replace(skive, width_mm=12.0),))
    assert tell(bag, wider)[1:] == [
        "      skive top, width: 12 mm (15/32 in), was 10 mm (13/32 in); 2 mm (3/32 in) more"
    ]
    thinner = change_marks(bag, skives=(replace(skive, to_words="0.8 mm"),))
    assert tell(bag, thinner)[1:] == ['      skive top, to: "0.8 mm", was "1 mm"']
    other = change_marks(bag, skives=(replace(skive, edges="left"),))
    assert tell(bag, other)[1:] == ['      skive top: "no", was "skived"', '      skive left: "skived", was "no"']


def test_other_holes_on_a_stitch_line_in_its_place_are_told(bag):
    line = bag.pieces[0].marks.stitch_lines[0]
    fewer = change_marks(bag, stitch_lines=(replace(line, holes_mm=line.holes_mm[:-1]),))
    assert tell(bag, fewer)[1:] == [
        f"      holes of stitch line side: {len(line.holes_mm) - 1}, was {len(line.holes_mm)}; 1 less"
    ]
    ticks = change_marks(bag, stitch_lines=(replace(line, ticked_mm=()),))
    assert tell(bag, ticks) == NOTHING  # by hand the holes count, and no ticks are drawn


GRIP = '[trimmings.grip]\nkind = "webbing"\nwhat = "cotton webbing"\nthickness = "1 mm"\n{}\n'


def test_goods_by_length_are_told_by_what_is_cut(tmp_path):
    one, longer, along, more = (
        resolve(tmp_path, SPEC + GRIP.format(line))
        for line in (
            'length = "300 mm"',
            'length = "320 mm"',
            'along = ["back: right"]',
            'along = ["back: right", "back: top"]\nready = ["1 m"]',
        )
    )
    cut = "cut length: 320 mm (12 19/32 in), was 300 mm (11 13/16 in); 20 mm (25/32 in) more"
    assert f"      {cut}" in tell(one, longer)
    told = tell(along, more)
    assert '      cut for: "back: right, back: top", was "back: right"' in told, told
    assert '      sold in: "1000.0 mm", was nothing' in told, told
    assert "+ trimming grip (cotton webbing) added" in tell(resolve(tmp_path), one)
