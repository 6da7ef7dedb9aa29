"""A patch over the ends of straps on one rivet. That what is written first of what lands on a piece lies beneath, that ends
of straps lie in their place before a patch is sewn over them, and that a post goes through what is laid by then, is common
practice, no published source. Thicknesses are sums of what the spec says.
"""

from collections.abc import Callable

import pytest
from in_space import part
from step_lines import lines

from docgen.assemble import Assembled, TakenApart, inner, pile_post, pile_seam
from docgen.plan import plan_work

STRAP = '{ strap = "pull", at = "centre, 60 mm from bottom", leads = "up", over = "45 mm" }'
PATCH = '{ piece = "patch", at = "centre, 55 mm from bottom" }'
BUILD = """\
<rectangle base: ["200 mm", "150 mm"]>
holes = [{ at = "centre, 75 mm from bottom", punch = "4 mm", takes = "rivet", through = ["pull"] }]
landings = [%s, %s]
<rectangle patch of thin: ["80 mm", "40 mm"]>
%s
<strap pull of body: 20 mm>
finished = "300 mm"
ends = [{ shape = "square" }, { shape = "square" }]
punches = [{ at = "centre, 15 mm from start", punch = "4 mm" }]
<hardware rivet: 1, double-cap rivet>
<seam patch: ["patch: all", "base"]>
[[steps]]
do = "Cut the strap."
straps = ["pull"]
[[steps]]
do = "Lay the strap on the base, the patch there too; rivet, and sew the patch."
pieces = ["patch", "base"]
seams = ["patch"]
hardware = ["rivet"]
%s
"""
HOLED = 'holes = [{ at = "centre, 20 mm from bottom", punch = "4 mm" }]'
Made = Callable[..., Assembled]


@pytest.fixture
def make(resolve_text: Callable[[str], Assembled]) -> Made:
    """The build with what lands on its base in this order, a patch with or without a hole, and more of its last step."""
    return lambda lands, hole=HOLED, order="": resolve_text(BUILD % (*lands, hole, order))


def kinds(build: Assembled, step: int) -> list[str]:
    return [event.kind for event in build.assembly.events if event.step == step]


@pytest.mark.parametrize("order", ["", 'order = ["rivet", "patch: seams"]', 'order = ["patch: pieces", "rivet"]'])
def test_ends_lie_beneath_a_patch_that_is_written_after_them(make: Made, order: str) -> None:
    build = make((STRAP, PATCH), order=order)
    assert kinds(build, 1)[-2:] == ["hardware", "seams"]
    (once,) = build.assembly.sewn
    assert [ply.part for ply in pile_seam(build, once)[-1]] == ["patch", "pull", "base"]
    assert once.stack.thickest_mm == pytest.approx(1 + 2 + 2)
    (post,) = build.assembly.fastened
    assert [ply.part for ply in pile_post(build, post) or ()] == ["patch", "pull", "base"]


@pytest.mark.parametrize("order", ["", 'order = ["rivet", "patch: seams"]'])
def test_what_a_post_goes_through_is_laid_before_it(make: Made, order: str) -> None:
    told = lines(plan_work(make((STRAP, PATCH), order=order)), 2)
    spots = [
        next(k for k, words in enumerate(told) if begun in words)
        for begun in ("pull, first end, on the", "lay patch on it", "Set 1 rivet", "Sew patch")
    ]
    assert spots == sorted(spots)
    assert sum("lay patch on it" in words for words in told) == 1


def test_a_patch_without_a_hole_is_laid_once_the_rivet_is_set(make: Made) -> None:
    build = make((STRAP, PATCH), "")
    assert kinds(build, 1)[-2:] == ["hardware", "seams"]
    told = lines(plan_work(build), 2)
    assert next(k for k, words in enumerate(told) if "Set 1 rivet" in words) < next(
        k for k, words in enumerate(told) if "lay patch on it" in words
    )


def test_a_patch_that_is_written_before_them_lies_beneath_the_ends(make: Made) -> None:
    build = make((PATCH, STRAP))
    assert kinds(build, 1)[-2:] == ["seams", "hardware"]
    (post,) = build.assembly.fastened
    assert [ply.part for ply in pile_post(build, post) or ()] == ["pull", "patch", "base"]
    assert height(build, "pull") > height(build, "patch") > 0


def height(build: Assembled, name: str) -> float:
    """By how many layers a part is lifted off the base where it lies on that."""
    space = TakenApart(build).lifted
    placed = part(space, name)
    return inner(placed.lifts[placed.surface.band_of(placed.anchor)], part(space, "base").out(0))


def test_the_pictures_agree_with_the_sections(make: Made) -> None:
    build = make((STRAP, PATCH))
    assert height(build, "patch") > height(build, "pull") > 0


def test_what_two_kinds_of_hardware_go_through_is_laid_once(resolve_text: Callable[[str], Assembled]) -> None:
    """A rivet and a button of one step go through the patch: it is laid before the first of both."""
    button = ', { at = "centre, 85 mm from bottom", punch = "4 mm", takes = "button", through = ["patch"] }]\n'
    text = (BUILD % (STRAP, PATCH, HOLED, "")).replace('through = ["pull"] }]\n', 'through = ["pull"] }' + button)
    text = text.replace("<seam patch", "<hardware button: 1, double-cap rivet, 12 mm cap>\n<seam patch")
    build = resolve_text(text.replace('hardware = ["rivet"]', 'hardware = ["rivet", "button"]'))
    assert [{*fit.stack.parts} >= {"patch", "base"} for fit in build.assembly.fastened] == [True, True]
    told = lines(plan_work(build), 2)
    assert sum("lay patch on it" in words for words in told) == 1
