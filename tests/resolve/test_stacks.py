"""Layers of seams and of hardware, straps of two layers, keepers, weights: figures worked out by hand."""

import math

import pytest
import short_specs
from built import strap_of
from short_specs import BELT, KEEPER
from spec_text import Resolve, write_out

from docgen.assemble import Fastened
from docgen.resolve import Build, Seam
from docgen.tables.strength import N_PER_LB

PANELS, BUCKLE = write_out(short_specs.PANELS), write_out(short_specs.BUCKLE)
STRIPS = write_out("""\
[pieces.side]
of = "body"
cut = 2
shape = "strip"
size = ["60 mm", "120 mm"]
skives = [{ edges = "start", width = "12 mm", to = "1 mm" }]
<strip base: ["60 mm", "solve"]>
skives = [
  { edges = "start", width = "12 mm", to = "0.9 mm" },
  { edges = "end", width = "12 mm", to = "0.9 mm" },
]
<join gusset: ["side", "base", "side"], 12 mm>
""")
TAB = write_out("""\
<rectangle tab: ["40 mm", "60 mm"]>
""")
LANDING = 'landings = [{ piece = "tab", at = "20 mm from left, 20 mm from bottom" }]\n'


def hole(across: int, up: int, more: str = "") -> str:
    at = f"{across} mm from left, {up} mm from bottom"
    return f'holes = [{{ at = "{at}", punch = "4 mm", takes = "rivet"{more} }}]\n'


def seam(*partners: str, more: str = "") -> str:
    return '[seams.s]\nstitch = "main"\nmeet = [' + ", ".join(f'"{p}"' for p in partners) + f"]\n{more}"


def seam_of(build: Build) -> Seam:
    (only,) = build.seams
    return only


def fitting_of(build: Build, part: str) -> Fastened:
    (only,) = [fitting for fitting in build.assembly.fastened if fitting.part == part]
    return only


def test_a_skived_band_counts_where_the_stitch_line_lies_in_it(resolve_text: Resolve) -> None:
    made = seam_of(resolve_text(PANELS + seam("back: left", "front: left")))
    assert [(layer.part, layer.material, layer.thickness_mm) for layer in made.layers] == [
        ("back", "body", 1.2),
        ("front", "body", 2.0),
    ]
    assert made.stack_mm == pytest.approx(3.2)


def test_a_band_narrower_than_the_inset_does_not_count(resolve_text: Resolve) -> None:
    assert seam_of(resolve_text(PANELS + seam("back: top", "front: top"))).stack_mm == pytest.approx(4.0)


def test_a_seam_skived_in_part_has_a_thinnest_and_a_thickest_place(resolve_text: Resolve) -> None:
    made = seam_of(resolve_text(PANELS + seam("back: left bottom right", "front: left bottom right")))
    assert made.stack_mm == pytest.approx(1.2 + 2)  # 350 mm of 500 are skived
    assert (made.thinnest_mm, made.thickest_mm) == pytest.approx(
        (0.5 + 2, 2 + 2)
    )  # its end crosses the band of the top


def test_a_join_is_thickest_where_its_skived_ends_cross_the_seam(resolve_text: Resolve) -> None:
    made = seam_of(resolve_text(PANELS + STRIPS + seam("front: left bottom right", "gusset: left")))
    assert made.stack_mm == pytest.approx(2 + 2)
    assert made.thickest_mm == pytest.approx(2 + 2)  # 1.0 + 0.9 in the overlap is less than one strip
    assert made.thinnest_mm == pytest.approx(2 + 1.9)


@pytest.mark.parametrize("band", ["8 mm", "11 mm"])
def test_a_band_shorter_than_the_overlap_leaves_one_end_whole(resolve_text: Resolve, band: str) -> None:
    """The overlap is 12 mm: what of it lies beyond the band is as thick as the leather."""
    text = PANELS + STRIPS.replace('width = "12 mm", to = "1 mm"', f'width = "{band}", to = "1 mm"')
    build = resolve_text(text + seam("front: left bottom right", "gusset: left"))
    assert build.joins[0].stack_mm == pytest.approx(2 + 0.9)
    assert seam_of(build).thickest_mm == pytest.approx(2 + 2.9)


