"""Sizes beyond what can be meant stop the build; those within are silent."""

import pytest
from spec_text import Resolve, Tell

SPEC = """\
[materials.cloth]
kind = "fabric"
thickness = "0.5 mm"
waste = "10 %"
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm" }]
skives = [{ edges = "top", width = "15 mm", to = "1 mm" }]
[straps.belt]
of = "cloth"
width = "20 mm"
finished = "300 mm"
<hardware ring: 1, D ring>
inside = "26 mm"
bar = "4 mm"
hole = "4 mm"
"""
KINDLY = "look at the number and its unit"
# what is written, in place of what -> what is told, and what would mend it
MISTAKES = {
    "punch": ('punch = "4 mm"', 'punch = "0.4 mm"', "this comes to 0.4 mm, and a punch is 0.5 mm or more", KINDLY),
    "tiny punch": (
        'punch = "4 mm"',
        'punch = "0.00001 mm"',
        "this comes to 0.00001 mm, and a punch is 0.5 mm or more",
        KINDLY,
    ),
    "hole": ('hole = "4 mm"', 'hole = "0.4 mm"', "this comes to 0.4 mm, and a punch is 0.5 mm or more", KINDLY),
    "skive": ('width = "15 mm"', 'width = "0.9 mm"', "this comes to 0.9 mm, and a skived band is 1 mm or more", KINDLY),
    "inside": (
        'inside = "26 mm"',
        'inside = "301 mm"',
        "this comes to 301 mm, and the inside of a fitting is 300 mm or less",
        KINDLY,
    ),
    "bar": ('bar = "4 mm"', 'bar = "31 mm"', "this comes to 31 mm, and a bar is 30 mm or less", KINDLY),
    "bar and inside": (
        'bar = "4 mm"',
        'bar = "27 mm"',
        "a bar of 27 mm is thicker than the fitting is wide inside, 26 mm",
        "bar is how thick the bar is that a strap turns round",
    ),
    "waste": (
        'waste = "10 %"',
        'waste = "80.1 %"',
        "more than 80 % lost leaves hardly anything to cut",
        'write the share of the whole that is lost: "25 %"',
    ),
    "thickness": (
        'thickness = "0.5 mm"',
        'thickness = "25.5 mm"',
        "this comes to 25.5 mm, and fabric is 25 mm or less",
        KINDLY,
    ),
}
GOOD = [
    ('punch = "4 mm"', 'punch = "0.5 mm"'),
    ('width = "15 mm"', 'width = "1 mm"'),
    ('inside = "26 mm"', 'inside = "300 mm"'),
    ('bar = "4 mm"', 'bar = "26 mm"'),
    ('waste = "10 %"', 'waste = "80 %"'),
    ('thickness = "0.5 mm"', 'thickness = "25 mm"'),
]


@pytest.mark.parametrize("case", MISTAKES)
def test_a_size_that_cannot_be_meant_is_told_with_its_line(messages: Tell, case: str) -> None:
    old, new, what, mend = MISTAKES[case]
    assert SPEC.count(old) == 1
    told = messages(SPEC.replace(old, new)).splitlines()
    assert told[0].startswith("a.toml:")
    assert told[0].endswith(f": error: {what}")
    assert told[-1] == f"    mend:    {mend}"
    assert sum(": error: " in line for line in told) == 1


@pytest.mark.parametrize(("old", "new"), GOOD)
def test_a_size_that_can_be_meant_is_read(resolve_text: Resolve, old: str, new: str) -> None:
    assert resolve_text(SPEC.replace(old, new)).code == "bag"
