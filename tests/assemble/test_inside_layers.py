"""What lies on the inner side of a lined part: beneath the lining where it is laid there first, on it where that is in by
then. By hand; that a lining hides what is sewn behind it is common practice, no published source."""

from collections.abc import Callable

import pytest
from finished_article import article_of
from short_specs import piece, seam, step

from docgen.assemble import Assembled, Copy, TakenApart, inner
from docgen.pages.pictures.pictures import Pictures

Resolve = Callable[[str], Assembled]
BEHIND = 'landings = [{ piece = "pocket", at = "centre, 30 mm from bottom", inside = true }]\n'
PANELS = (
    piece("front", 200, 150)
    + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
    + piece("pocket", 120, 80)
    + seam("pocket", "pocket: left bottom right", "HOST")
    + seam("mouth", "back: top", "lining: top")
    + seam("one", "back: left bottom right", "lining: left bottom right", "wall: left")
    + seam("two", "front: left bottom right", "wall: right")
)
LINING = '[pieces.lining]\nlike = "back"\nof = "cloth"\nmarks = false\n'
POCKET, MOUTH, WALL, CLOSE = (step(f"Sew {name}.", seams=name) for name in ("pocket", "mouth", "one", "two"))


def on_the_back(*steps: str) -> str:
    return piece("back", 200, 150, BEHIND) + LINING + PANELS.replace("HOST", "back") + "".join(steps)


def on_the_lining(side: str) -> str:
    landing = f'landings = [{{ piece = "pocket", at = "centre, 30 mm from bottom"{side} }}]\n'
    text = piece("back", 200, 150) + LINING + landing + PANELS.replace("HOST", "lining")
    return text + POCKET + MOUTH + WALL + CLOSE


EARLY, LATE = on_the_back(POCKET, MOUTH, WALL, CLOSE), on_the_back(MOUTH, POCKET, WALL, CLOSE)
HIDDEN, OPEN = on_the_lining(", inside = true"), on_the_lining("")


IDS = ["sewn before", "sewn after", "hidden side", "open side"]


def depth_of(build: Assembled) -> dict[str, float]:
    """How many layers inward of its back each part is drawn."""
    lifted = TakenApart(build).lifted
    back = lifted.part(Copy("back"))
    assert back is not None
    return {one.copy.part: -inner(one.lifts[0], back.out(0)) for one in lifted.parts}


@pytest.mark.parametrize(
    ("text", "order"),
    [
        (EARLY, ["back", "pocket", "lining"]),
        (LATE, ["back", "lining", "pocket"]),
        (HIDDEN, ["back", "pocket", "lining"]),
        (OPEN, ["back", "lining", "pocket"]),
    ],
    ids=IDS,
)
def test_each_layer_behind_a_panel_is_drawn_where_it_lies(resolve_text: Resolve, text: str, order: list[str]) -> None:
    deep = depth_of(resolve_text(text))
    assert [round(deep[part], 3) for part in order] == [0, 1, 2]


@pytest.mark.parametrize(("text", "is_seen"), [(EARLY, False), (LATE, True), (HIDDEN, False), (OPEN, True)], ids=IDS)
def test_what_a_lining_hides_is_drawn_neither_on_it_nor_through_it(
    resolve_text: Resolve, text: str, is_seen: bool
) -> None:
    build = resolve_text(text)
    pictures = Pictures(build)
    (scene,) = pictures._scenes(3)
    assert ("pocket" in {one.body.copy.part for one in scene.drawing.shown}) == is_seen
    article = article_of(pictures.apart)
    assert ("pocket" in {one.body.copy.part for one in article.front.shown}) == is_seen


def test_what_is_hidden_is_drawn_while_it_is_sewn_and_lined(resolve_text: Resolve) -> None:
    pictures = Pictures(resolve_text(EARLY))
    for number in (0, 1):
        (scene,) = pictures._scenes(number)
        assert "pocket" in {one.body.copy.part for one in scene.drawing.shown}


def test_foam_and_the_lining_over_it_are_drawn_in_two_layers(resolve_text: Resolve) -> None:
    landing = 'landings = [{ piece = "foam", at = "centre, 30 mm from bottom", inside = true }]\n'
    foam = '[pieces.foam]\nof = "pad"\nshape = "rectangle"\nsize = ["150 mm", "90 mm"]\n'
    text = piece("back", 200, 150, landing) + LINING + foam + seam("mouth", "back: top", "lining: top")
    pictures = Pictures(
        resolve_text(text + step("Lay foam and lining in and sew.", pieces="foam lining", seams="mouth"))
    )
    assert pictures._scenes(0)
    assert sorted(depth_of(pictures.build).values()) == [0, 1, 2]
