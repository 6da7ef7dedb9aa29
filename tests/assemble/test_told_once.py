"""What is not drawn is told by its cause, once, with all that it keeps from being drawn."""

from demos import demo_build
from short_specs import hole, piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart, UnsureError
from docgen.assemble.apart.telling import MissingError, list_undrawn, tell_parts, tell_steps
from docgen.assemble.apart.unsure import HELD, PLEATED
from docgen.assemble.space.straps import KEEPER, KEPT

LINES = ('lines = ["back"]\n', 'lines = ["front"]\n')


def _bag(lining: str, inner: str) -> str:
    return (
        piece("front", 200, 150, 'notches = [{ on = "bottom" }]\n' + hole("centre, 60 mm from top", "stud"))
        + piece(
            "back",
            200,
            150,
            'notches = [{ on = "bottom" }]\nlandings = [{ piece = "flap", at = "centre, 10 mm from top" }]\n',
        )
        + f'[pieces.lining]\nof = "body"\nlike = "back"\nmarks = false\n{lining}'
        + f'[pieces.inner]\nof = "body"\nlike = "front"\nmarks = false\n{inner}'
        + piece(
            "flap",
            196,
            150,
            'folds = [{ at = "20 mm from top", open = true, angle = 90 }, '
            '{ at = "70 mm from top", open = true, angle = 90 }]\n' + hole("centre, 20 mm from bottom", "cap"),
        )
        + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
        + 'notches = [{ on = "left" }, { on = "right" }]\n'
        + "".join(f'[hardware.{half}]\nwhat = "snap, {half}"\nkind = "snap"\ncount = 1\n' for half in ("cap", "stud"))
        + seam("flap", "flap: top", "back")
        + seam("mouth", "back: top", "lining: top")
        + seam("mouth-front", "front: top", "inner: top")
        + seam("front", "wall: left", "inner: left bottom right", "front: left bottom right")
        + seam("back", "wall: right", "lining: left bottom right", "back: left bottom right")
        + step("Sew.", hardware="cap stud", seams="flap mouth mouth-front front")
        + step("Close.", seams="back")
    )


def test_a_second_layer_that_lines_nothing_is_the_cause_told(resolve_text: Resolve) -> None:
    """Its snap was said to look away, with a mend that helps nothing; what it holds said so again and again."""
    told = [*_apart(resolve_text, "", "").tell_withheld()]
    which = 'nothing says which of "{}" and "{}" lies outside: write lines in the one that is a lining'
    assert told == [
        f'"flap": {which.format("back", "lining")}',
        f'"front": {which.format("front", "inner")}',
        "what step 1 joins: flap, front are not drawn",
    ]
    assert [*_apart(resolve_text, *LINES).tell_withheld()] == []


def _apart(resolve_text: Resolve, lining: str, inner: str) -> TakenApart:
    build = resolve_text(_bag(lining, inner))
    assert isinstance(build, Assembled)
    return TakenApart(build)


def test_what_hangs_on_it_and_steps_are_told_in_one_line() -> None:
    reasons = {Copy("flap"): "why", Copy("wall"): HELD, Copy("lid"): "why", Copy("tab"): HELD, Copy("tab", 2): HELD}
    assert [*tell_parts(reasons)] == ['"flap", "lid": why', f'"wall", "tab": {HELD}']
    unsure = {0: MissingError(["Flap"]), 1: UnsureError("why"), 4: MissingError(["Wall", "Flap"])}

    def draw(step: int) -> None:
        if step in unsure:
            raise unsure[step]

    assert [*tell_steps(draw, 6)] == ["what steps 1, 5 join: Flap, Wall are not drawn", "what step 2 joins: why"]


def test_a_keeper_in_a_fold_is_drawn_where_there_are_straps_alone() -> None:
    """These are drawn flat, with what their folds hold; beside pieces a strap goes its way in space, without its keeper."""
    alone, bag = demo_build("strap"), demo_build("satchel")
    assert [*TakenApart(alone).tell_withheld()] == []
    reasons = {Copy("keeper"): KEPT, Copy("loop"): KEEPER}
    assert list_undrawn(alone, reasons) == {Copy("loop"): KEEPER}
    assert list_undrawn(bag, reasons) == reasons


def test_a_pleated_pocket_is_not_taken_to_lie_beside_its_host(resolve_text: Resolve) -> None:
    """Cut 150 mm wide for a front of 130, it lies 90 mm wide in its pleats: its rows were told to miss the front."""
    folds = ", ".join(
        f'{{ at = "{at} mm from {edge}", open = true, angle = 180, inside = "{side}" }}'
        for edge in ("left", "right")
        for at, side in ((15, "grain"), (30, "flesh"))
    )
    build = resolve_text(
        piece("front", 130, 150, 'landings = [{ piece = "pocket", at = "centre, 14 mm from bottom" }]\n')
        + piece("pocket", 150, 100, f"folds = [{folds}]\n")
        + seam("sides", "pocket: left", "front")
        + step("Sew.", seams="sides")
    )
    assert isinstance(build, Assembled)
    assert "seam-off-host" not in {caution.check for caution in build.cautions}
    assert TakenApart(build).withheld == {Copy("pocket"): PLEATED}
