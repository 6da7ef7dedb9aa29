"""Checks of how a thing goes together, each with a case that fires and a twin near its limit that does not."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from docgen.resolve import Build

# Lines that fire, what is told, and the words that its silent twin has in place of others.
CASES = {
    "seam-times": (
        """\
<back>
cut = 2
<front>
cut = 2
<seam>
times = 3
""",
        """\
a.toml:22: error: the seam "s" is sewn 3 times, and there are 2 of "back"
    written: [seams.s]
    mend:    write times = 2, or cut more
""",
        "times = 3",
        "times = 2",
    ),
    "seam-copy": (
        """\
<back>
cut = 2
<front>
cut = 2
[seams.s]
stitch = "main"
meet = ["back 3: left", "front: left"]
[seams.t]
stitch = "main"
meet = ["back: right", "front: right"]
""",
        """\
a.toml:22: error: the seam "s" means copy 3 of "back", and 2 are cut
    written: [seams.s]
    mend:    write "back 2", or cut more
""",
        "back 3: left",
        "back: left",
    ),
    # 20.1 mm into 20 mm does not go; what is cut to a hundredth of a millimetre does.
    "piece-wider-than-fitting": (
        """\
<back>
[hardware.buckle]
what = "buckle, 20 mm"
count = 1
inside = "20 mm"
bar = "3 mm"
[pieces.tab]
of = "body"
shape = "rectangle"
size = ["20.1 mm", "60 mm"]
folds = [{ at = "middle", around = "buckle" }]
[seams.s]
stitch = "main"
meet = ["tab: top", "back"]
""",
        """\
a.toml:27: error: "tab" is 20.1 mm (25/32 in) wide where it goes round the buckle, 20 mm, which is 20 mm (25/32 in) inside
    written: "middle"
    mend:    make it 20 mm (25/32 in) wide or less there, or take a wider one
""",
        "20.1 mm",
        "20.01 mm",
    ),
    "copies-left-over": (
        """\
<back>
cut = 2
<front>
<seam>
""",
        """\
a.toml:14: caution: 2 of "back" are cut, and its seams sew 1
    written: [pieces.back]
    mend:    write cut = 1, or times = 2 in the seam
    check:   copies-left-over, at back
""",
        "cut = 2\n",
        "cut = 1\n",
    ),
    "piece-loose": (
        """\
<back>
<front>
<seam>
[pieces.tab]
of = "body"
shape = "rectangle"
size = ["40 mm", "60 mm"]
""",
        """\
a.toml:23: caution: nothing holds "tab": no seam, join, landing or hardware joins it to another part
    written: [pieces.tab]
    mend:    name it in a seam, or say where it lands
    check:   piece-loose, at tab
""",
        "<front>",
        '<front>\nlandings = [{ piece = "tab", at = "centre, middle" }]',
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_a_check_of_joining_fires_whole(messages: Callable[..., str], cautions: Callable[..., str], name: str) -> None:
    text, told, _, _ = CASES[name]
    assert (messages if ": error: " in told else cautions)(text) == told


@pytest.mark.parametrize("name", CASES)
def test_the_twin_of_a_check_of_joining_is_silent(resolve_text: Callable[..., Build], name: str) -> None:
    text, _, old, new = CASES[name]
    assert resolve_text(text, (old, new)).cautions == ()
