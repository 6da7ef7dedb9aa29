"""Questions about pockets that come to lie outside of what folds shut over them: plane geometry."""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

BOOK = """\
<rectangle cover: ["214 mm", "140 mm"]>
folds = [{ at = "centre", open = true, angle = 180, inside = "grain" }]
landings = [
  { piece = "card-pocket", at = "0 from left, 0 from bottom", inside = true },
  { piece = "note-pocket", at = "0 from right, 0 from bottom", inside = true },
]
<rectangle card-pocket: ["90 mm", "80 mm"]>
<rectangle note-pocket: ["90 mm", "80 mm"]>
<seam card: ["card-pocket: left bottom", "cover"]>
<seam note: ["note-pocket: bottom right", "cover"]>
"""
INNER = """\
<rectangle cover: ["214 mm", "140 mm"]>
folds = [{ at = "centre", open = true, angle = 180, inside = "grain" }]
[pieces.inner]
of = "body"
like = "cover"
marks = false
folds = [{ at = "centre", open = true, angle = 180 }]
landings = [
  { piece = "card-pocket", at = "0 from left, 0 from bottom" },
  { piece = "note-pocket", at = "0 from right, 0 from bottom" },
]
<rectangle card-pocket: ["90 mm", "80 mm"]>
<rectangle note-pocket: ["90 mm", "80 mm"]>
<seam round: ["cover: all", "inner: all"]>
<seam card: ["card-pocket: right", "inner"]>
<seam note: ["note-pocket: left", "inner"]>
"""
GRAIN, FLESH = 'inside = "grain"', 'inside = "flesh"'


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("pockets_outside")


def test_pockets_on_the_side_that_comes_to_lie_outside_are_asked_about(ask: Ask) -> None:
    (told,) = ask(BOOK)
    assert told.startswith('18: the grain side of "cover" lies inside its fold, and its pockets on the other side')
    assert ask(BOOK, (GRAIN, FLESH)) == []
    assert ask(BOOK, (f", {GRAIN}", "")) == []


def test_pockets_on_one_half_alone_may_be_meant_to_lie_outside(ask: Ask) -> None:
    assert ask(BOOK.replace("0 from right", "10 mm from left")) == []


def test_an_inner_that_folds_as_its_cover_says_is_asked_about_at_the_fold_of_that(ask: Ask) -> None:
    (told,) = ask(INNER)
    assert told.startswith('18: the flesh side of "inner" lies inside its fold')
    assert ask(INNER, (GRAIN, FLESH)) == []
    both = ("angle = 180 }", f"angle = 180, {FLESH} }}")
    assert ask(INNER, (GRAIN, FLESH), both) == []  # a caution tells it
