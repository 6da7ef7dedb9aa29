"""What `check` asks of straps called left and right that are not as each other, and of bands along unlike edges.

That one slip of a figure or word leaves such a build is plain from the work.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

HARNESS = """\
<rectangle plate: ["200 mm", "220 mm"]>
landings = [
  { strap = "back-left", end = "second", at = "30 mm from top, 42 mm from left", over = "42 mm", leads = "left" },
  { strap = "back-right", end = "second", at = "30 mm from top, 42 mm from right", over = "42 mm", leads = "right" },
]
<strap back-left of body: 25 mm>
finished = "120 mm"
ends = [{ shape = "square" }, { shape = "rounded" }]
<strap back-right of body: 25 mm>
finished = "120.5 mm"
ends = [{ shape = "square" }, { shape = "rounded" }]
"""

WALLS = """\
<strip front: ["100 mm", "250 mm"]>
skives = [
  { edges = "start", width = "12 mm", to = "0.8 mm" },
  { edges = "left", width = "8 mm", to = "1 mm" },
]
AGAIN
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("sided")


@pytest.mark.parametrize(
    ("edit", "told"),
    [
        (
            ('right", over = "42 mm", leads = "right"', 'right", over = "42 mm", leads = "left"'),
            'lie left and right on "plate", and both lead left (line 19)',
        ),
        (
            ("30 mm from top, 42 mm from right", "32 mm from top, 42 mm from right"),
            "190 mm (7 15/32 in) and 188 mm (7 13/32 in) above its foot",
        ),
        (("42 mm from right", "44 mm from right"), "58 mm (2 9/32 in) and 56 mm (2 7/32 in) from its middle"),
        (('"120.5 mm"', '"122 mm"'), "are alike but for their length, cut 120 mm (4 23/32 in) and 122 mm (4 13/16 in)"),
    ],
    ids=["leads", "height", "aside", "length"],
)
def test_a_left_strap_and_a_right_one_that_are_unlike_are_asked_about(
    ask: Ask, edit: tuple[str, str], told: str
) -> None:
    assert ask(HARNESS) == []
    (asked,) = ask(HARNESS, edit)
    assert asked.split(": ", 1)[1].startswith('"back-left" and "back-right" ')
    assert told in asked


@pytest.mark.parametrize(
    "edit",
    [
        ('finished = "120 mm"\nends = [{ shape = "square" }', 'finished = "120 mm"\nends = [{ shape = "pointed" }'),
        ("<strap back-right of body: 25 mm>", "<strap back-right of body: 20 mm>"),
    ],
    ids=["other ends", "another width"],
)
def test_straps_that_are_no_twins_may_be_unlike_in_length(ask: Ask, edit: tuple[str, str]) -> None:
    longer = ('"120.5 mm"', '"160 mm"')
    assert len(ask(HARNESS, longer)) == 1
    assert ask(HARNESS, longer, edit) == []


AGAIN = (
    '[pieces.wall]\nlike = "front"\nmarks = false\nskives = [\n'
    '  { edges = "start", width = "12 mm", to = "0.8 mm" },\n'
    '  { edges = "left", width = "8 mm", to = "1 mm" },\n]\n'
)


def test_a_band_along_another_edge_than_in_the_model_is_asked_about(ask: Ask) -> None:
    walls = WALLS.replace("AGAIN\n", AGAIN)
    assert ask(walls) == []
    other = AGAIN.replace('"left"', '"right"')
    (told,) = ask(WALLS.replace("AGAIN\n", other))
    assert told.split(": ", 1)[1] == (
        '"wall" is skived along its right, and "front", its model, along its left, as wide and as thin (line 20)'
    )


def test_one_that_is_mirrored_or_is_another_band_is_not(ask: Ask) -> None:
    other = AGAIN.replace('"left"', '"right"')
    assert ask(WALLS.replace("AGAIN\n", other.replace("marks = false", "marks = false\nmirror = true"))) == []
    assert ask(WALLS.replace("AGAIN\n", other.replace('"8 mm"', '"10 mm"'))) == []
    assert ask(WALLS.replace("AGAIN\n", other.replace('"start"', '"end"'))) == []
