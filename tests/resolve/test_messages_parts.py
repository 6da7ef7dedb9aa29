"""Materials, stitches and printing that cannot be: every message whole."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from cases import read_cases

Messages = Callable[[str], str]


MESSAGES = read_cases("""
=== cloth with a finish
<back>
[materials.cloth]
kind = "fabric"
thickness = "0.6 mm"
finish = "waxed"
tannage = "chrome"
---
a.toml:21: error: fabric has no finish
    written: "waxed"
    mend:    leave out finish, or make it leather
a.toml:22: error: fabric has no tannage
    written: "chrome"
    mend:    leave out tannage, or make it leather
=== a thread without a needle
<back>
<stitch thick: by machine, Tex 900 nylon, 6 mm, 4 mm>
---
a.toml:20: error: no needle is known for Tex 900
    written: "Tex 900 nylon"
    mend:    name the needle: needle = "250/27"
=== a type by hand
<back>
[stitches.thick]
by = "hand"
type = "301"
thread = "Tex 280 linen"
pitch = "6 mm"
inset = "4 mm"
---
a.toml:20: error: a stitch type by number belongs to a machine
    written: "301"
    mend:    leave it out, or write by = "machine"
=== a margin too wide
<back>
[pattern]
margin = "2 in"
overlap = "1 mm"
---
a.toml:19: error: the margin cannot be 50.8 mm
    written: "2 in"
    mend:    use 0 to 25.4 mm
a.toml:20: error: the overlap cannot be 1 mm
    written: "1 mm"
    mend:    use 3 to 40 mm
=== an unknown paper
<back>
[pattern]
paper = "lettr"
---
a.toml:19: error: "lettr" is not a paper known here
    written: "lettr"
    mend:    did you mean "letter"?
=== a stitch too long
<back>
<stitch x: by hand, Tex 280 linen, 60 mm, 4 mm>
---
a.toml:21: error: "60 mm" is a stitch of 60 mm
    written: "60 mm"
    mend:    write a stitch between 0.5 and 50 mm long
=== waste of all
<back>
[materials.x]
kind = "foam"
thickness = "3 mm"
waste = "100 %"
---
a.toml:21: error: "100 %" leaves nothing
    written: "100 %"
    mend:    write a share below 100 %
=== a needle nobody makes
<back>
<stitch x: by machine, Tex 135 nylon, 4 mm, 4 mm>
needle = "12"
---
a.toml:23: error: 12 is not a metric needle size (60 to 300)
    written: "12"
    mend:    write the metric size, like "130/21" or "130"
""")


@pytest.mark.parametrize("case", MESSAGES)
def test_each_mistake_is_told_once_and_whole(messages: Messages, case: str) -> None:
    given, told, _ = MESSAGES[case]
    assert messages(given) == told