def test_a_loaded_seam_has_its_estimate(resolve_text: Resolve) -> None:
    made = seam_of(resolve_text(PANELS + seam("back: left", "front: left", more='load = "6 kg"\n')))
    # 150 mm of 4 mm stitches, Tex 135 nylon of 22 lb, factor 1.5 (American & Efird, "Stitches per inch").
    assert made.stitches == 38
    assert made.strength_n == pytest.approx(38 * 22 * N_PER_LB * 1.5)
    assert made.load_n == pytest.approx(6 * 9.80665)
    assert made.load_words == "6 kg"


def test_every_row_of_a_loaded_seam_carries(resolve_text: Resolve) -> None:
    double = write_out("""\
<stitch double: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
rows = 2
row-gap = "3 mm"
""")
    one_seam = seam("back: left", "front: left", more='load = "6 kg"\n').replace('"main"', '"double"')
    # Two rows of 38 stitches of 22 lb by 1.5 are 2508 lb, at 4.44822 N each (NIST SP 811): 11156 N.
    assert seam_of(resolve_text(double + PANELS + one_seam)).strength_n == pytest.approx(11156, abs=0.5)


def test_both_sides_have_their_stitches_and_what_is_eased_in(resolve_text: Resolve) -> None:
    text = PANELS + '[pieces.long]\nof = "body"\nshape = "rectangle"\nsize = ["200 mm", "156 mm"]\n'
    made = seam_of(resolve_text(text + seam("back: left", "long: left", more='ease = "8 mm"\n')))
    assert [side.stitches for side in made.sides] == [38, 39]
    assert (made.ease_mm, made.eased_mm) == pytest.approx((8, 6)), "8 mm may be eased in, 6 mm are"
    assert made.stitches == 38


def test_a_turned_end_is_riveted_through_two_layers(resolve_text: Resolve) -> None:
    build = resolve_text(BUCKLE + BELT)
    made = fitting_of(build, "belt")
    assert (made.count, made.stack.usual_mm, made.post_mm) == (2, pytest.approx(4), 6.0)
    assert (made.post_least_mm, made.post_most_mm) == pytest.approx((6, 7))
    (end, _) = strap_of(build, "belt").ends
    # The buckle's take-up: half round its bar.
    assert end.takes_mm - end.back_mm == pytest.approx(math.pi * (3 + 2) / 2)


def test_a_doubled_strap_has_its_lining_between(resolve_text: Resolve) -> None:
    lining = '[materials.thin]\nkind = "leather"\nthickness = "1 mm"\n'
    build = resolve_text(lining + BUCKLE + BELT + 'doubled = true\nlining = "thin"\n')
    strap = strap_of(build, "belt")
    assert (strap.thickness_mm, strap.lining, strap.lining_length_mm) == (3.0, "thin", 400.0)
    assert strap.cut_length_mm == pytest.approx(400 + 60 + math.pi * (3 + 2) / 2)
    assert fitting_of(build, "belt").stack.usual_mm == pytest.approx(2 + 1 + 2)


def test_a_keeper_goes_round_three_layers_of_its_strap(resolve_text: Resolve) -> None:
    strap = strap_of(resolve_text(BUCKLE + BELT + KEEPER), "loop")
    # By hand: two sides of 30 mm and two of 3 x 2 mm are 72, a full turn of 1 mm, half its own thickness, 6.283, and 2
    # of room (common practice, no published source) make 80.283; with 1/2 in of overlap 92.983.
    assert strap.finished_mm == pytest.approx(80.283, abs=0.0005)
    assert strap.cut_length_mm == pytest.approx(92.983, abs=0.0005)
    assert (strap.keeper_for, strap.width_mm) == ("belt", 12.0)


def test_a_keeper_may_hold_other_layers_and_meet_end_to_end(resolve_text: Resolve) -> None:
    build = resolve_text(BUCKLE + BELT + "doubled = true\n" + KEEPER + 'layers = 2\noverlap = "0"\n')
    # Two sides of 30 mm and two of 2 x 4 mm are 76, a full turn of 1 mm 6.283, and 2 of room.
    assert strap_of(build, "loop").cut_length_mm == pytest.approx(84.283, abs=0.0005)


