"""What is laid first on a part lies beneath what is laid on it later, however its landings are written. By hand."""

from dataclasses import replace

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Copy, TakenApart, pile_seam
from docgen.pages.pictures.step_drawing import set_scene

LOOP = '{ piece = "loop", at = "185 mm from left, 40 mm from top" }'
SLEEVE = '{ piece = "sleeve", at = "0 mm from right, 0 mm from bottom" }'
INNER = SLEEVE + ", " + LOOP.replace("185", "310")
PARTS = piece("loop", 40, 20, 'folds = [{ at = "centre" }]\n') + piece("sleeve", 95, 200)


def base(*landings: str) -> str:
    return piece("base", 200, 200, f"landings = [{', '.join(landings)}]\n") + PARTS


@pytest.mark.parametrize("landings", [(LOOP, SLEEVE), (SLEEVE, LOOP)])
def test_a_loop_that_is_laid_before_a_sleeve_is_sewn_over_it_lies_beneath(
    resolve_text: Resolve, landings: tuple[str, str]
) -> None:
    text = base(*landings) + seam("edge", "sleeve: right", "base: right")
    build = resolve_text(text + step("Glue the loop on.", pieces="base loop") + step("Sew.", seams="edge"))
    (pile,) = pile_seam(build, build.assembly.sewn[0])
    assert [ply.part for ply in pile] == ["sleeve", "loop", "loop", "base"]
    levels = {one.copy.part: one.level for one in build.space.parts}
    assert levels["loop"] < levels["sleeve"]
    assert "landings-cross" not in {one.check for one in build.cautions}


def test_a_loop_that_nothing_catches_is_told(resolve_text: Resolve) -> None:
    """Laid once the sleeve is sewn, it lies across the edge of that."""
    text = base(SLEEVE, LOOP) + seam("edge", "sleeve: right", "base: right")
    build = resolve_text(text + step("Sew.", seams="edge") + step("Glue the loop on.", pieces="base loop"))
    assert "landings-cross" in {one.check for one in build.cautions}


COVER = (
    piece("cover", 330, 200)
    + piece("lining", 330, 200, f'lines = ["cover"]\nmirror = true\nlandings = [{INNER}]\n', "thin")
    + PARTS
    + seam(
        "left",
        "cover: top left bottom from right 235 mm to right 235 mm",
        "lining: bottom right top from left 235 mm to left 235 mm",
        "sleeve: bottom right top",
    )
    + step("Glue the lining in, then lay the loop and sew the sleeves on.", pieces="lining loop", seams="left")
)


@pytest.mark.parametrize("text", [COVER, COVER.replace(SLEEVE + ", ", "")], ids=["on the lining", "by its seam"])
def test_a_sleeve_on_a_lining_is_lifted_past_what_it_catches(resolve_text: Resolve, text: str) -> None:
    """The loop is two layers on the lining, and the sleeve the next."""
    lifted = TakenApart(resolve_text(text)).lifted
    down = {part: [abs(lift[2]) for lift in lifted.part(Copy(part)).lifts] for part in ("lining", "loop", "sleeve")}
    assert max(down["lining"]) < min(down["loop"]) < max(down["loop"]) < min(down["sleeve"])


def test_what_is_small_is_not_shown_larger_where_it_is_hidden(resolve_text: Resolve) -> None:
    """The loop is seen between the lining and the sleeve; on the other side of the cover, which is seen where that is on
    top as the seam is sewn, a frame with its name would show the cover."""
    apart = TakenApart(resolve_text(COVER.replace(SLEEVE + ", ", "")))
    bodies, (heap,) = apart.heaps(0)
    joined = apart.joined(heap, 0, bodies)
    assert set_scene(bodies, heap, joined).detail is None
    seen_within = replace(heap, bonds=tuple(replace(bond, one=bond.other, other=bond.one) for bond in heap.bonds))
    assert set_scene(bodies, seen_within, joined).detailed == "loop"


@pytest.mark.parametrize(("order", "first"), [("", "joins"), ('order = ["lining", "wall"]\n', "pieces")])
def test_what_lines_a_join_is_laid_once_that_is_made(resolve_text: Resolve, order: str, first: str) -> None:
    """A step makes the wall of two strips and glues its lining in: cloth in an overlap would lie under its glue. An order
    that is written stands."""
    text = (
        '[pieces.one]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "150 mm"]\n[pieces.two]\nlike = "one"\n'
        + '[pieces.lining]\nof = "cloth"\nlines = ["wall"]\nshape = "strip"\nsize = ["50 mm", "288 mm"]\n'
        + '[joins.wall]\nof = ["one", "two"]\noverlap = "12 mm"\nstitch = "main"\n'
        + step("Sew the wall together; glue its lining in.", joins="wall", pieces="lining")
        + order
    )
    done = [event.kind for event in resolve_text(text).assembly.events if event.name in ("wall", "lining")]
    assert done[0] == first
