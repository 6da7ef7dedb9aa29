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
MISTAKES = [
    ('punch = "4 mm"', "0.4 mm", "this comes to 0.4 mm, and a punch is 0.5 mm or more", KINDLY),
    ('punch = "4 mm"', "0.00001 mm", "this comes to 0.00001 mm, and a punch is 0.5 mm or more", KINDLY),
    ('hole = "4 mm"', "0.4 mm", "this comes to 0.4 mm, and a punch is 0.5 mm or more", KINDLY),
    ('width = "15 mm"', "0.9 mm", "this comes to 0.9 mm, and a skived band is 1 mm or more", KINDLY),
    ('inside = "26 mm"', "301 mm", "this comes to 301 mm, and the inside of a fitting is 300 mm or less", KINDLY),
    ('bar = "4 mm"', "31 mm", "this comes to 31 mm, and a bar is 30 mm or less", KINDLY),
    ('thickness = "0.5 mm"', "25.5 mm", "this comes to 25.5 mm, and fabric is 25 mm or less", KINDLY),
    (
        'bar = "4 mm"',
        "27 mm",
        "a bar of 27 mm is thicker than the fitting is wide inside, 26 mm (line 31)",
        "bar is how thick the bar is that a strap turns round",
    ),
    (
        'waste = "10 %"',
        "80.1 %",
        "more than 80 % lost leaves hardly anything to cut",
        'write the share of the whole that is lost: "25 %"',
    ),
]
GOOD = [
    ('punch = "4 mm"', "0.5 mm"),
    ('width = "15 mm"', "1 mm"),
    ('inside = "26 mm"', "300 mm"),
    ('bar = "4 mm"', "26 mm"),
    ('waste = "10 %"', "80 %"),
    ('thickness = "0.5 mm"', "25 mm"),
]


def change(old: str, value: str) -> str:
    assert SPEC.count(old) == 1
    return SPEC.replace(old, f'{old.split(" = ")[0]} = "{value}"')


@pytest.mark.parametrize(("old", "value", "what", "mend"), MISTAKES)
def test_a_size_that_cannot_be_meant_is_told_with_its_line(messages: Tell, old, value, what, mend) -> None:
    told = messages(change(old, value)).splitlines()
    assert told[0].startswith("a.toml:")
    assert told[0].endswith(f": error: {what}")
    assert told[-1] == f"    mend:    {mend}"
    assert sum(": error: " in line for line in told) == 1


@pytest.mark.parametrize(("old", "value"), GOOD)
def test_a_size_that_can_be_meant_is_read(resolve_text: Resolve, old: str, value: str) -> None:
    assert resolve_text(change(old, value)).code == "bag"