def test_a_rivet_goes_through_what_lands_there_and_what_is_named(resolve_text: Resolve) -> None:
    text = BUCKLE + BELT + TAB + PANELS.split("[pieces.front]")[0] + LANDING

    def at(across: int, up: int) -> Fastened:
        return fitting_of(resolve_text(text + hole(across, up, ', through = ["belt"]')), "back")

    assert [layer.part for layer in at(40, 50).stack.layers] == ["back", "tab", "belt"]
    assert (at(40, 50).stack.usual_mm, at(40, 50).post_mm) == (pytest.approx(6), 8.0)
    assert [layer.part for layer in at(100, 50).stack.layers] == ["back", "belt"]
    assert at(100, 7).stack.usual_mm == pytest.approx(1.2 + 2)  # in the skived band


def test_a_hole_in_the_landed_piece_belongs_to_the_same_rivet(resolve_text: Resolve) -> None:
    text = BUCKLE + TAB + hole(20, 30) + PANELS.split("[pieces.front]")[0] + LANDING
    both = resolve_text(text + hole(40, 50))
    assert [(f.part, f.count, [layer.part for layer in f.stack.layers]) for f in both.assembly.fastened] == [
        ("back", 1, ["back", "tab"])
    ]
    alone = resolve_text(text)
    ((part, layers),) = [(f.part, f.stack.layers) for f in alone.assembly.fastened]
    assert (part, [layer.part for layer in layers]) == ("tab", ["back", "tab"])  # from the back on


def test_a_folded_tab_is_two_layers_and_its_two_holes_one_place(resolve_text: Resolve) -> None:
    tab = """\
[pieces.tab]
of = "body"
cut = 2
shape = "rectangle"
size = ["25 mm", "80 mm"]
folds = [{ at = "middle" }]
holes = [
  { at = "centre, 20 mm from bottom", punch = "4 mm", takes = "rivet" },
  { at = "centre, 20 mm from top", punch = "4 mm", takes = "rivet" },
]
"""
    made = fitting_of(resolve_text(BUCKLE + tab), "tab")
    assert (made.count, made.stack.usual_mm, made.post_mm) == (2, pytest.approx(4), 6.0)


def test_a_fold_that_stays_open_lays_nothing_on_a_hole(resolve_text: Resolve) -> None:
    flap = write_out("""\
<rectangle flap: ["100 mm", "80 mm"]>
folds = [{ at = "middle", open = true }]
holes = [{ at = "centre, 20 mm from top", punch = "4 mm", takes = "rivet", through = ["tab", "tab"] }]
<rectangle tab: ["20 mm", "30 mm"]>
""")
    made = fitting_of(resolve_text(BUCKLE + flap), "flap")
    assert [layer.part for layer in made.stack.layers] == ["flap", "tab", "tab"]
    assert made.stack.usual_mm == pytest.approx(6)
    shut = fitting_of(resolve_text(BUCKLE + flap.replace(", open = true", "")), "flap")
    assert shut.stack.usual_mm == pytest.approx(8)


def test_the_weight_is_area_by_thickness_and_density_less_what_is_skived(resolve_text: Resolve) -> None:
    hide = '[materials.hide]\nkind = "leather"\nthickness = "2 mm"\ndensity = "0.9 g/cm3"\n'
    build = resolve_text(hide + BUCKLE + PANELS.split("[pieces.front]")[0].replace('"body"', '"hide"'))
    # 200 x 150 x 2 mm, less 3 bands; corners where bands meet count twice.
    band_mm3 = (150 + 200 - 10) * 10 * 0.8 + 200 * 3 * 1.5
    grams = (200 * 150 * 2 - band_mm3) * 0.9 / 1000
    assert [(weight.name, weight.grams) for weight in build.weights] == [
        ("hide", pytest.approx(grams, rel=2e-3)),
        ("rivet", 18.0),
    ]
    assert build.weight_g == pytest.approx(grams + 18, rel=2e-3)
    assert build.unweighed == ("buckle",)


def test_every_copy_of_a_piece_weighs(resolve_text: Resolve) -> None:
    hide = '[materials.hide]\nkind = "leather"\nthickness = "2 mm"\ndensity = "0.9 g/cm3"\n'
    tab = TAB.replace('"body"', '"hide"\ncut = 3')
    # By hand: 4 x 6 x 0.2 cm are 4.8 cm3, at 0.9 g/cm3 4.32 g, three times 12.96 g.
    (weight,) = resolve_text(hide + tab).weights
    assert (weight.name, weight.grams) == ("hide", pytest.approx(12.96))
