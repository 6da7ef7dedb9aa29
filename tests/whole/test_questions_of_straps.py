"""What `check` asks of straps whose figures go beyond what such straps mostly have.

Common practice, no published source: handles are no wider than 70 mm, sewn on over 15 mm or more, and no single layer under
1.2 mm; a strap is no thicker than 7 mm in all, and no thinner than its lining.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

BAG = """\
<back>
landings = [
  { strap = "carry", at = "40 mm from top, 50 mm left of centre", over = "30 mm", stitch = "main" },
  { strap = "carry", end = "second", at = "40 mm from top, 50 mm right of centre", over = "30 mm", stitch = "main" },
]
<bare front>
<seam>
<leather thin: 1 mm>
<strap carry of body: 24 mm>
title = "Handle"
finished = "300 mm"
<strap belt of body: 38 mm>
lining = "thin"
doubled = true
stitch = "main"
finished = "900 mm"
ends = [{ shape = "turned", back = "60 mm", around = "buckle" }, { shape = "pointed" }]
<hardware buckle: 1, bar buckle 40 mm>
inside = "39 mm"
bar = "4 mm"
"""
SHORT = (
    ('50 mm left of centre", over = "30 mm"', '50 mm left of centre", over = "14 mm"'),
    ('50 mm right of centre", over = "30 mm"', '50 mm right of centre", over = "14 mm"'),
)
HELD = tuple((old, new.replace("14 mm", "15 mm")) for old, new in SHORT)
CASES = {
    "a handle wider than a hand": (
        (('width = "24 mm"', 'width = "71 mm"'),),
        "33:",
        "is 71 mm",
        (('width = "24 mm"', 'width = "70 mm"'),),
    ),
    "a handle of one thin layer": (
        (('[straps.carry]\nof = "body"', '[straps.carry]\nof = "thin"'),),
        "32:",
        'is one layer of "thin", 1 mm',
        (
            ('[straps.carry]\nof = "body"', '[straps.carry]\nof = "thin"'),
            ('title = "Handle"', 'title = "Handle"\nlining = "thin"\ndoubled = true\nstitch = "main"'),
        ),
    ),
    "a handle sewn on over little": (SHORT, "19:", "is sewn on over 14 mm", HELD),
    "a lining thicker than its belt": (
        (('thickness = "1 mm"', 'thickness = "2.1 mm"'),),
        "30:",
        'the lining of "belt", "thin", is 2.1 mm',
        (('thickness = "1 mm"', 'thickness = "2 mm"'),),
    ),
    "a belt too thick in all": (
        (('[straps.belt]\nof = "body"', '<leather butt: 6.1 mm>\n[straps.belt]\nof = "butt"'),),
        "38:",
        '"belt" is 7.1 mm (9/32 in) thick in all',
        (('[straps.belt]\nof = "body"', '<leather butt: 6 mm>\n[straps.belt]\nof = "butt"'),),
    ),
    "a buckle that is called otherwise": (
        (("bar buckle 40 mm", "bar buckle 45 mm"),),
        "45:",
        'the words of "buckle" are "bar buckle 45 mm"',
        (("bar buckle 40 mm", "bar buckle 41 mm"),),
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_a_figure_that_no_such_strap_has_is_asked_about(name: str, ask_only: Callable[..., Ask]) -> None:
    ask = ask_only("strap_figures")
    slip, line, words, twin = CASES[name]
    (told,) = ask(BAG, *slip)
    assert told.startswith(line), told
    assert words in told
    assert ask(BAG) == ask(BAG, *twin) == []
