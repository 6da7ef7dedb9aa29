"""Strips that cannot be joined: every message whole."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Messages = Callable[[str], str]

SIDE = """\
[pieces.side]
of = "body"
shape = "strip"
size = ["60 mm", "100 mm"]
cut = 2
"""

MESSAGES = {
    "one strip": (
        SIDE
        + """\
[joins.g]
of = ["side"]
overlap = "10 mm"
stitch = "main"
""",
        """\
a.toml:20: error: the join "g" has one strip only
    written: "side"
    mend:    name two or more strips, in order, or write ring = true when it closes on itself
""",
    ),
    "strips of unequal width": (
        SIDE
        + """\
[pieces.base]
of = "body"
shape = "strip"
size = ["58 mm", "100 mm"]
[joins.g]
of = ["side", "base"]
overlap = "10 mm"
stitch = "main"
""",
        """\
a.toml:23: error: the strips of "g" are not equally wide: 58 mm and 60 mm
    written: [joins.g]
    mend:    give them one width
""",
    ),
    "an overlap longer than a strip": (
        SIDE
        + """\
[pieces.base]
of = "body"
shape = "strip"
size = ["60 mm", "20 mm"]
[joins.g]
of = ["side", "base", "side"]
overlap = "10 mm"
stitch = "main"
""",
        """\
a.toml:25: error: the join "g" takes 20 mm of "base", which is 20 mm long
    written: "10 mm"
    mend:    use a smaller overlap, or a longer strip
""",
    ),
    "an overlap longer than an outer strip": (
        SIDE
        + """\
[joins.g]
of = ["side", "side"]
overlap = "120 mm"
stitch = "main"
""",
        """\
a.toml:21: error: the join "g" takes 120 mm of "side", which is 100 mm long
    written: "120 mm"
    mend:    use a smaller overlap, or a longer strip
""",
    ),
    "too few cut": (
        """\
[pieces.side]
of = "body"
shape = "strip"
size = ["60 mm", "100 mm"]
[joins.g]
of = ["side", "side"]
overlap = "10 mm"
stitch = "main"
""",
        """\
a.toml:14: error: the joins take 2 of "side" for one make, and 1 is cut
    written: [pieces.side]
    mend:    write cut = 2
""",
    ),
    "a circle joined": (
        SIDE
        + """\
[pieces.o]
of = "body"
shape = "circle"
diameter = "60 mm"
[joins.g]
of = ["side", "o"]
overlap = "10 mm"
stitch = "main"
""",
        """\
a.toml:23: error: "o" in the join "g" is no strip
    written: [joins.g]
    mend:    give it shape = "strip" or "rectangle"
""",
    ),
    "a join whose stitch is wrong": (
        """\
[stitches.bad]
by = "hand"
thread = "linen"
pitch = "4 mm"
inset = "4 mm"
"""
        + SIDE
        + """\
[joins.g]
of = ["side", "side"]
overlap = "10 mm"
stitch = "bad"
""",
        """\
a.toml:16: error: "linen" does not say the size of the thread
    written: "linen"
    mend:    write its Tex, ticket or V number first, like "Tex 135 bonded nylon" or "V138 bonded nylon"
""",
    ),
}


@pytest.mark.parametrize("case", MESSAGES)
def test_each_mistake_is_told_once_and_whole(messages: Messages, case: str) -> None:
    text, expected = MESSAGES[case]
    assert messages(text) == expected
