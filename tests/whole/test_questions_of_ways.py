"""What `check` asks of words that sew dividing lines the other way than the sheet tells and draws them."""

from collections.abc import Callable

import pytest

AskOnly = Callable[..., Callable[..., list[str]]]

ROW = """\
<back>
<rectangle pocket: ["200 mm", "90 mm"]>
dividers = [{ at = "80 mm from left", stitch = "main", on = "back" }]
<seam a: ["pocket: left bottom right", "back"]>
<step "Sew the pocket.": seams = ["a"]>
<step "Sew the line.": pieces = ["pocket"]>
"""


@pytest.mark.parametrize(
    ("words", "asked"),
    [
        ("Sew the line, from the top of the pocket to the foot.", 1),
        ("Sew the line from the mouth down to the base.", 1),
        ("Sew the line from the foot to the top of the pocket.", 0),
        ("Sew the line from foot to mouth.", 0),
        ("Turn the work from the top to the foot; sew the line.", 0),
        ("Sew the line.", 0),
    ],
)
def test_a_line_that_words_sew_the_other_way_is_asked_about(ask_only: AskOnly, words: str, asked: int) -> None:
    told = ask_only("ways")(ROW, ("Sew the line.", words))
    assert len(told) == asked
    assert all('the dividing lines of "pocket" from the bottom to the top' in line for line in told)


def test_a_line_that_lies_across_has_neither_way(ask_only: AskOnly) -> None:
    across = ('at = "80 mm from left"', 'at = "40 mm from bottom"')
    assert ask_only("ways")(ROW, across, ("Sew the line.", "Sew the line from the top to the foot.")) == []
