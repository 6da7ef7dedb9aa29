"""Written values in a spec, as they are worked out: every message whole."""

# ruff: noqa: E501 - messages stand here as they are printed

from __future__ import annotations

from collections.abc import Callable

import pytest
from cases import read_cases

Messages = Callable[[str], str]


MESSAGES = read_cases("""
=== a measure without quotes, used twice
[measures]
w = 6.25
<rectangle a: ["w", "w + 20 mm"]>
---
a.toml:15: error: w has no unit: 6.25
    written: 6.25
    mend:    write "6.25 in" or "6.25 mm", quotes and all
=== a size of nothing
<circle>
diameter = "0"
---
a.toml:17: error: this comes to 0 mm
    written: "0"
    mend:    a size must be more than nothing
=== a size below nothing
[measures]
w = "10 mm"
<circle>
diameter = "w - 12 mm"
---
a.toml:19: error: this comes to -2 mm
    written: "w - 12 mm"
    mend:    a size must be more than nothing
=== a thickness of nothing
[materials.thin]
kind = "leather"
thickness = "0"
---
a.toml:16: error: a thickness of 0 mm cannot be
    written: "0"
    mend:    write a thickness up to 50 mm
=== a thickness too great
[measures]
w = "60 mm"
[materials.thick]
kind = "foam"
thickness = "w"
---
a.toml:18: error: a thickness of 60 mm cannot be
    written: "w"
    mend:    write a thickness up to 50 mm
=== an unknown measure
[measures]
width = "10 mm"
<circle>
diameter = "widht"
---
a.toml:19: error: unknown measure "widht"
    written: "widht"
    mend:    did you mean "width"?
=== more than ten metres
[measures]
w = "6 m"
<circle>
diameter = "2 * w"
---
a.toml:19: error: this comes to more than 10 m
    written: "2 * w"
    mend:    check the numbers and their units
=== a hostile long expression
<circle>
diameter = "1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm"
---
a.toml:17: error: this has more than 60 parts
    written: "1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm+1 mm
    mend:    give a part of it a name among the measures
=== too many parts
<circle>
diameter = "9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in"
---
a.toml:17: error: this has more than 60 parts
    written: "9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in+9in
    mend:    give a part of it a name among the measures
=== an unreadable measure used three times
[measures]
w = "10 mn"
v = "2 * w"
<rectangle a: ["w", "v"]>
holes = [{ at = "w from left, 5 mm from top", punch = "v" }]
---
a.toml:15: error: "mn" is not a unit known here
    written: "10 mn"
    mend:    did you mean "m"?
=== measures in a circle
[measures]
w = "2 * v"
v = "w / 2"
<circle>
diameter = "w"
---
a.toml:15: error: goes round in a circle: w -> v -> w
    written: "2 * v"
    mend:    give one of them a length of its own
=== a measure left open
[measures]
w = "solve"
<circle>
diameter = "w"
---
a.toml:15: error: nothing fixes the measure "w"
    written: "solve"
    mend:    let one side of a seam hang on it, or write a length
=== an open point
[pieces.a]
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"] },
  { at = ["50 mm", "solve"] },
  { at = ["50 mm", "60 mm"] },
]
---
a.toml:19: error: "solve" cannot stand here
    written: "solve"
    mend:    only one whole size of a rectangle or strip may be "solve"; write a length
=== an open strap
<back>
<strap>
finished = "solve"
---
a.toml:21: error: "solve" cannot stand here
    written: "solve"
    mend:    only one whole size of a rectangle or strip may be "solve"; write a length
=== arithmetic on an open length
<back>
<strip a: ["20 mm", "solve + 10 mm"]>
---
a.toml:21: error: "solve" cannot stand here
    written: "solve + 10 mm"
    mend:    only one whole size of a rectangle or strip may be "solve"; write a length
=== a decimal comma in a position
<back>
holes = [{ at = "1,5 mm from top, 20 mm from left", punch = "3 mm" }]
---
a.toml:18: error: 1,5 has a comma in it
    written: "1,5 mm from top, 20 mm from left"
    mend:    write a decimal point: "1.5 mm from top, 20 mm from left"
=== a measure named like a unit
[measures]
in = "10 mm"
<circle>
diameter = "3 in"
---
a.toml:15: error: "in" already means something else
    written: "10 mm"
    mend:    give this measure another name
""")


@pytest.mark.parametrize("case", MESSAGES)
def test_each_mistake_is_told_once_and_whole(messages: Messages, case: str) -> None:
    given, told, _ = MESSAGES[case]
    assert messages(given) == told
