"""What is there by a step and lies on a lining or is fixed later is drawn with it, or named."""

from short_specs import piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, TakenApart
from docgen.pages.pictures.step_drawing import StepScene, set_scene


def scene(build: Assembled, step: int) -> StepScene:
    apart = TakenApart(build)
    bodies, (heap,) = apart.heaps(step)
    return set_scene(bodies, heap, apart.joined(heap, step, bodies))


def shown(build: Assembled, step: int) -> set[str]:
    return {one.body.copy.part for one in scene(build, step).drawing.shown}


def test_a_pocket_is_drawn_on_the_lining_that_is_put_in(resolve_text: Resolve) -> None:
    """It was sewn on in the step before: its row alone stood there."""
    build = resolve_text(
        piece("back", 200, 150)
        + piece(
            "lining", 200, 150, 'lines = ["back"]\nlandings = [{ piece = "pocket", at = "centre, middle" }]\n', "cloth"
        )
        + piece("pocket", 60, 50, of="cloth")
        + seam("pocket", "pocket: left bottom right", "lining")
        + seam("mouth", "back: top", "lining: top")
        + step("Sew the pocket on.", seams="pocket")
        + step("Sew the lining in.", seams="mouth")
    )
    assert shown(build, 1) == {"back", "lining", "pocket"}
    pocket = next(one for one in scene(build, 1).drawing.shown if one.body.copy.part == "pocket")
    assert not pocket.is_new


def test_foam_is_drawn_until_a_lining_lies_over_it(resolve_text: Resolve) -> None:
    def sewn_to_a_wall(lined: str) -> Assembled:
        return resolve_text(
            piece("base", 200, 100, 'landings = [{ piece = "foam", at = "centre, middle", inside = true }]\n')
            + piece("foam", 180, 80, of="pad")
            + piece("cover", 200, 100, 'lines = ["base"]\n', "cloth")
            + piece("front", 200, 90)
            + seam("cover", "base: top", "cover: top")
            + seam("foot", "base: bottom", "front: bottom")
            + step("Glue the foam on.", pieces="base foam")
            + (step("Line the base.", seams="cover") if lined else "")
            + step("Sew the front on.", seams="foot")
            + ("" if lined else step("Line the base.", seams="cover"))
        )

    assert "foam" in shown(sewn_to_a_wall(""), 1)
    assert "foam" in shown(sewn_to_a_wall("lined"), 1), "the lining comes on over it"
    assert "foam" not in shown(sewn_to_a_wall("lined"), 2)


def test_what_is_fixed_and_riveted_later_is_named_in_between(resolve_text: Resolve) -> None:
    """The tab is glued on in the first step, and drawn with its rivet in the third."""
    hole = 'holes = [{ at = "centre, middle", punch = "4 mm", takes = "rivet"'
    build = resolve_text(
        piece(
            "front",
            200,
            150,
            f'{hole}, through = ["tab"] }}]\nlandings = [{{ piece = "tab", at = "centre, middle" }}]\n',
        )
        + piece("tab", 30, 60, 'holes = [{ at = "centre, middle", punch = "4 mm" }]\n')
        + piece("back", 200, 150)
        + seam("round", "front: left bottom right", "back: left bottom right")
        + rivet()
        + step("Glue the tab on.", pieces="front tab")
        + step("Sew the back on.", seams="round")
        + step("Set the rivet.", pieces="front tab", hardware="rivet")
    )
    assert scene(build, 1).absent == ("tab",)
    assert "tab" in shown(build, 2)


def test_what_does_not_come_to_its_seam_is_left_out(resolve_text: Resolve) -> None:
    """A base lapped over two panels that are sewn side to side before: which way it folds between them is not told, and
    its far end lay 194 off the second one."""
    build = resolve_text(
        piece("base", 200, 190)
        + piece("front", 200, 150)
        + '[pieces.back]\nlike = "front"\n'
        + seam("foot", "base: bottom", "front: bottom", more='lap = "12 mm"\n')
        + seam("other", "base: top", "back: bottom", more='lap = "12 mm"\n')
        + seam("left", "front: left", "back: right")
        + seam("right", "front: right", "back: left")
    )
    apart = TakenApart(build)
    assert apart.closed.absent == ("back",)
    assert '"back": its seams do not come together as it is placed' in apart.tell_withheld()


def test_the_row_that_a_step_sews_is_drawn_on_what_a_lining_covers(resolve_text: Resolve) -> None:
    """The lining hangs by the mouth, and the wall is sewn on beside it: the row is drawn on the inner side of the panel,
    an earlier one not."""
    build = resolve_text(
        piece("front", 200, 150, 'landings = [{ piece = "patch", at = "centre, middle" }]\n')
        + piece("patch", 80, 60)
        + piece("lining", 200, 150, 'lines = ["front"]\n', "cloth")
        + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["48 mm", "solve"]\n'
        + seam("patch", "patch: left bottom right", "front")
        + seam("mouth", "front: top", "lining: top")
        + seam("round", "front: left bottom right", "wall: left")
        + step("Sew the patch on.", seams="patch")
        + step("Sew the lining in.", seams="mouth")
        + step("Sew the wall on.", seams="round")
    )
    drawing = scene(build, 2).drawing
    front = next(one for one in drawing.shown if one.body.copy.part == "front")
    assert "round" in front.picked - front.beneath
    assert "patch" in front.beneath
