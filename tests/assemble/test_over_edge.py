"""Flaps that go over the edge of what they are sewn on to: where they land, what lies under them. By hand, in mm."""

import pytest
from demos import demo_build
from short_specs import hole, piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled
from docgen.geometry.path import end_point, path_box, start_point
from docgen.geometry.shapes import Box, Point
from docgen.geometry.vector import transform_point
from docgen.resolve import Build, Landing, Piece, by_name

# A back of 200 by 150; a flap of 200 by 120, sewn by its top 4 mm in, with a fold 40 from there.
FLAP = piece("flap", 200, 120, 'folds = [{ at = "40 mm from top", open = true, angle = 90 }]\n')
LANDS = 'landings = [{ piece = "flap", at = "centre, 30 mm from top" }]\n'
BACK = piece("back", 200, 150, LANDS)
SEWN = seam("on", "flap: top", "back")
RIVET = rivet() + step("Sew.", seams="on") + step("Rivet.", pieces="back", hardware="rivet")


def landing_of(build: Build, host: str = "back") -> Landing:
    (landing,) = by_name(build.pieces)[host].marks.landings
    return landing


def back_of(build: Build) -> Piece:
    return by_name(build.pieces)["back"]


def test_a_flap_lies_half_round_about_its_stitch_line_up_to_its_fold(resolve_text: Resolve) -> None:
    """Its template hangs from 30 below the top: its stitches at 150 - 30 - 4 = 116. Half round about these its cut edge
    lies 4 below, at 112, and its fold 36 above, at 152."""
    build = resolve_text(BACK + FLAP + SEWN)
    landing = landing_of(build)
    assert landing.is_over
    assert path_box(landing.outline) == Box(0, pytest.approx(112), 200, pytest.approx(152))
    assert transform_point(Point(0, 0), landing.move) == pytest.approx((200, 112 + 120))
    (line,) = back_of(build).marks.stitch_lines
    assert [at.y for at in (start_point(line.path), end_point(line.path))] == pytest.approx([116, 116])


def test_a_hole_that_the_back_lacks_is_marked_where_the_flap_brings_it(resolve_text: Resolve) -> None:
    """10 in from the edge that is sewn, which lies at 112: 122."""
    flap = FLAP + hole("centre, 10 mm from top", "rivet", ', through = ["back"]')
    build = resolve_text(BACK + flap + SEWN + rivet() + step("Sew.", seams="on") + step("Set.", hardware="rivet"))
    assert [at.at for at in landing_of(build).holes] == [pytest.approx((100, 122))]


def test_a_flap_whose_fold_lies_beyond_the_edge_lies_as_its_template(resolve_text: Resolve) -> None:
    """Sewn by its foot, 70 below the top of the back: its fold lies 10 above that already."""
    upright = FLAP.replace('"40 mm from top"', '"80 mm from bottom"')
    text = BACK.replace("30 mm from top", "80 mm from bottom") + upright
    landing = landing_of(resolve_text(text + seam("on", "flap: bottom", "back")))
    assert not landing.is_over
    assert path_box(landing.outline) == Box(0, 80, 200, 200)


@pytest.mark.parametrize(("down", "thick_mm"), [("60 mm", 2.0), ("30 mm", 4.0), ("20 mm", 2.0)])
def test_what_is_set_below_the_flap_goes_through_the_back_alone(
    resolve_text: Resolve, down: str, thick_mm: float
) -> None:
    """The flap lies from 150 - 38 up, and hangs by its row at 116: a hole 60 below the top lies beside it, one 30 below
    under it; one 20 below is as far from that row as the flap is folded back."""
    back = BACK + hole(f"20 mm from left, {down} from top")
    build = resolve_text(back + FLAP + SEWN + RIVET)
    assert isinstance(build, Assembled)
    assert [one.stack.usual_mm for one in build.assembly.fastened] == [thick_mm]


def test_the_flap_of_the_satchel_lands_between_its_stitches_and_the_edge_of_the_back() -> None:
    """1 in below the top of 9 in, 3/16 in of inset: the lap of 1 3/8 in reaches up from 1 3/8 in below it to the edge,
    where it folds; the flap is 1/8 in wider at both sides."""
    landing = landing_of(demo_build("satchel"))
    inch = 25.4
    found = path_box(landing.outline)
    assert (found.left, found.right) == pytest.approx((-inch / 8, 12 * inch + inch / 8))
    assert (found.bottom, found.top) == pytest.approx((9 * inch - 1.375 * inch, 9 * inch))


def test_what_is_riveted_to_the_free_end_of_a_flap_goes_through_flap_and_tongue(resolve_text: Resolve) -> None:
    """Laid half round the flap's template reaches up beyond the back, so that the end which hangs down in front lies on
    nothing: with its tongue of 2.0 the rivet goes through two layers, and the back needs no hole."""
    flap = (
        FLAP + 'landings = [{ strap = "tongue", at = "centre, 40 mm from bottom", leads = "down", over = "40 mm" }]\n'
    )
    tongue = '[straps.tongue]\nof = "body"\nwidth = "20 mm"\nfinished = "90 mm"\n'
    tongue += 'punches = [{ at = "centre, 20 mm from start", punch = "4 mm" }]\n'
    made = step("Rivet and sew.", straps="tongue", hardware="rivet", seams="on")
    build = resolve_text(BACK + flap + hole("centre, 20 mm from bottom", "rivet") + tongue + SEWN + rivet() + made)
    assert isinstance(build, Assembled)
    (set_there,) = build.assembly.fastened
    assert set_there.stack.parts == ("flap", "tongue")
    assert "hole-without-mate" not in {one.check for one in build.cautions}
