"""What `check` asks of a piece that is like another, and gets neither the zip that is laid on that nor its dividing lines.

That either may be meant is plain from the work: a back is often like its front, without the zip.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

PANELS = """\
<zip: coil zip, 30 mm, 1 mm>
<rectangle front: ["200 mm", "150 mm"]>
laid = [{ goods = "zip", at = "40 mm from top", stitch = "main", window = "10 mm", clear = "20 mm" }]
dividers = [{ at = "60 mm from left", stitch = "main" }]
[pieces.back]
like = "front"
%s
<seam s: ["back: left bottom right", "front: left bottom right"]>
<step "Sew the zip in.": pieces = ["front"]>
<step "Sew.": seams = ["s"]>
"""


@pytest.fixture
def asked(ask_only: Callable[..., Ask]) -> Callable[[str], list[str]]:
    ask = ask_only("left_behind")
    return lambda lines: [words.split(": ", 1)[1] for words in ask(PANELS % lines)]


@pytest.mark.parametrize("lines", ["", "mirror = true", "marks = true"])
def test_what_does_not_come_along_is_asked(asked: Callable[[str], list[str]], lines: str) -> None:
    (words,) = asked(lines)
    assert words.startswith('"back" takes the shape and marks of "front", but not "zip", which is laid on that (line ')
    assert "nor its dividing lines (line " in words


def test_what_it_says_itself_is_not(asked: Callable[[str], list[str]]) -> None:
    (words,) = asked('dividers = [{ at = "60 mm from left", stitch = "main" }]')
    assert '"zip"' in words
    assert "dividing lines" not in words


@pytest.mark.parametrize("lines", ["marks = false", 'of = "body"'])
def test_a_piece_without_the_marks_or_of_its_own_goods_is_not_asked(
    asked: Callable[[str], list[str]], lines: str
) -> None:
    assert asked(lines) == []
