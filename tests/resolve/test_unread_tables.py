"""A table that is none is one mistake, not one for each name that would have stood there."""

from __future__ import annotations

from collections.abc import Callable

import pytest

SPEC = """\
[spec]
code = "bag"
title = "Bag"
version = "1"
[materials.body]
kind = "leather"
thickness = "2 mm"
[stitches.main]
by = "machine"
thread = "Tex 135 bonded nylon"
pitch = "4 mm"
inset = "4 mm"
"""
PIECES = """\
[pieces.back]
of = "body"
shape = "rectangle"
size = ["width", "height"]
[pieces.front]
like = "back"
"""
SEAM = """\
[seams.s]
stitch = "main"
meet = ["back: left", "front: left"]
[[steps]]
do = "Sew."
pieces = ["back"]
"""


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("measures = -1\n" + SPEC + PIECES + SEAM, "measures must be a table of name = length"),
        ("pieces = 5\n" + SPEC + SEAM, "pieces must be one table per name"),
    ],
)
def test_what_hangs_on_a_table_that_is_none_is_not_told(
    check_text: Callable[[str], list[str]], text: str, what: str
) -> None:
    assert check_text(text) == [what]
