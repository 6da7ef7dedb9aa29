"""Pieces that have no outline, or none that can be cut: every message whole."""

# ruff: noqa: E501 - messages stand here as they are printed

from __future__ import annotations

from collections.abc import Callable

import pytest
from cases import read_cases

Messages = Callable[[str], str]


MESSAGES = read_cases("""
=== no material
[pieces.a]
shape = "circle"
diameter = "30 mm"
[pieces.b]
like = "a"
---
a.toml:14: error: the piece "a" has no material
    written: [pieces.a]
    mend:    add of = the name of a material
=== no shape
[pieces.a]
of = "body"
[pieces.b]
like = "a"
---
a.toml:14: error: the piece "a" has no shape
    written: [pieces.a]
    mend:    add shape = "rectangle" and a size, or like = another piece
=== no size
[pieces.a]
of = "body"
shape = "rectangle"
[pieces.b]
like = "a"
---
a.toml:14: error: the piece "a" has no size
    written: [pieces.a]
    mend:    add size = ["width", "height"]
=== no diameter
<circle>
[pieces.b]
like = "a"
---
a.toml:14: error: the piece "a" has no diameter
    written: [pieces.a]
    mend:    add diameter = "3 in"
=== no points
[pieces.a]
of = "body"
shape = "outline"
[pieces.b]
like = "a"
---
a.toml:14: error: the piece "a" has no points
    written: [pieces.a]
    mend:    add points = [{ at = ["0", "0"] }, ...]
=== likes in a circle
[pieces.a]
like = "b"
[pieces.b]
like = "c"
[pieces.c]
like = "b"
---
a.toml:19: error: pieces are like each other in a circle: b -> c -> b
    written: "b"
    mend:    give one of them a shape of its own
=== like itself
[pieces.a]
of = "body"
like = "a"
---
a.toml:16: error: pieces are like each other in a circle: a -> a
    written: "a"
    mend:    give one of them a shape of its own
=== both sizes open
<back>
<strip a: ["solve", "solve"]>
<seam s: ["back: left", "a: left"]>
---
a.toml:21: error: both sizes of "a" are "solve"; a seam gives one length only
    written: "solve"
    mend:    write one of them
=== an unknown corner
<back>
round = { bottom-lef = "10 mm" }
[pieces.b]
like = "back"
---
a.toml:18: error: there is no corner "bottom-lef" on this piece
    written: "10 mm"
    mend:    did you mean "bottom-left"?
=== a corner nobody could mean
<back>
round = { x = "10 mm" }
---
a.toml:18: error: there is no corner "x" on this piece
    written: "10 mm"
    mend:    corners here: bottom-left, bottom-right, top-right, top-left
=== a rounding too large
<back>
round = "80 mm"
[pieces.b]
like = "back"
[pieces.c]
like = "b"
---
a.toml:14: error: the piece "back" cannot be drawn: the edge 'right' is 150 mm long, too short for the roundings at its ends, which take 80 and 80 mm of it
    written: [pieces.back]
    mend:    check its sizes and corners
=== a negative rounding
<back>
round = "0 mm - 5 mm"
---
a.toml:18: error: this comes to -5 mm
    written: "0 mm - 5 mm"
    mend:    a size must be more than nothing
=== an inset too large
<back>
[pieces.b]
like = "back"
inset = "90 mm"
---
a.toml:20: error: "b" cannot be that much smaller: an inset of 90 mm is too large for this shape: nothing is left of the edge 'right'
    written: "90 mm"
    mend:    use a smaller inset
=== keys of another shape
<circle>
diameter = "30 mm"
size = ["20 mm", "20 mm"]
round = "5 mm"
---
a.toml:18: error: "size" has no meaning for the shape "circle" of "a"
    written: "20 mm"
    mend:    leave it out, or write shape = "rectangle" or "strip"
a.toml:19: error: "round" has no meaning for the shape "circle" of "a"
    written: "5 mm"
    mend:    leave it out, or write shape = "rectangle" or "strip"
=== a diameter on a rectangle
<back>
diameter = "30 mm"
points = [{ at = ["0", "0"] }]
---
a.toml:18: error: "diameter" has no meaning for the shape "rectangle" of "back"
    written: "30 mm"
    mend:    leave it out, or write shape = "circle"
a.toml:19: error: "points" has no meaning for the shape "rectangle" of "back"
    written: { at = ["0", "0"] }
    mend:    leave it out, or write shape = "outline"
=== an outline that crosses itself
[pieces.a]
of = "body"
shape = "outline"
points = [{ at = ["0", "0"] }, { at = ["50 mm", "50 mm"] }, { at = ["50 mm", "0"] }, { at = ["0", "50 mm"] }]
---
a.toml:14: error: the piece "a" cannot be drawn: the outline has no area
    written: [pieces.a]
    mend:    check its sizes and corners
=== an outline of two points
[pieces.a]
of = "body"
shape = "outline"
points = [{ at = ["0", "0"] }, { at = ["50 mm", "50 mm"] }]
---
a.toml:14: error: the piece "a" cannot be drawn: an outline needs at least two corners and a curved edge, or three corners; here are 2
    written: [pieces.a]
    mend:    check its sizes and corners
=== a pair cut odd
<back>
cut = 3
pair = true
---
a.toml:19: error: 3 cannot be cut as pairs
    written: true
    mend:    cut an even number, half of them mirrored
=== a pair cut once
<back>
pair = true
---
a.toml:18: error: 1 cannot be cut as pairs
    written: true
    mend:    cut an even number, half of them mirrored
=== no pieces at all
---
a.toml: error: the spec has no pieces and no straps
    mend:    add a [pieces.NAME] table
=== a wrong rounding of its own
<back>
round = "20 mm"
[pieces.b]
like = "back"
round = 5
<seam s: ["back: left bottom", "b: left bottom"]>
---
a.toml:21: error: round has no unit: 5
    written: 5
    mend:    write "5 in" or "5 mm", quotes and all
=== a size and a rounding, both wrong
<rectangle back: ["200 mm", 150]>
round = "20 mn"
---
a.toml:17: error: size has no unit: 150
    written: 150
    mend:    write "150 in" or "150 mm", quotes and all
a.toml:18: error: "mn" is not a unit known here
    written: "20 mn"
    mend:    did you mean "m"?
=== a rounding too large for a size that is wrong
<back>
round = "60 mm"
[pieces.b]
like = "back"
size = ["100 mm", "100 mm"]
round = 5
---
a.toml:22: error: round has no unit: 5
    written: 5
    mend:    write "5 in" or "5 mm", quotes and all
""")


@pytest.mark.parametrize("case", MESSAGES)
def test_each_mistake_is_told_once_and_whole(messages: Messages, case: str) -> None:
    given, told, _ = MESSAGES[case]
    assert messages(given) == told
