"""Strips that cannot be joined: every message whole."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from cases import read_cases

Messages = Callable[[str], str]


MESSAGES = read_cases("""
=== one strip
<strip side: ["60 mm", "100 mm"]>
cut = 2
<join g: ["side"], 10 mm>
---
a.toml:20: error: the join "g" has one strip only
    written: "side"
    mend:    name two or more strips, in order, or write ring = true when it closes on itself
=== strips of unequal width
<strip side: ["60 mm", "100 mm"]>
cut = 2
<strip base: ["58 mm", "100 mm"]>
<join g: ["side", "base"], 10 mm>
---
a.toml:23: error: the strips of "g" are not equally wide: 58 mm and 60 mm
    written: [joins.g]
    mend:    give them one width
=== an overlap longer than a strip
<strip side: ["60 mm", "100 mm"]>
cut = 2
<strip base: ["60 mm", "20 mm"]>
<join g: ["side", "base", "side"], 10 mm>
---
a.toml:25: error: the join "g" takes 20 mm of "base", which is 20 mm long
    written: "10 mm"
    mend:    use a smaller overlap, or a longer strip
=== an overlap longer than an outer strip
<strip side: ["60 mm", "100 mm"]>
cut = 2
<join g: ["side", "side"], 120 mm>
---
a.toml:21: error: the join "g" takes 120 mm of "side", which is 100 mm long
    written: "120 mm"
    mend:    use a smaller overlap, or a longer strip
=== too few cut
<strip side: ["60 mm", "100 mm"]>
<join g: ["side", "side"], 10 mm>
---
a.toml:14: error: the joins take 2 of "side" for one make, and 1 is cut
    written: [pieces.side]
    mend:    write cut = 2
=== a circle joined
<strip side: ["60 mm", "100 mm"]>
cut = 2
[pieces.o]
of = "body"
shape = "circle"
diameter = "60 mm"
<join g: ["side", "o"], 10 mm>
---
a.toml:23: error: "o" in the join "g" is no strip
    written: [joins.g]
    mend:    give it shape = "strip" or "rectangle"
=== a join whose stitch is wrong
<stitch bad: by hand, linen, 4 mm, 4 mm>
<strip side: ["60 mm", "100 mm"]>
cut = 2
[joins.g]
of = ["side", "side"]
overlap = "10 mm"
stitch = "bad"
---
a.toml:16: error: "linen" does not say the size of the thread
    written: "linen"
    mend:    write its Tex, ticket or V number first, like "Tex 135 bonded nylon" or "V138 bonded nylon"
""")


@pytest.mark.parametrize("case", MESSAGES)
def test_each_mistake_is_told_once_and_whole(messages: Messages, case: str) -> None:
    given, told, _ = MESSAGES[case]
    assert messages(given) == told
